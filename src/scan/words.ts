/** So many held words in a row are looked for. */
export const RUN = 3;

const WORD = /[\p{L}\p{M}\p{N}]+/gu;
/** What stands inside words and is not heard: apostrophes, and characters that nobody sees. */
const INSIDE = /[\p{Cf}'‘’ʼ`´]/gu;

/**
 * The words of a text as they are compared: letters composed (NFKC) and in lower case, all else taken as the gap between
 * two words. `Don’t – go!` is `dont`, `go`.
 */
export function wordsIn(text: string): readonly string[] {
  return text.normalize("NFKC").toLowerCase().replace(INSIDE, "").match(WORD) ?? [];
}

/** All runs of three words, in order; the same run may come more than once. */
export function runsIn(words: readonly string[]): readonly string[] {
  const runs: string[] = [];
  for (let last = RUN - 1; last < words.length; last++)
    runs.push(`${words[last - 2]} ${words[last - 1]} ${words[last]}`);
  return runs;
}

/**
 * A number of 53 bits for a run, so that runs can be kept between builds and compared without their words. Two
 * multiplicative hashes, one beside the other (cyrb53, by bryc, public domain). It is no secret: whoever has it may try
 * out words, so it stays in the cache and never goes into the site.
 */
export function digestOfRun(run: string): number {
  let [a, b] = [0xdeadbeef, 0x41c6ce57];
  for (let at = 0; at < run.length; at++) {
    const code = run.charCodeAt(at);
    a = Math.imul(a ^ code, 2654435761);
    b = Math.imul(b ^ code, 1597334677);
  }
  a = Math.imul(a ^ (a >>> 16), 2246822507) ^ Math.imul(b ^ (b >>> 13), 3266489909);
  b = Math.imul(b ^ (b >>> 16), 2246822507) ^ Math.imul(a ^ (a >>> 13), 3266489909);
  return 4294967296 * (2097151 & b) + (a >>> 0);
}
