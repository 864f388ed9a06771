import { formatClock, formatClockExact, parseClock } from "../model/clock.ts";
import type { PageCorrection, Segment } from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import { clockMs } from "../model/units.ts";
import { faulty } from "./faults.ts";
import { foldText } from "./fold.ts";
import type { FieldChange } from "./laid.ts";

/** What the page kind changes: an episode's or a segment's own published fields. */
export interface Fields {
  readonly title: string;
  readonly summary: string | null;
}
export type SegmentFields = Fields & Pick<Segment, "by" | "in" | "out">;

/** A field replaced, or the finding that says why it can't be. */
export type Changed<T> =
  | { readonly ok: true; readonly fields: T; readonly change: FieldChange }
  | { readonly ok: false; readonly finding: Finding };

/** Lays a page correction over an episode's title or summary. */
export function changeEpisode<T extends Fields>(episode: T, correction: PageCorrection): Changed<T> {
  const { field } = correction;
  if (field !== "title" && field !== "summary")
    return refused(
      correction,
      "correction-field-not-here",
      `An episode has no field "${field}" of its own.`,
      "Name the segment whose field was wrong.",
    );
  return changeText(episode, field, correction);
}

/** Lays a page correction over a field of a segment. */
export function changeSegment<T extends SegmentFields>(segment: T, correction: PageCorrection): Changed<T> {
  switch (correction.field) {
    case "title":
    case "summary":
      return changeText(segment, correction.field, correction);
    case "by":
      return changeCredit(segment, correction);
    case "in":
    case "out":
      return changePoint(segment, correction.field, correction);
  }
}

function changeText<T extends Fields>(fields: T, field: "title" | "summary", correction: PageCorrection): Changed<T> {
  const published = fields[field] ?? "";
  if (foldText(published) !== foldText(correction.said)) return differs(correction, published);
  const now = correction.now.trim();
  if (now === "" && field === "title")
    return refused(
      correction,
      "correction-field-unreadable",
      "A title can't be empty.",
      "Give the new title in `now`.",
    );
  return done({ ...fields, [field]: now === "" ? null : now }, correction, published);
}

function changeCredit<T extends SegmentFields>(segment: T, correction: PageCorrection): Changed<T> {
  const published = segment.by.join(", ");
  if (foldText(published) !== foldText(correction.said)) return differs(correction, published);
  const by = correction.now
    .split(",")
    .map((name) => name.trim())
    .filter((name) => name !== "");
  return done({ ...segment, by }, correction, published);
}

function changePoint<T extends SegmentFields>(segment: T, field: "in" | "out", correction: PageCorrection): Changed<T> {
  const published = formatClockExact(segment[field]);
  if (parseClock(correction.said) !== segment[field] && correction.said !== formatClock(segment[field]))
    return differs(correction, published);
  const now = parseClock(correction.now);
  const moved = { ...segment, [field]: clockMs(now ?? 0) };
  if (now === null || moved.in >= moved.out)
    return refused(
      correction,
      "correction-field-unreadable",
      `"${correction.now}" is no ${field} point for this segment, which runs from ${formatClockExact(segment.in)} to ${formatClockExact(segment.out)}.`,
      "Give a time as m:ss or h:mm:ss that leaves the in point before the out point.",
    );
  return done(moved, correction, published);
}

const done = <T>(fields: T, correction: PageCorrection, was: string): Changed<T> => ({
  ok: true,
  fields,
  change: { correction, was, now: correction.now.trim() },
});

const differs = <T>(correction: PageCorrection, published: string): Changed<T> =>
  refused(
    correction,
    "correction-field-differs",
    `The ${correction.field} "${correction.said}" is not what is published.`,
    published === ""
      ? `No ${correction.field} is published there: leave \`said\` empty.`
      : `What is published is "${published}": give that as \`said\`.`,
  );

const refused = <T>(correction: PageCorrection, rule: string, says: string, mend: string): Changed<T> => ({
  ok: false,
  finding: faulty(correction, rule, says, mend),
});
