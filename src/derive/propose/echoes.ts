import { doubleMetaphone } from "double-metaphone";
import { distance } from "fastest-levenshtein";
import { nameWord } from "../captioning/stops.ts";

/** A place in the words that sounds like a name. `from`, `to`: words. */
export interface Echo {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  /** 1: the same sounds; 0: none in common. */
  readonly likeness: number;
}

/** A name that a transcript may have misheard. */
export interface Sounded {
  readonly name: string;
  /** What the person is, to be heard nearby. */
  readonly role: string | null;
  /** How it is misspelt or misheard before now. */
  readonly misspelt?: readonly string[];
}

/** Less than this is nobody's name. Chosen on the demo's three broadcasts; no source. */
const LEAST = 0.7;
/** What hearing the role beside it adds. */
const ROLE = 0.12;

const keyOf = (word: string): string => doubleMetaphone(word)[0];
const ROLE_STOPS = new Set(["of", "the", "and", "for", "a"]);

/** The words of a role that say something. */
export const roleWordsOf = (role: string | null): ReadonlySet<string> =>
  new Set(
    (role ?? "")
      .split(/[^\p{L}']+/u)
      .map(nameWord)
      .filter((word) => word.length > 2 && !ROLE_STOPS.has(word)),
  );

/**
 * Where names sound through what was heard: a recogniser that does not know a name writes the nearest words that it
 * does. Runs of as many words as the name has, one fewer or one more, are compared by their sounds (double metaphone),
 * run together.
 * @returns in the order of the words; of overlapping echoes the likest.
 */
export function findEchoes(words: readonly { readonly text: string }[], names: readonly Sounded[]): readonly Echo[] {
  const folded = words.map(({ text }) => nameWord(text));
  const known = new Map<string, string>();
  const keys = folded.map((word) => {
    const key = known.get(word) ?? keyOf(word);
    known.set(word, key);
    return key;
  });
  // Runs of so many words by their sounds, put together once for all names.
  const byLength = new Map<number, readonly string[]>();
  const runsOf = (length: number): readonly string[] => {
    const runs = byLength.get(length) ?? keys.map((_, from) => keys.slice(from, from + length).join(""));
    byLength.set(length, runs);
    return runs;
  };
  const found = names.flatMap((name) => [...misspeltIn(folded, name), ...echoesOf(name, folded, runsOf)]);
  found.sort((a, b) => b.likeness - a.likeness || a.from - b.from);
  const taken = new Set<number>();
  const kept = found.filter(({ from, to }) => {
    const own = Array.from({ length: to - from }, (_, n) => from + n);
    if (own.some((n) => taken.has(n))) return false;
    for (const n of own) taken.add(n);
    return true;
  });
  return kept.sort((a, b) => a.from - b.from);
}

/** Where words stand that the name was misspelt by before: as like as the name itself. One word alone may be any word. */
function misspeltIn(folded: readonly string[], { name, misspelt = [] }: Sounded): readonly Echo[] {
  return misspelt.flatMap((written) => {
    const parts = written.split(/\s+/).map(nameWord);
    if (parts.length < 2) return [];
    return folded.flatMap((_, from): readonly Echo[] =>
      parts.every((part, k) => folded[from + k] === part) ? [{ name, from, to: from + parts.length, likeness: 1 }] : [],
    );
  });
}

/** How like a name words are, run together: in their sounds, and in their letters. From 0 to 1. */
export function echoOf(words: readonly { readonly text: string }[], name: string): number {
  const parts = name.split(/\s+/).map(nameWord);
  const heard = words.map(({ text }) => nameWord(text));
  return alikeIn(likenessOf(heard.map(keyOf).join(""), parts.map(keyOf).join("")), heard.join(""), parts.join(""));
}

const likenessOf = (a: string, b: string): number => 1 - distance(a, b) / Math.max(a.length, b.length, 1);
const alikeIn = (sound: number, spelled: string, letters: string): number =>
  0.6 * sound + 0.4 * likenessOf(spelled, letters);

function echoesOf(
  { name, role }: Sounded,
  folded: readonly string[],
  runsOf: (length: number) => readonly string[],
): readonly Echo[] {
  const parts = name.split(/\s+/).map(nameWord);
  const key = parts.map(keyOf).join("");
  const letters = parts.join("");
  const roleWords = roleWordsOf(role);
  const echoes: Echo[] = [];
  // The same few sounds come again and again.
  const known = new Map<string, number>();
  const soundOf = (heard: string): number => {
    const sound = known.get(heard) ?? likenessOf(heard, key);
    known.set(heard, sound);
    return sound;
  };
  const lengths = [parts.length - 1, parts.length, parts.length + 1].filter((length) => length > 0);
  const byLength = lengths.map((length) => ({ length, runs: runsOf(length) }));
  for (let from = 0; from < folded.length; from++) {
    for (const { length, runs } of byLength) {
      const to = from + length;
      if (to > folded.length) break;
      const heard = runs[from] ?? "";
      if (heard === "" || Math.abs(heard.length - key.length) > 2) continue;
      const sound = soundOf(heard);
      if (0.6 * sound + 0.4 + ROLE < LEAST) continue;
      const alone = alikeIn(sound, folded.slice(from, to).join(""), letters);
      if (alone + ROLE < LEAST) continue;
      const near = folded.slice(Math.max(0, from - 4), to + 6).some((word) => roleWords.has(word));
      const likeness = alone + (near ? ROLE : 0);
      if (likeness >= LEAST) echoes.push({ name, from, to, likeness: Math.min(1, likeness) });
    }
  }
  return echoes;
}
