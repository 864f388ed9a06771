/** Where a word may begin too early: it is quiet there for at least so long, from at most so long after its beginning. Frames of 10 ms. */
const [LEAST_QUIET, SOON] = [5, 8] as const;
/** Quiet: less than this share of the way from the quietest to the loudest of the word. */
const RISE = 0.3;
/** The loudest must stand so far above the quietest: a logarithm of energy, as the first of the cepstra has it. */
const LEAST_RISE = 15;

/**
 * The frame in which a word's sound begins. The search likes to give the rest before a word to its first sound where that
 * begins with a closure, as in "But" and "There": what is quiet there is no part of the word.
 * @param loudness of a frame. @param from the word's first frame. @param to the one after its last.
 */
export function onsetOf(loudness: (frame: number) => number, from: number, to: number): number {
  let peak = from;
  for (let n = from; n < to; n++) if (loudness(n) > loudness(peak)) peak = n;
  let floor = from;
  for (let n = from; n < peak; n++) if (loudness(n) < loudness(floor)) floor = n;
  const [quietest, loudest] = [loudness(floor), loudness(peak)];
  if (loudest - quietest < LEAST_RISE) return from;
  const limit = quietest + RISE * (loudest - quietest);
  let begin = from;
  while (begin < Math.min(peak, from + SOON) && loudness(begin) >= limit) begin++;
  let end = begin;
  while (end < peak && loudness(end) < limit) end++;
  return end - begin < LEAST_QUIET ? from : end - 1;
}
