import { formatClockExact } from "../model/clock.ts";
import { WHOLE_PROGRAMME } from "../model/episode.ts";
import type { Finding, Place } from "../model/finding.ts";
import { judgeClock, judgeSlug } from "./fields.ts";
import { blocking, findingAt } from "./findings.ts";
import type { Front } from "./frontMatter.ts";
import { valueAt } from "./shapeFindings.ts";
import type { Path } from "./yamlTree.ts";

/** A time as far as it can be read, whatever else is wrong with its file. */
interface Point {
  readonly ms: number | null;
  readonly at: Place;
}
interface CutPoints {
  readonly from: Point;
  readonly to: Point;
}
interface SegmentPoints {
  readonly slug: string | null;
  readonly slugAt: Place;
  readonly in: Point;
  readonly out: Point;
}

/** The times of an episode, read one by one so that they can be compared even while other faults stand. */
export interface Points {
  readonly duration: Point;
  readonly cuts: readonly CutPoints[];
  readonly segments: readonly SegmentPoints[];
  /** Where the broadcast ends, in aired time: the media file's duration and the cuts. */
  readonly airedEnd: number | null;
  /** Where the episode ends in its own clock. */
  readonly end: number | null;
  /** How far past the end a time may lie: a duration in whole seconds has its fraction cut off. */
  readonly slack: number;
}

export function pointsOf(front: Front): Points {
  const pointAt = (path: Path): Point => {
    const written = valueAt(front.data, path);
    const judged = written === undefined ? null : judgeClock(written);
    return { ms: judged?.ok ? judged.value : null, at: front.placeOf(path) };
  };
  const slugAt = (path: Path): string | null => {
    const judged = judgeSlug()(valueAt(front.data, path));
    return judged.ok ? judged.value : null;
  };
  const duration = pointAt(["duration"]);
  const cuts = listAt(front, "cuts").map((i) => ({
    from: pointAt(["cuts", i, "from"]),
    to: pointAt(["cuts", i, "to"]),
  }));
  const divided = listAt(front, "segments").map((i) => ({
    slug: slugAt(["segments", i, "slug"]),
    slugAt: front.placeOf(["segments", i, "slug"]),
    in: pointAt(["segments", i, "in"]),
    out: pointAt(["segments", i, "out"]),
  }));
  const segments = divided.length > 0 ? divided : [wholeAt(front.placeOf(["segments"]))];
  const airedEnd = cuts.reduce<number | null>((sum, { from, to }) => add(sum, from.ms, to.ms), duration.ms);
  const clock = front.data.clock;
  const end = clock === "aired" ? airedEnd : clock === "media" ? duration.ms : null;
  const slack = duration.ms !== null && duration.ms % 1000 === 0 ? 999 : 0;
  return { duration, cuts, segments, airedEnd, end, slack };
}

/** The whole programme as the one segment of an episode that is not divided. */
const wholeAt = (at: Place): SegmentPoints => ({
  slug: WHOLE_PROGRAMME.slug,
  slugAt: at,
  in: { ms: 0, at },
  out: { ms: null, at },
});

function listAt(front: Front, key: string): number[] {
  const list = front.data[key];
  return Array.isArray(list) ? list.map((_, i) => i) : [];
}

const add = (sum: number | null, from: number | null, to: number | null): number | null =>
  sum === null || from === null || to === null ? null : sum + Math.max(0, to - from);

/** Everything that two times of one episode can say against each other. */
export function pointFindings(points: Points): readonly Finding[] {
  return [...durationFindings(points), ...cutFindings(points), ...slugsTwice(points), ...segmentFindings(points)];
}

const fault = (rule: string, { at, ms }: Point, says: string, mend: string): Finding =>
  findingAt(at, "blocks", rule, says, mend, ms === null ? null : ms / 1000);
const show = (ms: number): string => formatClockExact(ms);

function durationFindings({ duration }: Points): Finding[] {
  if (duration.ms !== 0) return [];
  return [
    fault(
      "duration-zero",
      duration,
      "The duration is 0:00.",
      "Write how long the web media file runs; without a recording, how long the broadcast ran.",
    ),
  ];
}

function cutFindings({ cuts, airedEnd, slack }: Points): Finding[] {
  return cuts.flatMap(({ from, to }, i) => {
    const before = cuts[i - 1];
    if (from.ms === null || to.ms === null) return [];
    if (to.ms <= from.ms) {
      return [
        fault(
          "cut-empty",
          to,
          `This cut ends at ${show(to.ms)}, not after it begins at ${show(from.ms)}.`,
          "Write an end after the beginning, or take the cut out.",
        ),
      ];
    }
    if (before !== undefined && before.from.ms !== null && before.to.ms !== null) {
      const says = (what: string) => `This cut begins at ${show(from.ms ?? 0)}, ${what}.`;
      if (from.ms < before.from.ms)
        return [
          fault(
            "cut-in-order",
            from,
            says(`before the one above it, at ${show(before.from.ms)}`),
            "Write the cuts in the order of their times.",
          ),
        ];
      if (from.ms < before.to.ms)
        return [
          fault(
            "cut-overlap",
            from,
            says(`inside the one above it, which ends at ${show(before.to.ms)}`),
            `Begin it at ${show(before.to.ms)} or later, or make one cut of the two.`,
          ),
        ];
    }
    return airedEnd === null || to.ms <= airedEnd + slack ? [] : [pastEnd(to, airedEnd, "cut's end")];
  });
}

/** A time past the end of the episode. */
export function pastEnd(point: Point, end: number, what: string): Finding {
  const says = `This ${what}, ${show(point.ms ?? 0)}, is past the end of the episode at ${show(end)}.`;
  return fault(
    "point-past-end",
    point,
    says,
    "Check it against the recording; check `duration`, `cuts` and `clock` too.",
  );
}

function slugsTwice({ segments }: Points): Finding[] {
  const first = new Map<string, Place>();
  return segments.flatMap(({ slug, slugAt }) => {
    if (slug === null) return [];
    const earlier = first.get(slug);
    first.set(slug, earlier ?? slugAt);
    if (earlier === undefined) return [];
    const says = `The slug ${slug} stands in line ${earlier.line} already.`;
    return [
      {
        ...blocking("segment-slug-twice", slugAt, says, "Give one of the two segments another slug."),
        see: [earlier],
      },
    ];
  });
}

function segmentFindings({ segments, end, slack }: Points): Finding[] {
  const findings: Finding[] = [];
  segments.forEach((segment, i) => {
    const before = segments.slice(0, i).findLast((earlier) => earlier.in.ms !== null);
    const { in: point, out } = segment;
    if (point.ms !== null && before !== undefined && before.in.ms !== null) {
      if (point.ms <= before.in.ms) {
        const says = `This in point, ${show(point.ms)}, is not after the one before it, ${show(before.in.ms)}.`;
        findings.push({
          ...fault(
            "in-out-of-order",
            point,
            says,
            "Write the segments in the order they were broadcast, each with its own in point.",
          ),
          see: [before.in.at],
        });
      } else if (before.out.ms !== null && before.out.ms > point.ms) {
        const says = `The segment before runs to ${show(before.out.ms)}, past this in point, ${show(point.ms)}.`;
        findings.push({
          ...fault("segments-overlap", point, says, "Make that out point this in point, or leave it out."),
          see: [before.out.at],
        });
      }
    }
    if (point.ms !== null && end !== null && point.ms >= end) findings.push(pastEnd(point, end, "in point"));
    if (out.ms === null) return;
    if (point.ms !== null && out.ms <= point.ms) {
      findings.push(
        fault(
          "out-before-in",
          out,
          `This out point, ${show(out.ms)}, is not after the in point, ${show(point.ms)}.`,
          "Write an out point after the in point, or leave it out.",
        ),
      );
    }
    if (end !== null && out.ms > end + slack) findings.push(pastEnd(out, end, "out point"));
  });
  return findings;
}
