import type { Segment } from "../model/episode.ts";
import { type ClockMs, clockMs } from "../model/units.ts";

/** A line of the running order, planned against actual. Milliseconds. */
export interface OrderLine {
  readonly slug: string;
  readonly planned: ClockMs | null;
  readonly actual: ClockMs;
  /** Actual less planned: more than 0 is over, less is under; null where nothing was planned. */
  readonly over: number | null;
  /** Actual time from the beginning of the programme to this segment's out point, its segments added up. */
  readonly total: ClockMs;
  /** The sum of `over` so far; segments without a plan count as planned. */
  readonly totalOver: number;
  /** When it must begin for the programme to end with its slot, counted back from there by what is planned after it; null: no slot is known. */
  readonly backTime: ClockMs | null;
}

export interface OrderTimes {
  readonly lines: readonly OrderLine[];
  /** What the segments run together, and that against the slot: more than 0 is over; null: no slot is known. */
  readonly total: ClockMs;
  readonly overSlot: number | null;
}

/**
 * Running order arithmetic: planned against actual, the running total, and back-timing to the slot's end (common
 * practice, no source). A segment without a plan counts at its actual length.
 * @param slot how long the slot is, in milliseconds; null where the programme names none.
 */
export function orderTimes(
  segments: readonly Pick<Segment, "slug" | "in" | "out" | "planned">[],
  slot: number | null,
): OrderTimes {
  let [total, totalOver] = [0, 0];
  const forward = segments.map(({ slug, in: start, out, planned }) => {
    const actual = out - start;
    const over = planned === null ? null : actual - planned;
    total += actual;
    totalOver += over ?? 0;
    return { slug, planned, actual: clockMs(actual), over, total: clockMs(total), totalOver };
  });
  let left = slot ?? 0;
  const lines = forward
    .toReversed()
    .map((line): OrderLine => {
      left -= line.planned ?? line.actual;
      return { ...line, backTime: slot === null ? null : clockMs(left) };
    })
    .reverse();
  return { lines, total: clockMs(total), overSlot: slot === null ? null : total - slot };
}
