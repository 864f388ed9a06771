import type { Word } from "../speech.ts";
import { weekdayNamed } from "./calendar.ts";
import type { Figure } from "./line.ts";
import { isNumberWord, stemOf } from "./scope.ts";
import { nounEnd } from "./withWords.ts";

/** So many words of a sentence on each side of a figure can say what it is of. */
const CLAUSE = 14;
/** Of a phrase such as `for the new roof of the school` so many words are compared. */
const PHRASE = 4;
const TAKES = /^(?:for|on|to|towards|off|from|of|against|into)$/;
const ARTICLES = /^(?:the|an?|its|his|her|their|our|my|your|this|that|these|those|all|every|each)$/;
const ENDS =
  /^(?:and|but|or|who|which|that|when|while|after|before|because|if|so|as|by|with|in|at|for|on|to|from|is|are|was|were|has|have|had|will|would|could|it|he|she|they|we|i|you)$/;

/**
 * What happens to money or to what is counted, one thing a line. Two figures whose clauses speak of it, and not of one
 * line, are of two things. A word may stand in several. English; collected from news, no source.
 */
const FATES: readonly RegExp[] = [
  /^(?:rais|earn|collect|receiv|takings|income|profit|revenue|gather)/,
  /^(?:need|want|ask|seek|sought|target|goal|aim|demand|hop(?:e|ing)|short)/,
  /^(?:owe|debt|loan|borrow|deficit)/,
  /^(?:loss|losses|lost|los(?:e|ing)|destroy|sank|sunk|sink|wreck|gone)/,
  /^(?:spen[dt]|cost|pa(?:y|id)|price|bill|bought|buy|charg|worth)/,
  /^(?:sold|sell|sale)/,
  /^(?:offer|grant|gave|given?$|giv(?:es|ing)|donat|award)/,
  /^(?:fine|penalt|pay|paid)/,
  /^(?:sav(?:e|ing)|cut)/,
  /^(?:damag|break|broke)/,
  /^(?:kill|dead|die|death|drown|lost)/,
  /^(?:injur|hurt|wound|hospital)/,
  /^(?:missing|unaccounted)/,
  /^(?:rescu|sav(?:e|ed)|surviv|safe)/,
  /^(?:arrest|detain|custody|held)/,
  /^(?:absent|stay|empty|refus|against|oppos)/,
  /^(?:voted$|present|favour|backed)/,
];

/** What stands around a figure, as far as it tells two things apart. */
export interface About {
  /** `Saturday` of `on Saturday`, and `Sollen` of `in Sollen`. */
  readonly days: ReadonlySet<string>;
  readonly places: ReadonlySet<string>;
  /** What stands after a preposition, by it and the word that takes it; the figure itself takes it as an empty word. */
  readonly objects: ReadonlyMap<string, ReadonlySet<string>>;
  /** Lines of the table that its clause speaks of. */
  readonly fates: ReadonlySet<number>;
  /** The surnames of those who do it. */
  readonly doers: ReadonlySet<string>;
  /** `Of that, the pipes take 40,000 crowns`; `including 40,000 crowns for the pipes`. */
  readonly isPart: boolean;
  /** Of money: who pays another price than others, in one text. */
  readonly payers: string;
}

export function aboutOf(figure: Figure): About {
  const names = namesAfterIn(figure.sentence.words);
  const isDay = (name: string): boolean => weekdayNamed(name.toLowerCase()) !== null;
  const clause = clauseOf(figure);
  const payers = figure.kind === "money" ? clause.flatMap(({ fold }) => PAYERS.exec(fold) ?? []) : [];
  return {
    days: new Set(names.filter(isDay)),
    places: new Set(names.filter((name) => !isDay(name))),
    objects: objectsOf(figure),
    fates: new Set(FATES.flatMap((fate, n) => (clause.some(({ fold }) => fate.test(fold)) ? [n] : []))),
    doers: doersIn(clause),
    isPart: isPartOfIt(figure),
    payers: payers.sort().join(),
  };
}

/**
 * Whether what stands around two figures of one unit says that they are of two things: of another place or day, for
 * something else (`on the pier`, `on the lighthouse`), of another fate or by somebody else, a part, or at another price.
 */
export function areOfOtherThings(a: About, b: About): boolean {
  return (
    (["days", "places", "fates", "doers"] as const).some((which) => areApart<number | string>(a[which], b[which])) ||
    [...a.objects].some(([key, stems]) => areApart(stems, b.objects.get(key) ?? new Set())) ||
    a.isPart !== b.isPart ||
    a.payers !== b.payers
  );
}

const areApart = <T>(a: ReadonlySet<T>, b: ReadonlySet<T>): boolean =>
  a.size > 0 && b.size > 0 && ![...a].some((own) => b.has(own));

/** Names that follow a word of place or day: `Sollen` of `in Sollen`, `Saturday` of `on Saturday`. */
export const namesAfterIn = (words: readonly Word[]): readonly string[] =>
  words.flatMap(({ text }, n) => {
    const before = words[n - 1];
    const isIn = /^(?:in|at|on|from|for|around|off|near|outside)$/.test(before?.fold ?? "");
    return isIn && before?.after === "" && /^\p{Lu}/u.test(text) ? [text] : [];
  });

/** `damage to the harbour`, `damage to the school`; `3 crowns on the pier`, `2 crowns on the lighthouse`. */
function objectsOf(figure: Figure): ReadonlyMap<string, ReadonlySet<string>> {
  const { sentence, at } = figure;
  const { words } = sentence;
  const end = endOf(figure);
  const objects = new Map<string, ReadonlySet<string>>();
  for (let n = Math.max(1, at - CLAUSE); n < Math.min(words.length, end + CLAUSE); n++) {
    const [taker, own] = [words[n - 1], words[n]];
    if (own === undefined || taker === undefined || taker.after !== "" || !TAKES.test(own.fold)) continue;
    const isFigures = n === end;
    if (!isFigures && n >= at && n < end) continue;
    const stems = phraseAt(words, n + 1);
    if (stems.size > 0) objects.set(`${isFigures ? "" : stemOf(taker.fold)} ${own.fold}`, stems);
  }
  return objects;
}

/** The word after a figure, what it counts, and what it is counted for. */
function endOf(figure: Figure): number {
  const end = nounEnd(figure);
  const { words } = figure.sentence;
  return figure.per !== null && /^(?:an?|per|each|every)$/.test(words[end]?.fold ?? "") ? end + 2 : end;
}

function phraseAt(words: readonly Word[], from: number): ReadonlySet<string> {
  const stems = new Set<string>();
  for (let n = from; n < Math.min(words.length, from + PHRASE); n++) {
    const word = words[n];
    if (word === undefined || (n > from && ENDS.test(word.fold)) || isNumberWord(word.fold)) break;
    if (!ARTICLES.test(word.fold) && word.fold !== "of") stems.add(stemOf(word.fold));
    if (word.after !== "") break;
  }
  return stems;
}

/** The words of a figure's clause. */
function clauseOf(figure: Figure): readonly Word[] {
  const { sentence, at } = figure;
  const { words } = sentence;
  let from = at;
  while (from > Math.max(0, at - CLAUSE) && !isSplit(words[from - 1], words[from])) from -= 1;
  let to = endOf(figure);
  while (to < Math.min(words.length, at + CLAUSE) && !isSplit(words[to - 1], words[to])) to += 1;
  return words.slice(from, to);
}

/** The surnames of people, two words with a capital, to whom a word of the table follows. */
function doersIn(clause: readonly Word[]): ReadonlySet<string> {
  const isName = (word: Word | undefined): boolean => word?.after === "" && /^\p{Lu}/u.test(word.text);
  return new Set(
    clause.flatMap(({ fold }, n) => {
      const [first, last] = [clause[n - 2], clause[n - 1]];
      return isName(first) && isName(last) && FATES.some((fate) => fate.test(fold)) ? [last?.fold ?? ""] : [];
    }),
  );
}

/** Who pays another price: a ticket costs 15 crowns, and 8 for children. */
const PAYERS = /^(?:child|adult|pensioner|student|famil|resident|visitor|local|single|return|unemployed)/;

const isSplit = (before: Word | undefined, next: Word | undefined): boolean =>
  /[,;:.!?]/.test(before?.after ?? "") || /^(?:and|but|while|whereas)$/.test(next?.fold ?? "");

/** `Of that, the pipes take 40,000 crowns`; `including 40,000 crowns for the pipes`. */
function isPartOfIt({ sentence: { words }, at }: Figure): boolean {
  const before = words.slice(Math.max(0, at - CLAUSE), at).map(({ fold }) => fold);
  return /\b(?:including|includes|of (?:that|this|these|those|them|which|it)|among (?:them|those))\b/.test(
    before.join(" "),
  );
}
