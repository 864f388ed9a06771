import { DateTime } from "luxon";
import { byCorrectionId } from "../model/correctionId.ts";
import { does } from "../model/correctionKinds.ts";
import type { Correction } from "../model/episode.ts";

/** An ISO 8601 moment in milliseconds since 1970; a moment without offset is taken as UTC; NaN where it is none. */
export const instant = (iso: string): number => DateTime.fromISO(iso, { zone: "utc" }).toMillis();

/** The order of corrections: by date, then by their names. */
export const byDate = (a: Correction, b: Correction): number =>
  instant(a.dated) - instant(b.dated) || byCorrectionId(a.id, b.id);

/**
 * The corrections of a day, oldest first: those dated by `on`. One with an unreadable date counts as of any day, and so
 * does a withdrawal: what was taken away is not given again by asking for the day before.
 */
export function correctionsBy(corrections: readonly Correction[], on: string): readonly Correction[] {
  const until = instant(on);
  return corrections.filter((own) => does(own, "takes-away") || !(instant(own.dated) > until)).toSorted(byDate);
}
