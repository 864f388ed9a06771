import { formatClock } from "../../model/clock.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtAt } from "../doubts.ts";
import type { Subject } from "../subject.ts";

/** What two segments may lie apart, or over one another, without anybody missing it. Milliseconds; no source. */
const SLACK = 1000;

/** The time from every out point to the next in point; below 0 they overlap. */
function joins(
  { episode: { segments } }: Subject,
  says: (apart: number, out: string, next: string) => string | null,
  mend: string,
): Doubt[] {
  return segments.flatMap((segment, n) => {
    const next = segments[n + 1];
    if (next === undefined) return [];
    const told = says(next.in - segment.out, formatClock(segment.out), formatClock(next.in));
    return told === null ? [] : [doubtAt(next.at, next.in, told, mend, segment.at)];
  });
}

export const segmentGap: Check = {
  name: "segment-gap",
  level: "warns",
  group: "structure",
  reason: "Time between two segments belongs to nothing: it is in no page and no chapter.",
  looks: "More than a second between an out point and the next in point.",
  example: "The package ends at 3:20, the interview begins at 3:32.",
  accept: "Nothing was broadcast there.",
  judge: (subject) =>
    joins(
      subject,
      (apart, out, next) => (apart > SLACK ? `Nothing is on from ${out} to ${next}.` : null),
      "Leave the out point out: it is then the next in point.",
    ),
};

export const segmentOverlap: Check = {
  name: "segment-overlap",
  level: "warns",
  group: "structure",
  reason: "Two segments at once show the same words twice, and the chapters jump.",
  looks: "An out point more than a second after the next in point.",
  example: "The package ends at 3:32, the interview begins at 3:20.",
  accept: "They did run together.",
  judge: (subject) =>
    joins(
      subject,
      (apart, out, next) =>
        apart < -SLACK ? `The segment before ends at ${out}, after this one begins at ${next}.` : null,
      "Make the out point this in point, or leave it out.",
    ),
};
