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
