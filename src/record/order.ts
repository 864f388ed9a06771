import { DateTime } from "luxon";
import { byCorrectionId } from "../model/correctionId.ts";
import { does } from "../model/correctionKinds.ts";
import type { Correction } from "../model/episode.ts";

/**
 * The usual way to write a moment, of which JavaScript's own parser says the same (ECMA-262, 21.4.1.32) in a hundredth of
 * the time: records and corrections have thousands. Past the 28th that parser takes days that a month does not have.
 */
const USUAL =
  /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|1\d|2[0-8])T(?:[01]\d|2[0-3]):[0-5]\d:[0-5]\d(?:\.\d{3})?(?:Z|[+-](?:0\d|1[0-3]):[0-5]\d)$/;

/** An ISO 8601 moment in milliseconds since 1970; a moment without offset is taken as UTC; NaN where it is none. */
export const instant = (iso: string): number =>
  USUAL.test(iso) ? Date.parse(iso) : DateTime.fromISO(iso, { zone: "utc" }).toMillis();

/**
 * The corrections of a day, oldest first: those dated by `on`. One with an unreadable date counts as of any day, and so
 * does a withdrawal: what was taken away is not given again by asking for the day before.
 */
export function correctionsBy(corrections: readonly Correction[], on: string): readonly Correction[] {
  const until = instant(on);
  return corrections
    .map((correction) => ({ correction, at: instant(correction.dated) }))
    .filter(({ correction, at }) => does(correction, "takes-away") || !(at > until))
    .sort((a, b) => a.at - b.at || byCorrectionId(a.correction.id, b.correction.id))
    .map(({ correction }) => correction);
}
