import type { Correction } from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import { MOST_NAMES } from "../model/limits.ts";
import type { PlacedCorrection } from "./correction.ts";
import { blocking, findingAt, putByFinding } from "./findings.ts";
import { findNearest } from "./nearest.ts";
import { type Points, pastEnd } from "./points.ts";
import { baseName, type EpisodeSources, isCorrectionName, isPutBy } from "./source.ts";

/** In the order in which they are laid over the words: by date, then by the number in the name. */
export function inDateOrder(corrections: readonly Correction[]): Correction[] {
  const number = ({ id }: Correction) => Number(id.slice("2026-10-06-".length));
  const day = ({ id }: Correction) => id.slice(0, "2026-10-06".length);
  const by = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
  return [...corrections].sort(
    (a, b) => Date.parse(a.dated) - Date.parse(b.dated) || by(day(a), day(b)) || number(a) - number(b),
  );
}

/** Files that look like corrections and stand in the wrong place, or in the right place and are none. */
export function misplaced({ folder, files }: EpisodeSources): Finding[] {
  return files.flatMap(({ file }) => {
    const name = baseName(file);
    const at = { file, line: 1, column: 1 };
    if (isPutBy(name)) return [putByFinding(file)];
    // What the tool itself keeps there, an audit judges.
    if (/^as-published\/[1-9]\d*\/reason\.md$/.test(file.slice(folder.length + 1))) return [];
    if (file.startsWith(`${folder}/corrections/`)) {
      if (name.endsWith(".md")) return [];
      return [
        blocking(
          "correction-name",
          at,
          `${name} is no correction: those end in .md.`,
          "Rename it to <date>-<number>.md, or take it away.",
        ),
      ];
    }
    if (isCorrectionName(name)) {
      return [
        blocking(
          "correction-misplaced",
          at,
          "This correction stands beside episode.md, where nobody reads it.",
          `Move it to ${folder}/corrections/${name}.`,
        ),
      ];
    }
    const unread = /\.(md|vtt|srt)$/i.test(name) && name !== "episode.md" && !/^transcript(\.[^.]+)?\.vtt$/.test(name);
    return unread
      ? [
          findingAt(
            at,
            "warns",
            "file-unread",
            `Nothing reads ${name} here.`,
            "Rename it if it is the transcript or a correction, or take it away.",
          ),
        ]
      : [];
  });
}

/** What corrections say against one another and against their episode. */
export function correctionFindings(
  placed: readonly PlacedCorrection[],
  points: Points,
  aired: string | null,
  allIds: readonly string[],
): Finding[] {
  const order = new Map(inDateOrder(placed.map(({ correction }) => correction)).map(({ id }, place) => [id, place]));
  const slugs = points.segments.flatMap(({ slug }) => (slug === null ? [] : [slug]));
  const set: CorrectionSet = { order, ids: new Set(allIds), firstToSupersede: firstToSupersede(placed, order) };
  return placed.flatMap((one) => [
    ...segmentFindings(one, slugs),
    ...supersedesFindings(one, set),
    ...supersededBefore(one, set),
    ...timeFindings(one, points),
    ...beforeAir(one, aired),
  ]);
}

/** What the corrections of an episode are to one another. */
interface CorrectionSet {
  /** The place of each among those that could be read, by id. */
  readonly order: ReadonlyMap<string, number>;
  /** Of all, readable or not. */
  readonly ids: ReadonlySet<string>;
  /** Of a correction, by its id, the first in `order` that takes its place. */
  readonly firstToSupersede: ReadonlyMap<string, string>;
}

function firstToSupersede(
  placed: readonly PlacedCorrection[],
  order: ReadonlyMap<string, number>,
): CorrectionSet["firstToSupersede"] {
  const first = new Map<string, string>();
  const placeOf = (id: string): number => order.get(id) ?? 0;
  for (const { correction } of placed.toSorted((a, b) => placeOf(a.correction.id) - placeOf(b.correction.id)))
    if (correction.supersedes !== null && !first.has(correction.supersedes))
      first.set(correction.supersedes, correction.id);
  return first;
}

function segmentFindings({ correction, front }: PlacedCorrection, slugs: readonly string[]): Finding[] {
  const { segment } = correction;
  if (segment === null || slugs.includes(segment)) return [];
  const near = findNearest(segment, slugs);
  const mend = near === undefined ? `The episode has ${slugs.join(", ")}.` : `Did you mean ${near}?`;
  return [
    blocking("correction-segment-unknown", front.placeOf(["segment"]), `The episode has no segment ${segment}.`, mend),
  ];
}

function supersedesFindings({ correction, front }: PlacedCorrection, { order, ids }: CorrectionSet): Finding[] {
  const { supersedes, id } = correction;
  if (supersedes === null) return [];
  const at = front.placeOf(["supersedes"]);
  if (!ids.has(supersedes)) {
    const others = ids.size > MOST_NAMES ? [] : [...ids].filter((other) => other !== id);
    const near = findNearest(supersedes, others);
    const mend = near === undefined ? "Name an earlier correction of this episode." : `Did you mean ${near}?`;
    return [blocking("supersedes-unknown", at, `The episode has no correction ${supersedes}.`, mend)];
  }
  const [earlier, own] = [order.get(supersedes), order.get(id)];
  if (earlier !== undefined && own !== undefined && earlier >= own) {
    const says = `${supersedes} is not earlier than this correction, so this can't take its place.`;
    return [blocking("supersedes-later", at, says, "Name an earlier correction of this episode.")];
  }
  return [];
}

/** A doubt only: where both are published, neither can be taken back. */
function supersededBefore(
  { correction: { id, supersedes }, front }: PlacedCorrection,
  { firstToSupersede: first }: CorrectionSet,
): Finding[] {
  const earlier = supersedes === null ? undefined : first.get(supersedes);
  if (earlier === undefined || earlier === id) return [];
  const says = `${earlier} has taken the place of ${supersedes} already.`;
  const mend = `Name ${earlier}, if this is to stand for that one too.`;
  return [findingAt(front.placeOf(["supersedes"]), "warns", "supersedes-again", says, mend)];
}

function timeFindings({ correction, front }: PlacedCorrection, points: Points): Finding[] {
  const { at: ms, segment } = correction;
  if (ms === null) return [];
  const at = front.placeOf(["at"]);
  if (points.end !== null && ms > points.end + points.slack) return [pastEnd({ ms, at }, points.end, "time")];
  const i = points.segments.findIndex(({ slug }) => slug === segment);
  const here = points.segments[i];
  if (segment === null || here === undefined || here.in.ms === null) return [];
  const out = here.out.ms ?? points.segments[i + 1]?.in.ms ?? points.end ?? Number.POSITIVE_INFINITY;
  if (ms >= here.in.ms && ms <= out) return [];
  const says = `This time is not in the segment ${segment}.`;
  return [
    findingAt(
      at,
      "warns",
      "correction-outside-segment",
      says,
      "Check the time and the segment against each other.",
      ms / 1000,
    ),
  ];
}

function beforeAir({ correction, front }: PlacedCorrection, aired: string | null): Finding[] {
  if (aired === null || Date.parse(correction.dated) >= Date.parse(aired)) return [];
  const says = `This correction is dated before the episode went to air (${aired}).`;
  return [findingAt(front.placeOf(["dated"]), "warns", "correction-before-air", says, "Check the date.")];
}
