import { atomsOf, readNumber } from "../model/numbers.ts";
import { inWords, ordinalInFigures, ordinalInWords } from "../model/numberWords.ts";
import { readDays } from "../model/saidDays.ts";
import { termsOf } from "./query.ts";
import { spellingsOf } from "./spellings.ts";

/** One thing that is looked for: it is found where any of its terms stands. */
export interface Clause {
  readonly is: "word" | "phrase" | "number" | "days";
  /** As it was typed. */
  readonly text: string;
  /** As the index is asked: a phrase in quotation marks is found word by word in this order, and nothing longer. */
  readonly terms: readonly string[];
  /** What lacks it is shown too, after what has it. */
  readonly weak?: true;
}

/** What a question asks for. */
export interface Asked {
  readonly clauses: readonly Clause[];
  /** All loose words as they were typed, as a phrase; null where they are not several. */
  readonly whole: string | null;
  /** The loose words as they were typed, in small letters. */
  readonly typed: readonly string[];
}

/** Words that a question has and an answer need not: articles, pronouns, what is said of remembering. Common practice, no source. */
const PASSED_OVER = new Set(
  (
    "a about an and any are as at be been but by can did do does for from had has have he her him his how i if in into is it " +
    "its me my not of on or our out she so some somebody someone something than that the their them then there these they " +
    "thing this those to up us was we were what when where which who whom whose why will with would you your where's what's " +
    "said say says saying told talk talked talking wants want"
  ).split(" "),
);

/**
 * Reads a question: phrases in quotation marks, numbers in figures or words, days, and the words that are left. Numbers
 * and days are read in English alone. @param today ISO date, by which `last Tuesday` is meant. @param language BCP 47.
 */
export function readAsked(question: string, today: string, language: string): Asked {
  const terms = termsOf(question);
  const phrases = terms.filter((term) => term.startsWith('"'));
  const [loose = ""] = terms.filter((term) => !term.startsWith('"'));
  const typed = loose
    .split(/\s+/)
    .map(bare)
    .filter((word) => word !== "");
  const clauses = /^en\b/.test(language) ? readLoose(typed, today) : typed.map(plainWord);
  const tells = ({ is, text }: Clause) => is !== "word" || !PASSED_OVER.has(text);
  const telling = clauses.filter(tells);
  // Of two words, both are wanted: with one of them left out, too much is found.
  const kept =
    clauses.length > 2 ? telling : clauses.map((own) => (tells(own) ? own : { ...own, weak: true as const }));
  return {
    clauses: [
      ...phrases.map((term): Clause => ({ is: "phrase", text: term.slice(1, -1), terms: [unmarked(term)] })),
      ...unique(telling.length > 0 ? kept : phrases.length > 0 ? [] : clauses),
    ],
    typed,
    whole: typed.length > 1 ? `"${typed.join(" ")}"` : null,
  };
}

/** In small letters, without the marks around it and the possessive. */
const bare = (word: string): string =>
  word
    .normalize("NFC")
    .toLowerCase()
    .replaceAll("’", "'")
    .replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}%]+$/gu, "")
    .replace(/'s$/, "");

const plainWord = (text: string): Clause => ({ is: "word", text, terms: [text] });

function readLoose(words: readonly string[], today: string): readonly Clause[] {
  const clauses: Clause[] = [];
  for (let at = 0; at < words.length; ) {
    const named = readDays(words, at, today);
    const number = named === null ? numberAt(words, at) : null;
    const length = named?.length ?? number?.length ?? 1;
    const text = words.slice(at, at + length).join(" ");
    if (named !== null) {
      const said = NAMED.test(text) ? [text] : named.said;
      clauses.push({ is: "days", text, terms: [...daysIn(named.from, named.to), ...said.map(quoted)] });
    } else if (number !== null) {
      clauses.push({ is: "number", text, terms: number.terms });
    } else clauses.push({ is: "word", text, terms: spellingsOf(text) });
    at += length;
  }
  return clauses;
}

/** A phrase without the marks around its words: the index finds no phrase with `$100` in it, and `100` where that stands. */
const unmarked = (phrase: string): string =>
  quoted(phrase.match(/[\p{L}\p{N}](?:\S*[\p{L}\p{M}\p{N}])?/gu)?.join(" ") ?? phrase.slice(1, -1));

/** A month or a weekday by its name alone is also looked for where it was said. */
const NAMED = /^(?!to|yes)\p{L}+$/u;

const quoted = (words: string): string => `"${words}"`;

/** The days as the index has them: each by itself, or the months or the year that they fill. */
function daysIn(from: string, to: string): readonly string[] {
  if (from.endsWith("-01-01") && to.endsWith("-12-31")) return [quoted(`year${from.slice(0, 4)}`)];
  const terms = new Set<string>();
  const byMonth = from.endsWith("-01") && from !== to;
  for (let ms = Date.parse(`${from}T00:00:00Z`); ms <= Date.parse(`${to}T00:00:00Z`); ms += 86_400_000) {
    const digits = new Date(ms).toISOString().slice(0, 10).replaceAll("-", "");
    terms.add(quoted(byMonth ? `month${digits.slice(0, 6)}` : `day${digits}`));
  }
  return [...terms];
}

/** Larger ones are no numbers that anybody says: `2011 trillion` are two words. */
const LARGEST = 1e15;

/** A number in all the ways in which it may be said or written; null where none begins. `second wind` is no number of winds. */
function numberAt(
  words: readonly string[],
  at: number,
): { readonly length: number; readonly terms: readonly string[] } | null {
  const atoms = atomsOf(words.slice(at));
  if (/^(?:an?|half)$/.test(words[at] ?? "")) return null;
  const read = readNumber(atoms, 0);
  const end = atoms[read?.length ?? 0]?.word ?? words.length - at;
  if (read === null || read.value >= LARGEST || atoms[(read.length || 1) - 1]?.word === atoms[read.length]?.word)
    return null;
  return { length: end, terms: waysToSay(read.value, read.ordinal) };
}

/** As figures, in words, and in both: `64000`, `sixty-four thousand`, `64 thousand`. */
export function waysToSay(value: number, ordinal: boolean): readonly string[] {
  if (ordinal) return [ordinalInFigures(value), quoted(ordinalInWords(value))];
  const words = inWords(value);
  const scaled = (["billion", "million", "thousand"] as const).flatMap((name, at) => {
    const part = value / 1000 ** (3 - at);
    return part >= 1 && part < 1000 && Number.isInteger(part * 1000) ? [quoted(`${part} ${name}`)] : [];
  });
  return [...new Set([quoted(String(value)), quoted(words), quoted(words.replaceAll("-", " ")), ...scaled])];
}

function unique(clauses: readonly Clause[]): readonly Clause[] {
  const seen = new Set<string>();
  return clauses.filter(({ text }) => !seen.has(text) && seen.add(text));
}
