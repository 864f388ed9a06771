import { type Random, randomFrom } from "../../support/random.ts";
import type { Truth } from "./lay.ts";
import type { HeardWord } from "./recognise.ts";

/** How many of a hundred words are heard as others, not at all, or with another after them; and of those in names. */
export const WRONGED = { other: 11, none: 3, more: 3, names: 60 } as const;

/** Sounds that a recogniser takes one for the other, as letters. */
const LIKE: readonly (readonly [string, string])[] = [
  ["sch", "ch"],
  ["ei", "ai"],
  ["ie", "i"],
  ["ä", "e"],
  ["ö", "e"],
  ["ü", "i"],
  ["b", "p"],
  ["d", "t"],
  ["g", "k"],
  ["m", "n"],
  ["w", "f"],
  ["r", "l"],
  ["o", "u"],
  ["a", "o"],
  ["e", "a"],
];

/** Words that are heard in music. */
const IN_MUSIC = ["ja", "und", "na", "um", "in", "dann", "der", "ah"] as const;

/**
 * Words of a truth as a recogniser might have heard them: no recogniser's, but the truth's with some wronged. A word's
 * time is its share, by letters, of its sentence.
 */
export function wronged(truth: Truth, seed: number): readonly HeardWord[] {
  const random = randomFrom(seed);
  const sentences = truth.turns.flatMap((turn) => turn.sentences);
  const stock = sentences.flatMap(({ spoken }) => spoken.split(" "));
  const names = new Set(truth.turns.flatMap(({ speaker }) => speaker.toLowerCase().split(/[^\p{L}]+/u)));
  const heard: HeardWord[] = [];
  const put = (start: number, end: number, word: string) => {
    heard.push({ start: hundredths(start), end: hundredths(end), word });
  };
  for (const { start, end, spoken } of sentences) {
    const words = spoken.split(" ");
    const weight = words.reduce((sum, word) => sum + word.length + 1, 0);
    let at = start;
    for (const word of words) {
      const until = at + ((end - start) * (word.length + 1)) / weight;
      const drawn = random.next() * 100;
      const half = (at + until) / 2;
      if (names.has(word) && drawn < WRONGED.names) put(at, until, twisted(twisted(word, random), random));
      else if (drawn < WRONGED.other) put(at, until, random.chance(0.7) ? twisted(word, random) : random.pick(stock));
      else if (drawn < WRONGED.other + WRONGED.none) {
        // Not heard.
      } else if (drawn < WRONGED.other + WRONGED.none + WRONGED.more) {
        put(at, half, word);
        put(half, until, random.pick(IN_MUSIC));
      } else put(at, until, word);
      at = until;
    }
  }
  for (const { start, end } of truth.sounds)
    for (let at = start + random.next(); at < end - 1; at += 0.6 + 1.5 * random.next())
      put(at, at + 0.4, random.pick(IN_MUSIC));
  return heard.sort((a, b) => a.start - b.start);
}

const hundredths = (seconds: number): number => Math.round(seconds * 100) / 100;

/** A word with one sound taken for another; where it has none of them, without its last letter. */
function twisted(word: string, random: Random): string {
  const fits = LIKE.flatMap(([one, other]) => [
    ...(word.includes(one) ? [[one, other] as const] : []),
    ...(word.includes(other) ? [[other, one] as const] : []),
  ]);
  if (fits.length === 0) return word.length > 2 ? word.slice(0, -1) : "ja";
  const [from, to] = random.pick(fits);
  return word.replace(from, to);
}
