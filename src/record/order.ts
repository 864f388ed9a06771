import { DateTime } from "luxon";
import type { Correction } from "../model/episode.ts";

/** An ISO 8601 moment in milliseconds since 1970; a moment without offset is taken as UTC; NaN where it is none. */
export const instant = (iso: string): number => DateTime.fromISO(iso, { zone: "utc" }).toMillis();

const NAME = /^(.*)-(\d+)$/;

/** The order of corrections: by date, then by the number in their file's name. */
export function byDate(a: Correction, b: Correction): number {
  return instant(a.dated) - instant(b.dated) || byName(a.id, b.id);
}

function byName(a: string, b: string): number {
  const [first, second] = [NAME.exec(a), NAME.exec(b)];
  if (first?.[1] !== undefined && first[1] === second?.[1]) return Number(first[2]) - Number(second[2]);
  return a < b ? -1 : a > b ? 1 : 0;
}

/**
 * The corrections of a day, oldest first: those dated by `on`. One with an unreadable date counts as of any day, and so
 * does a withdrawal: what was taken away is not given again by asking for the day before.
 */
export function correctionsBy(corrections: readonly Correction[], on: string): readonly Correction[] {
  const until = instant(on);
  return corrections.filter(({ dated, kind }) => kind === "withdrawal" || !(instant(dated) > until)).toSorted(byDate);
}
