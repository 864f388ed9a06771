import type { ClockMs } from "../model/units.ts";
import { clockMs } from "../model/units.ts";

/** A stretch of the episode's clock, half open. */
export interface Bounds {
  readonly from: ClockMs;
  readonly to: ClockMs;
}

/** A withdrawn stretch: the segment's slug and its times when it was withdrawn; slug null: the whole episode. */
export interface WithdrawnStretch extends Bounds {
  readonly segment: string | null;
}

/** What stands between two moments of the episode's clock. */
interface Lasting {
  readonly start: ClockMs;
  readonly end: ClockMs;
}

/**
 * Whether a cue goes with a stretch that may not be given: it starts in it, or most of it lies in it. A cue that runs
 * over the edge rather goes than stays.
 */
export function goesWith({ start, end }: Lasting, { from, to }: Bounds): boolean {
  const inside = Math.min(end, to) - Math.max(start, from);
  return (from <= start && start < to) || inside * 2 > end - start;
}

/** Whether a cue has any moment in common with a stretch. */
export const meets = ({ start, end }: Lasting, { from, to }: Bounds): boolean => start < to && end > from;

/** How far a guessed time may be from the true one: 95 % of sentence starts in blocks of 20 seconds were within 2 s, and the worst seen was 4. */
export const GUESS_MS = 5000;

/** A stretch with what a guessed time may have put on the wrong side of its edges. */
export const widened = ({ from, to }: Bounds): Bounds => ({
  from: clockMs(Math.max(0, from - GUESS_MS)),
  to: clockMs(to + GUESS_MS),
});

/** Stretches in order, those that overlap or touch made one. */
export function merged(stretches: readonly Bounds[]): readonly Bounds[] {
  const whole: Bounds[] = [];
  for (const own of stretches.toSorted((a, b) => a.from - b.from)) {
    const last = whole.at(-1);
    if (last === undefined || own.from > last.to) whole.push({ from: own.from, to: own.to });
    else if (own.to > last.to) whole[whole.length - 1] = { from: last.from, to: own.to };
  }
  return whole;
}

/** The places of cues that may not be given, with all that share a passage with one of them. */
export function withWholePassages(
  places: ReadonlySet<number>,
  passages: readonly (readonly number[])[],
): ReadonlySet<number> {
  const whole = new Set(places);
  const sharing = new Map<number, (readonly number[])[]>();
  for (const own of passages) {
    for (const place of own) {
      const others = sharing.get(place);
      if (others === undefined) sharing.set(place, [own]);
      else others.push(own);
    }
  }
  // A set that grows while it is gone through is gone through to its new end.
  for (const place of whole) {
    for (const own of sharing.get(place) ?? []) for (const other of own) whole.add(other);
    sharing.delete(place);
  }
  return whole;
}
