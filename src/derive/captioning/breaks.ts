import { bareWord, endsClause, endsSentence, endsWithComma, nameWord } from "./stops.ts";

/**
 * How a break between two words reads, from 0 (a sentence ends) to 1 (nothing there); `never` where something would be
 * torn apart. After BBC Subtitle Guidelines 1.2.5 §3.4: at punctuation; not between article and noun, preposition and
 * phrase, conjunction and clause, pronoun and verb, parts of a verb.
 */
export type Break = number | "never";

const words = (text: string): ReadonlySet<string> => new Set(text.split(" "));

const ARTICLES = words("a an the this that these those my your his her its our their no every each some any");
const PREPOSITIONS = words(
  "about above across after against along among around at before behind below beneath beside between beyond by down " +
    "during for from in inside into near of off on onto out outside over past since through throughout to toward " +
    "towards under until up upon with within without",
);
/** Prepositions that mostly belong to the verb before them: `writes down`. */
const PARTICLES = words("down off out over to up");
const CONJUNCTIONS = words("and but or nor so because although though if unless while whereas when where than as");
const RELATIVES = words("who whom whose which that what");
const PRONOUNS = words("i you he she it we they there who i'm you're he's she's it's we're they're");
const VERB_PARTS = words(
  "am is are was were be been being have has had do does did will would shall should can could may might must not " +
    "isn't aren't wasn't weren't haven't hasn't hadn't don't doesn't didn't won't wouldn't can't couldn't to",
);
const TITLES = words("mr mrs ms miss dr sir dame lord lady captain councillor judge professor president minister st");
const NUMBERS = words(
  "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen " +
    "eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand million billion half",
);

const isNumber = (word: string): boolean => /^\D?\d/.test(word) || NUMBERS.has(bareWord(word));
const isCapital = (word: string): boolean => /^["'“‘(]*\p{Lu}/u.test(word);

/**
 * Judges the break between words `n - 1` and `n` of a text.
 * @param names the register's names of several words, folded to small letters, as lists of words.
 */
export function breakBefore(n: number, text: readonly string[], names: Names): Break {
  const [before = "", after = ""] = [text[n - 1], text[n]];
  if (endsSentence(before) && !TITLES.has(bareWord(before))) return 0;
  if (endsClause(before)) return 0.1;
  if (endsWithComma(before)) return 0.15;
  if (isNumber(before) || TITLES.has(bareWord(before)) || insideName(n, text, names)) return "never";
  if (isCapital(before) && isCapital(after) && !isSentenceStart(n - 1, text)) return "never";
  return byGrammar(bareWord(before), bareWord(after));
}

function byGrammar(before: string, after: string): number {
  if (ARTICLES.has(before) || PREPOSITIONS.has(before)) return 1;
  if (CONJUNCTIONS.has(before) || RELATIVES.has(before)) return 1;
  if (CONJUNCTIONS.has(after) || RELATIVES.has(after)) return 0.3;
  if (PREPOSITIONS.has(after) && !PARTICLES.has(after)) return VERB_PARTS.has(before) ? 0.7 : 0.4;
  if (PRONOUNS.has(before) || VERB_PARTS.has(before)) return 0.9;
  return VERB_PARTS.has(after) ? 0.5 : 0.7;
}

const isSentenceStart = (n: number, text: readonly string[]): boolean =>
  n === 0 || endsSentence(text[n - 1] ?? "") || endsClause(text[n - 1] ?? "");

/** Names of several words, by their first word. */
export type Names = ReadonlyMap<string, readonly (readonly string[])[]>;

export function namesByFirst(names: readonly string[]): Names {
  const byFirst = new Map<string, (readonly string[])[]>();
  for (const name of names) {
    const parts = name.split(/\s+/).map(bareWord);
    const [first] = parts;
    if (first === undefined || parts.length < 2) continue;
    byFirst.set(first, [...(byFirst.get(first) ?? []), parts]);
  }
  return byFirst;
}

/** The most words that a name has. */
const LONGEST_NAME = 6;

function insideName(n: number, text: readonly string[], names: Names): boolean {
  for (let from = Math.max(0, n - LONGEST_NAME + 1); from < n; from++) {
    for (const parts of names.get(bareWord(text[from] ?? "")) ?? []) {
      if (from + parts.length <= n) continue;
      if (parts.every((part, i) => nameWord(text[from + i] ?? "") === part)) return true;
    }
  }
  return false;
}
