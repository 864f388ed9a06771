import { grouped } from "../../model/grouped.ts";
import type { Lexicon } from "../lexicon.ts";
import type { Sentence, Spoken, Word } from "../speech.ts";
import { isCapital, isNameLike, TITLES } from "./capitals.ts";
import type { KnownName, KnownNames } from "./known.ts";
import { likenessFrom, type Sounded, soundedOf, soundLikeness } from "./likeness.ts";

/** Words that stand where a registered name is probably meant. */
export interface NearMiss {
  readonly words: readonly Word[];
  readonly name: KnownName;
  /** What the words would become: the name, or the one word of it that is meant. */
  readonly meant: string;
  /** From 0 to 1. */
  readonly score: number;
  /**
   * Why: `like` it as a whole; another first name before the `surname`, which may well have been said; or a misspelling that
   * the `register` gives.
   */
  readonly by: "like" | "surname" | "register";
}

/** The least likeness; set on mutated names and on speeches without any, no source. */
const LEAST = { whole: 0.74, small: 0.81, single: 0.86 } as const;
/** Lengths further apart are no misspelling. Letters. */
const APART = 4;
/** A single short word is like too many others. Letters. */
const SHORTEST = 5;

/** All near misses of an episode: the best reading of every place, in their order. */
export function nearMisses({
  spoken,
  known,
  lexicon,
}: {
  readonly spoken: Spoken;
  readonly known: KnownNames;
  readonly lexicon: Lexicon;
}): readonly NearMiss[] {
  const readingsOf = readingsFrom(known, lexicon);
  const longest = Math.max(0, ...[...known.misspelt.values()].map(({ folds }) => folds.length));
  return spoken.sentences.flatMap((sentence) => {
    const unknown = sentence.words.map(
      ({ fold }, at) =>
        !known.words.has(fold) && !known.words.has(fold.replace(/s$/, "")) && isNameLike(sentence, at, lexicon),
    );
    const like = unknown.includes(true) ? windowsAround(sentence, unknown, lengthsIn(known)).flatMap(readingsOf) : [];
    return bestOf([...like, ...misspeltIn(sentence, known, longest)]);
  });
}

/** The misspellings of the register in a sentence, with capitals or without. @param longest how many words one has at most. */
function misspeltIn({ words }: Sentence, { misspelt }: KnownNames, longest: number): readonly NearMiss[] {
  return words.flatMap((_, from) => {
    const found: NearMiss[] = [];
    for (let to = from + 1; to <= Math.min(words.length, from + longest); to++) {
      if (to - 1 > from && words[to - 2]?.after !== "") break;
      const window = words.slice(from, to);
      const known = misspelt.get(window.map(({ fold }) => fold).join(" "));
      if (known !== undefined)
        found.push({ words: window, name: known.name, meant: known.meant, score: 1, by: "register" });
    }
    return found;
  });
}

/** Of readings that share a word, the best. In the order of the words. */
function bestOf(found: NearMiss[]): NearMiss[] {
  found.sort((a, b) => worthOf(b) - worthOf(a));
  const taken = new Set<Word>();
  const best = found.filter((miss) => {
    if (miss.words.some((word) => taken.has(word))) return false;
    for (const word of miss.words) taken.add(word);
    return true;
  });
  return best.sort((a, b) => (a.words[0]?.seconds ?? 0) - (b.words[0]?.seconds ?? 0));
}

/** A name of several words says more than one of its words by itself, and a surname that is right more than likeness. */
const worthOf = ({ score, words, by }: NearMiss): number =>
  score + (words.length > 1 ? 1 : 0) + (by === "surname" ? 1 : 0);

/** How many words can stand for a registered name: one, or as many as a name has, one fewer or one more. */
const lengthsIn = ({ byLength }: KnownNames): ReadonlySet<number> =>
  new Set([1, ...[...byLength.keys()].flatMap((length) => [length - 1, length, length + 1])]);

/** The words around each unknown name-like one that can be read as a name, without punctuation between. */
function windowsAround(
  { words }: Sentence,
  unknown: readonly boolean[],
  lengths: ReadonlySet<number>,
): readonly (readonly Word[])[] {
  const longest = Math.max(...lengths);
  const windows: (readonly Word[])[] = [];
  // Where a window may begin: after the last punctuation, and after the last unknown word, whose own windows reach here.
  let earliest = 0;
  unknown.forEach((isUnknown, at) => {
    if (at > 0 && words[at - 1]?.after !== "") earliest = at;
    if (!isUnknown) return;
    for (let from = Math.max(earliest, at - longest + 1); from <= at; from++) {
      for (let to = at + 1; to <= Math.min(words.length, from + longest); to++) {
        if (to - 2 >= at && words[to - 2]?.after !== "") break;
        if (lengths.has(to - from)) windows.push(words.slice(from, to));
      }
    }
    earliest = at + 1;
  });
  return windows;
}

/** What a window can stand for, without where it is. */
type Reading = Omit<NearMiss, "words">;

/** Reads windows; the same words are read once. */
function readingsFrom(known: KnownNames, lexicon: Lexicon): (window: readonly Word[]) => readonly NearMiss[] {
  const surnames = grouped(
    known.names.filter(({ entry, folds }) => entry.kind === "person" && folds.length === 2),
    ({ folds }) => folds[1] ?? "",
  );
  const read = new Map<string, readonly Reading[]>();
  return (window) => {
    const key = window.map((word) => `${isCapital(word) ? "A" : "a"}${word.fold}`).join(" ");
    const readings = read.get(key) ?? [
      ...(window.length > 1 ? wholeNames(window, known, surnames, lexicon) : singleNames(window, known)),
    ];
    read.set(key, readings);
    return readings.map((reading) => ({ ...reading, words: window }));
  };
}

/** Readings of several words as names of about as many. */
function wholeNames(
  window: readonly Word[],
  { byLength, names }: KnownNames,
  surnames: ReadonlyMap<string, readonly KnownName[]>,
  lexicon: Lexicon,
): readonly Reading[] {
  if (TITLES.has(window[0]?.fold ?? "")) return [];
  const folds = window.map(({ fold }) => fold);
  const sounded = soundedOf(folds.join(""));
  const least = window.every(isCapital) ? LEAST.whole : LEAST.small;
  const found = new Map<KnownName, Reading>();
  for (const name of surnames.get(folds.at(-1) ?? "") ?? []) {
    const reading = surnameMiss(window, name, lexicon);
    if (reading !== null) found.set(name, reading);
  }
  for (const length of [folds.length - 1, folds.length, folds.length + 1]) {
    for (const name of byLength.get(length) ?? []) {
      if (found.has(name)) continue;
      const score = scoreOf(sounded, name, least);
      if (score === null || sharesAllBut(folds, name)) continue;
      found.set(name, { name, meant: name.entry.name, score, by: "like" });
    }
  }
  return found.size < 2 ? [...found.values()] : names.flatMap((name) => found.get(name) ?? []);
}

/** Readings of one word as one that can stand for a name. */
function singleNames(window: readonly Word[], { single }: KnownNames): readonly Reading[] {
  const [word] = window;
  if (word === undefined || TITLES.has(word.fold) || !isCapital(word)) return [];
  const sounded = soundedOf(word.fold);
  if (sounded.letters.length < SHORTEST) return [];
  return [...single].flatMap(([fold, name]): readonly Reading[] => {
    const score = fold.length < SHORTEST ? null : scoreOf(sounded, name, LEAST.single);
    if (score === null) return [];
    const meant = name.entry.name.split(" ").find((own) => own.toLowerCase() === fold) ?? name.entry.name;
    return [{ name, meant, score, by: "like" }];
  });
}

/** How like a name it is; null where that is too little, or where it is the name. */
function scoreOf(sounded: Sounded, name: KnownName, least: number): number | null {
  if (Math.abs(name.sounded.letters.length - sounded.letters.length) > APART) return null;
  const score = likenessFrom(least, sounded, name.sounded);
  return score === 1 ? null : score;
}

/** `Port Sollen` beside Port Wennick, `Verrin Bank` beside Verrin Line: a word in common and no likeness in the other. */
function sharesAllBut(own: readonly string[], { folds }: KnownName): boolean {
  if (folds.length !== own.length) return false;
  const other = own.flatMap((fold, n) => (fold === folds[n] ? [] : [[fold, folds[n] ?? ""] as const]));
  const [only, second] = other;
  if (only === undefined || second !== undefined) return false;
  return (soundLikeness(soundedOf(only[0]), soundedOf(only[1])) ?? 0) < 0.6;
}

/**
 * A registered person's surname, right, after a first name that is not theirs: one that sounds otherwise, or that other
 * people have, as `Rowan` before Ruan Skelland's surname. `Ruwan` there is a spelling and nothing else.
 */
function surnameMiss(window: readonly Word[], name: KnownName, lexicon: Lexicon): Reading | null {
  const [first, last, third] = window;
  const [own = "", surname] = name.folds;
  if (third !== undefined || first === undefined || last === undefined) return null;
  if (last.fold !== surname || first.fold === own || !isCapital(first) || !isCapital(last)) return null;
  const isSpelling = soundLikeness(soundedOf(first.fold), soundedOf(own)) === 1 && !isKnownWord(first, lexicon);
  return isSpelling ? null : { name, meant: name.entry.name, score: 0.75, by: "surname" };
}

/** Whether people say the word at all: a recogniser that knows no name writes one that it knows, or makes up a spelling. */
const isKnownWord = ({ fold }: Word, lexicon: Lexicon): boolean => lexicon.proper(fold) + lexicon.ordinary(fold) > 0;
