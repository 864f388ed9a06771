import { doubleMetaphone } from "double-metaphone";
import { distance } from "fastest-levenshtein";
import jaroWinkler from "jaro-winkler";

/** Letters of a name, and how they sound. */
export interface Sounded {
  /** Small letters a to z alone; other scripts stay as they are. */
  readonly letters: string;
  /** The two keys of Double Metaphone (Philips, 2000): the likely sound, and the other one. */
  readonly keys: readonly [string, string];
}

export function soundedOf(text: string): Sounded {
  const letters = text
    .normalize("NFD")
    .replace(/[\p{M}\P{L}]/gu, "")
    .toLowerCase();
  return { letters, keys: doubleMetaphone(letters) };
}

/**
 * How much of the likeness is letters met from the front (Jaro–Winkler), letters changed (Levenshtein) and sound (the
 * keys, by Levenshtein). They sum to 1; set on mutated names, no source.
 */
const WEIGHTS = { front: 0.3, letters: 0.3, sound: 0.4 } as const;

/** Likeness of two names, from 0 to 1: the same letters. */
export function likeness(a: Sounded, b: Sounded): number {
  if (a.letters === b.letters) return 1;
  const letters = ratio(a.letters, b.letters);
  const sound = soundLikeness(a, b) ?? letters;
  return WEIGHTS.front * jaroWinkler(a.letters, b.letters) + WEIGHTS.letters * letters + WEIGHTS.sound * sound;
}

/** Likeness of sound alone, from 0 to 1; null where one has no key, as in a script that is not Latin. */
export function soundLikeness(a: Sounded, b: Sounded): number | null {
  if (a.keys[0] === "" || b.keys[0] === "") return null;
  return Math.max(...a.keys.flatMap((own) => b.keys.map((other) => ratio(own, other))));
}

/** 1 less the share of letters that must change. */
function ratio(a: string, b: string): number {
  const longest = Math.max(a.length, b.length);
  return longest === 0 ? 1 : 1 - distance(a, b) / longest;
}
