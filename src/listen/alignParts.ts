import type { Alignment, HeardWord } from "./align.ts";
import { apart } from "./nameSpotting.ts";

/** A stretch of words that is looked for by itself: `from` is its first, `to` the first that is not in it. */
export interface AlignPart {
  readonly from: number;
  readonly to: number;
}

/** So many words on both sides of a border are looked for by both parts: they go over from one to the other where both agree. */
const LAP = 60;
/** Fewer words are not worth a part of their own: about four minutes of speech. */
const WORTH_A_PART = 600;
/** So far apart two parts may have heard a word that they agree on, in milliseconds. */
const SAME = 20;

/** Divides words into parts that overlap. @param most how many parts there may be. */
export function partsOf(count: number, most: number): readonly AlignPart[] {
  const parts = Math.max(1, Math.min(most, Math.floor(count / WORTH_A_PART)));
  return Array.from({ length: parts }, (_, n) => ({
    from: Math.max(0, borderOf(n, parts, count) - LAP),
    to: Math.min(count, borderOf(n + 1, parts, count) + LAP),
  }));
}

const borderOf = (n: number, parts: number, count: number): number => Math.round((n * count) / parts);

/**
 * Puts together what was heard of each part. One goes over into the next at a word that both heard at the same time, the
 * nearest to the border; where there is none, what the next one heard before the end of the first is left out. Of names that both
 * heard in one place, the one that fits better stays.
 */
export function joinParts(parts: readonly AlignPart[], heard: readonly Alignment[], count: number): Alignment {
  const words: (HeardWord | null)[] = Array.from({ length: count }, () => null);
  parts.forEach(({ from, to }, n) => {
    const own = heard[n]?.words ?? [];
    const begin = n === 0 ? 0 : crossing(words, own, from, borderOf(n, parts.length, count));
    const end = words.slice(0, begin).findLast((word) => word !== null)?.end ?? 0;
    for (let at = begin; at < to; at++) {
      const word = own[at - from] ?? null;
      words[at] = word === null || word.start < end - SAME ? null : word;
    }
  });
  return { words, names: apart(heard.flatMap(({ names }) => names)) };
}

/** The word nearest to a border that both heard at the same time; the border itself where there is none. */
function crossing(
  before: readonly (HeardWord | null)[],
  own: readonly (HeardWord | null)[],
  from: number,
  border: number,
): number {
  for (let away = 0; away <= LAP; away++) {
    for (const at of [border - away, border + away]) {
      const [a, b] = [before[at] ?? null, own[at - from] ?? null];
      if (at >= from && a !== null && b !== null && Math.abs(a.start - b.start) <= SAME) return at;
    }
  }
  return border;
}
