/**
 * The index of the last time that is not after `seconds`; -1 before the first.
 * @param times in seconds, rising.
 */
export function lastAt(times: readonly number[], seconds: number): number {
  let [low, high] = [0, times.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((times[middle] ?? 0) <= seconds) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** The first time after `seconds`, or null. `times` in seconds, rising. */
export function nextAfter(times: readonly number[], seconds: number): number | null {
  return times[lastAt(times, seconds) + 1] ?? null;
}

/** Browsers round the time that they are sent to: a beginning missed by this is reached. Seconds; common practice, no source. */
const ROUNDING = 0.002;

/**
 * The cues being said at a moment, in their order. A cue that ends where the next begins is over there: a browser that
 * stands still on that moment counts both.
 * @param cues with times in seconds, as a browser has them.
 */
export const saidAt = <Cue extends { readonly startTime: number; readonly endTime: number }>(
  cues: Iterable<Cue>,
  seconds: number,
): readonly Cue[] =>
  [...cues].filter(({ startTime, endTime }) => startTime <= seconds + ROUNDING && endTime > seconds + ROUNDING);
