import type { Span } from "../derive/captioning/lending.ts";

/** The mean of a value and its neighbours, `reach` to both sides; fewer at the ends. */
export function windowMean(values: Float64Array, reach: number): Float64Array {
  const means = new Float64Array(values.length);
  let [sum, from, to] = [0, 0, 0];
  for (let n = 0; n < values.length; n++) {
    for (; to < Math.min(values.length, n + reach + 1); to++) sum += values[to] ?? 0;
    for (; from < n - reach; from++) sum -= values[from] ?? 0;
    means[n] = sum / (to - from);
  }
  return means;
}

/** Runs of `value`, at least `least` long; ends are behind the last. */
export function runsOf(values: ArrayLike<number>, value: number, least: number): readonly Span[] {
  const runs: Span[] = [];
  let start = 0;
  for (let n = 0; n <= values.length; n++) {
    if (n < values.length && values[n] === value) continue;
    if (n - start >= least && n > start) runs.push({ start, end: n });
    start = n + 1;
  }
  return runs;
}

/** Levels are told apart by so much here. Decibels. */
const STEP = 0.25;
const LOWEST = -110;

/** The level in decibels that a share of all is not above, to a quarter of a decibel: counted, as hours would be long to sort. */
export function levelOfShare(levels: Float64Array, share: number): number {
  const counts = new Uint32Array(Math.ceil((20 - LOWEST) / STEP));
  for (const level of levels) {
    const at = Math.min(counts.length - 1, Math.max(0, Math.floor((level - LOWEST) / STEP)));
    counts[at] = (counts[at] ?? 0) + 1;
  }
  let below = 0;
  for (let n = 0; n < counts.length; n++) {
    below += counts[n] ?? 0;
    if (below >= share * levels.length) return LOWEST + (n + 0.5) * STEP;
  }
  return LOWEST;
}

/**
 * The states of the cheapest way through all frames (Viterbi 1967), where each change of state costs as much.
 * @param costs those of a frame's states, frame after frame.
 */
export function cheapestPath(costs: Float32Array, states: number, change: number): Uint16Array<ArrayBuffer> {
  const from = new Uint16Array(costs.length);
  const count = costs.length / states;
  let sums = new Float64Array(states);
  let next = new Float64Array(states);
  const least = () => sums.reduce((best, sum, s) => (sum < (sums[best] ?? 0) ? s : best), 0);
  for (let n = 0; n < count; n++) {
    const best = least();
    const changed = (sums[best] ?? 0) + change;
    for (let s = 0; s < states; s++) {
      const stays = n === 0 || (sums[s] ?? 0) <= changed;
      from[n * states + s] = stays ? s : best;
      next[s] = (stays ? (sums[s] ?? 0) : changed) + (costs[n * states + s] ?? 0);
    }
    [sums, next] = [next, sums];
  }
  const path = new Uint16Array(count);
  let state = least();
  for (let n = count - 1; n >= 0; n--) {
    path[n] = state;
    state = from[n * states + state] ?? 0;
  }
  return path;
}
