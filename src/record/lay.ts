import { segmentAt } from "../derive/holdings.ts";
import type { Correction, Episode, PageCorrection } from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import { faulty } from "./faults.ts";
import { changeEpisode, changeSegment } from "./fields.ts";
import type { LaidEpisode, LaidSegment } from "./laid.ts";
import { holdsWords, layWords } from "./layWords.ts";
import { correctionsBy } from "./order.ts";
import { finish } from "./settle.ts";
import { isWithdrawn, type Withdrawn, withdrawalsIn } from "./withdraw.ts";
import { passHolds, workingParts } from "./words.ts";
import type { Work } from "./work.ts";

/**
 * The episode as it stands on a day: the corrections dated by `on` (an ISO moment) laid over what was first published,
 * in date order. A correction that can't be laid leaves a finding and is listed all the same; nothing is ever dropped.
 *
 * `settled`: ids of corrections entered before the text was reissued (see `settledBy`). The new text may have taken
 * them in already: those are laid where their words still stand, and leave no finding where they don't.
 */
export function layCorrections(episode: Episode, on: string, settled: ReadonlySet<string> = new Set()): LaidEpisode {
  const work: Work = {
    episode,
    parts: workingParts(episode.cues),
    segments: episode.segments.map((segment) => ({ ...segment, withdrawn: null, changes: [] })),
    title: episode.title,
    summary: episode.summary,
    changes: [],
    done: [],
    superseded: new Map(),
    findings: [],
  };
  // Words that are withdrawn by now, on whatever day, may be gone from the files: no fault of earlier corrections.
  const gone = withdrawalsIn(episode.corrections);
  for (const correction of correctionsBy(episode.corrections, on)) {
    const isSettled = settled.has(correction.id);
    const { laid, findings } = layOne(correction, work, isSettled);
    supersede(correction, work, laid);
    if (!isSettled && !speaksOf(correction, work, gone)) work.findings.push(...findings);
    work.done.push(correction);
  }
  return finish(work);
}

interface Outcome {
  readonly laid: boolean;
  readonly findings: readonly Finding[];
}

function layOne(correction: Correction, work: Work, settled: boolean): Outcome {
  const segment = work.segments.find(({ slug }) => slug === correction.segment) ?? null;
  if (segment === null && correction.segment !== null) {
    const slugs = work.segments.map(({ slug }) => slug).join(", ");
    const says = `This episode has no segment "${correction.segment}".`;
    const unknown = faulty(correction, "correction-segment-unknown", says, `Name one of: ${slugs}.`);
    return { laid: false, findings: [unknown] };
  }
  if (holdsWords(correction))
    return layWords(correction, { parts: work.parts, segments: work.segments, segment, settled });
  if (correction.kind === "page") return layPage(correction, segment, work);
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
  const next = { ...changed.fields, changes: [...segment.changes, changed.change] };
  const at = work.segments.indexOf(segment);
  work.segments = work.segments
    .map((own, index) => {
      if (own === segment) return next;
      // An out point that was the next in point moves with it.
      return index === at - 1 && own.out === segment.in ? { ...own, out: next.in } : own;
    })
    .toSorted((a, b) => a.in - b.in);
  return { laid: true, findings: [] };
}

/** Notes which earlier correction this one takes the place of, and hands over its marks. */
function supersede(correction: Correction, work: Work, laid: boolean): void {
  if (correction.supersedes === null) return;
  const earlier = work.done.find(({ id }) => id === correction.supersedes);
  if (earlier === undefined) {
    const says = `No earlier correction "${correction.supersedes}" of this episode.`;
    const names = work.done.map(({ id }) => id).join(", ");
    const mend = names === "" ? "Take `supersedes` out." : `Name one of: ${names}.`;
    work.findings.push(faulty(correction, "correction-supersedes-unknown", says, mend));
    return;
  }
  if (earlier.kind === "withdrawal" && correction.kind !== "withdrawal") {
    const says = `"${earlier.id}" is a withdrawal, and a ${correction.kind} correction can't take its place.`;
    const mend = "What was withdrawn stays so. Supersede it by another withdrawal, or take `supersedes` out.";
    work.findings.push(faulty(correction, "correction-withdrawal-stands", says, mend));
    return;
  }
  work.superseded.set(earlier.id, correction);
  if (!laid) return;
  for (const part of work.parts) passHolds(part, earlier.id, correction, !holdsWords(correction));
}

/** Whether a correction is about something that is withdrawn. */
function speaksOf(correction: Correction, { segments }: Work, gone: Withdrawn): boolean {
  const about = correction.segment ?? (correction.at === null ? undefined : segmentAt(correction.at, segments)?.slug);
  const anything = gone.episode !== null || gone.segments.size > 0;
  return about === undefined ? anything && correction.kind !== "withdrawal" : isWithdrawn(about, gone);
}
