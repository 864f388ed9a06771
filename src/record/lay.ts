import { segmentAt } from "../derive/holdings.ts";
import { addAll } from "../model/addAll.ts";
import { formatClockExact } from "../model/clock.ts";
import { does } from "../model/correctionKinds.ts";
import type { Correction, Episode, PageCorrection } from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import { NEAREST_SOUGHT } from "../model/limits.ts";
import type { Recorded } from "./enter.ts";
import { faulty } from "./faults.ts";
import { changeEpisode, changeSegment } from "./fields.ts";
import { finish } from "./finish.ts";
import type { LaidEpisode, LaidSegment } from "./laid.ts";
import { addHolder, holdsWords, layWords } from "./layWords.ts";
import { correctionsBy } from "./order.ts";
import { pieceIndexOf } from "./pieceIndex.ts";
import { isWithdrawn, stretchesOf, type Withdrawn, withdrawalsIn } from "./withdraw.ts";
import { passHolds, workingPieces } from "./words.ts";
import type { Work } from "./work.ts";

/**
 * The episode as it stands on a day: the corrections dated by `on` (an ISO moment) laid over what was first published,
 * in date order. A correction that can't be laid leaves a finding and is listed all the same; nothing is ever dropped.
 *
 * What the record says (`recordedIn`): corrections that were entered before the text was reissued may be in the new text
 * already; they are laid where their words still stand, and leave no finding where they don't. Withdrawn stretches stay
 * withdrawn, whatever segment they lie in now.
 */
export function layCorrections(episode: Episode, on: string, recorded: Recorded = NOTHING): LaidEpisode {
  const work: Work = {
    episode,
    index: pieceIndexOf(workingPieces(episode.cues)),
    holders: new Map(),
    nearest: { left: NEAREST_SOUGHT },
    segments: episode.segments.map((segment) => ({
      ...segment,
      withdrawn: null,
      stood: [{ from: segment.in, to: segment.out }],
      changes: [],
    })),
    gone: [...recorded.withdrawn],
    title: episode.title,
    summary: episode.summary,
    changes: [],
    done: [],
    doneById: new Map(),
    superseded: new Map(),
    findings: [],
  };
  // Words that are withdrawn by now, on whatever day, may be gone from the files: no fault of earlier corrections.
  const gone = withdrawalsIn(episode.corrections);
  for (const correction of correctionsBy(episode.corrections, on)) {
    const isReissued = recorded.reissued.has(correction.id);
    const { laid, findings } = layOne(correction, work, isReissued);
    supersede(correction, work, laid);
    if (!isReissued && !speaksOf(correction, work, gone)) addAll(work.findings, findings);
    work.done.push(correction);
    if (!work.doneById.has(correction.id)) work.doneById.set(correction.id, correction);
  }
  return finish(work);
}

const NOTHING: Recorded = { reissued: new Set(), withdrawn: [] };

interface Outcome {
  readonly laid: boolean;
  readonly findings: readonly Finding[];
}

function layOne(correction: Correction, work: Work, isReissued: boolean): Outcome {
  const segment = work.segments.find(({ slug }) => slug === correction.segment) ?? null;
  if (segment === null && correction.segment !== null) {
    const slugs = work.segments.map(({ slug }) => slug).join(", ");
    const says = `This episode has no segment "${correction.segment}".`;
    const unknown = faulty(correction, "correction-segment-unknown", says, `Name one of: ${slugs}.`);
    return { laid: false, findings: [unknown] };
  }
  if (holdsWords(correction))
    return layWords(correction, {
      index: work.index,
      holders: work.holders,
      nearest: work.nearest,
      segments: work.segments,
      segment,
      isReissued,
    });
  if (does(correction, "replaces-field")) return layPage(correction, segment, work);
  if (does(correction, "takes-away")) addAll(work.gone, stretchesOf(correction, work.segments));
  return { laid: true, findings: [] };
}

function layPage(correction: PageCorrection, segment: LaidSegment | null, work: Work): Outcome {
  if (segment === null) {
    const changed = changeEpisode({ title: work.title, summary: work.summary }, correction);
    if (!changed.ok) return { laid: false, findings: [changed.finding] };
    work.title = changed.fields.title;
    work.summary = changed.fields.summary;
    work.changes = [...work.changes, changed.change];
    return { laid: true, findings: [] };
  }
  const changed = changeSegment(segment, correction);
  if (!changed.ok) return { laid: false, findings: [changed.finding] };
  const next = stoodOn({ ...changed.fields, changes: [...segment.changes, changed.change] });
  const at = work.segments.indexOf(segment);
  const segments = work.segments.map((own, index) => {
    if (own === segment) return next;
    // An out point that was the next in point moves with it.
    return index === at - 1 && own.out === segment.in ? stoodOn({ ...own, out: next.in }) : own;
  });
  const other = overlapping(segments, at);
  if (other !== undefined) return { laid: false, findings: [overlaps(correction, next, other)] };
  work.segments = segments;
  return { laid: true, findings: [] };
}

/** The segment with where it stands now among the stretches that it stood on. */
function stoodOn(segment: LaidSegment): LaidSegment {
  const last = segment.stood.at(-1);
  if (last?.from === segment.in && last.to === segment.out) return segment;
  return { ...segment, stood: [...segment.stood, { from: segment.in, to: segment.out }] };
}

/** A neighbour that the segment at this place overlaps, or whose place it takes: it was in order before. */
function overlapping(segments: readonly LaidSegment[], at: number): LaidSegment | undefined {
  const [before, own, after] = [segments[at - 1], segments[at], segments[at + 1]];
  if (own === undefined) return undefined;
  if (before !== undefined && (before.out > own.in || before.in >= before.out)) return before;
  return after !== undefined && own.out > after.in ? after : undefined;
}

function overlaps(correction: PageCorrection, own: LaidSegment, other: LaidSegment): Finding {
  const says = `"${own.slug}" would then run from ${formatClockExact(own.in)} to ${formatClockExact(own.out)}, over "${other.slug}".`;
  const mend = `Give a time that leaves each of the two its place, or correct the point of "${other.slug}" first.`;
  return faulty(correction, "correction-segments-overlap", says, mend);
}

/** So many corrections are named where one is not there. */
const NAMED = 20;

/** Notes which earlier correction this one takes the place of, and hands over its marks. */
function supersede(correction: Correction, work: Work, laid: boolean): void {
  if (correction.supersedes === null) return;
  const earlier = work.doneById.get(correction.supersedes);
  if (earlier === undefined) {
    const says = `No earlier correction "${correction.supersedes}" of this episode.`;
    const names = work.done.slice(-NAMED).map(({ id }) => id);
    const more = work.done.length > NAMED ? ` or an earlier one` : "";
    const mend = names.length === 0 ? "Take `supersedes` out." : `Name one of: ${names.join(", ")}${more}.`;
    work.findings.push(faulty(correction, "correction-supersedes-unknown", says, mend));
    return;
  }
  if (does(earlier, "takes-away") && !does(correction, "takes-away")) {
    const says = `"${earlier.id}" is a withdrawal, and a ${correction.kind} correction can't take its place.`;
    const mend = "What was withdrawn stays so. Supersede it by another withdrawal, or take `supersedes` out.";
    work.findings.push(faulty(correction, "correction-withdrawal-stands", says, mend));
    return;
  }
  work.superseded.set(earlier.id, correction);
  if (!laid) return;
  for (const piece of work.holders.get(earlier.id) ?? []) {
    passHolds(piece, earlier.id, correction, !holdsWords(correction));
    addHolder(work.holders, correction.id, piece);
  }
}

/** Whether a correction is about something that is withdrawn. */
function speaksOf(correction: Correction, { segments, gone: stretches }: Work, gone: Withdrawn): boolean {
  const { at } = correction;
  if (at !== null && stretches.some((own) => own.from <= at && at < own.to)) return true;
  const about = correction.segment ?? (correction.at === null ? undefined : segmentAt(correction.at, segments)?.slug);
  const anything = gone.episode !== null || gone.segments.size > 0;
  return about === undefined ? anything && !does(correction, "takes-away") : isWithdrawn(about, gone);
}
