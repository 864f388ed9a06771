import { segmentAt } from "../derive/holdings.ts";
import type { Correction } from "../model/episode.ts";
import type { ClockMs } from "../model/units.ts";
import type {
  LaidCorrection,
  LaidCue,
  LaidEpisode,
  LaidPart,
  LaidRun,
  LaidSegment,
  Mark,
  SpeakerChange,
} from "./laid.ts";
import { holdsWords } from "./layWords.ts";
import { emptied, emptiedEpisode, goesWith, isWithdrawn, silenced, type Withdrawn, withdrawalsIn } from "./withdraw.ts";
import { type Hold, type Stretch, type WorkingPart, wordsOf } from "./words.ts";
import type { Work } from "./work.ts";

/** Where a correction's marks are. */
interface Held {
  clock: ClockMs | null;
  /** In the order met; `shown` counts only marks that no later one covers. */
  readonly shown: Map<number, number>;
  readonly slugs: Set<string>;
}

/** The laid episode out of the finished work: marks counted, what is withdrawn taken out. */
export function finish(work: Work): LaidEpisode {
  const { episode, title, summary, changes } = work;
  const withdrawn = withdrawalsIn(work.done);
  const held = holdsIn(work);
  const laid = listed(work, held, withdrawn);
  const shown = new Map(laid.map(({ correction }) => [correction.id, correction]));
  const segments = work.segments.map((segment) => withoutWithdrawn(segment, withdrawn));
  return {
    ...episode,
    ...(withdrawn.episode === null ? { title, summary, changes } : emptiedEpisode),
    segments,
    cues: withdrawn.episode === null ? cuesOf(work, held, segments, shown) : [],
    corrections: laid.map(({ correction }) => correction),
    withdrawn: withdrawn.episode,
    laid,
    findings: work.findings,
  };
}

function withoutWithdrawn(segment: LaidSegment, { episode, segments }: Withdrawn): LaidSegment {
  const withdrawal = segments.get(segment.slug) ?? episode;
  return withdrawal === null ? segment : emptied(segment, withdrawal);
}

function holdsIn({ parts, segments }: Work): ReadonlyMap<string, Held> {
  const held = new Map<string, Held>();
  const note = ({ correction, occurrence }: Hold, part: WorkingPart, shows: boolean): void => {
    const own: Held = held.get(correction.id) ?? { clock: null, shown: new Map(), slugs: new Set() };
    held.set(correction.id, own);
    own.clock ??= part.cue.start;
    const slug = segmentAt(part.cue.start, segments)?.slug;
    if (slug !== undefined) own.slugs.add(slug);
    if (shows && !own.shown.has(occurrence)) own.shown.set(occurrence, own.shown.size + 1);
  };
  for (const part of parts) {
    if (part.voiceHold !== null) note(part.voiceHold, part, true);
    for (const { holds } of part.stretches) for (const [index, hold] of holds.entries()) note(hold, part, index === 0);
  }
  return held;
}

function listed(work: Work, held: ReadonlyMap<string, Held>, withdrawn: Withdrawn): readonly LaidCorrection[] {
  const entries = work.done.map((correction) => {
    const own = held.get(correction.id);
    const segments = segmentsOf(correction, work, own);
    return {
      correction,
      clock: own?.clock ?? correction.at,
      segment: correction.segment ?? (segments.length === 1 ? (segments[0] ?? null) : null),
      segments,
      places: own?.shown.size ?? 0,
      hidden: correction.kind !== "withdrawal" && isHidden(correction, segments, withdrawn),
    };
  });
  const shown = new Map(
    entries.map(({ correction, hidden }) => [correction.id, hidden ? silenced(correction) : correction]),
  );
  return entries.map((entry) => {
    const later = work.superseded.get(entry.correction.id);
    return {
      ...entry,
      correction: shown.get(entry.correction.id) ?? entry.correction,
      places: entry.hidden ? 0 : entry.places,
      supersededBy: later === undefined ? null : (shown.get(later.id) ?? later),
    };
  });
}

function segmentsOf(correction: Correction, { segments }: Work, own: Held | undefined): readonly string[] {
  if (own !== undefined) return segments.map(({ slug }) => slug).filter((slug) => own.slugs.has(slug));
  if (correction.segment !== null) return [correction.segment];
  const slug = correction.at === null ? undefined : segmentAt(correction.at, segments)?.slug;
  return slug === undefined ? [] : [slug];
}

/** Whether all that a correction speaks of is withdrawn, or may be: then it could repeat the words. */
function isHidden(correction: Correction, segments: readonly string[], withdrawn: Withdrawn): boolean {
  if (withdrawn.episode !== null) return true;
  if (segments.length > 0) return segments.every((slug) => isWithdrawn(slug, withdrawn));
  return holdsWords(correction) && withdrawn.segments.size > 0;
}

function cuesOf(
  { episode, parts }: Work,
  held: ReadonlyMap<string, Held>,
  segments: readonly LaidSegment[],
  shown: ReadonlyMap<string, Correction>,
): readonly LaidCue[] {
  const gone = segments.filter((segment) => segment.withdrawn !== null);
  const cues: LaidCue[] = [];
  let next = 0;
  for (const cue of episode.cues) {
    const own = parts.slice(next, next + cue.parts.length);
    next += cue.parts.length;
    if (gone.some((segment) => goesWith(cue, segment.in, segment.out))) continue;
    cues.push({ ...cue, parts: own.map((part) => laidPart(part, held, shown)) });
  }
  return cues;
}

function laidPart(
  part: WorkingPart,
  held: ReadonlyMap<string, Held>,
  shown: ReadonlyMap<string, Correction>,
): LaidPart {
  const [first, ...others] = part.stretches;
  if (first !== undefined && first.holds.length === 0 && others.length === 0 && part.voiceHold === null) {
    const { text } = first;
    return { ...part.part, voice: part.voice, words: text, runs: [{ text, mark: null }], speaker: null };
  }
  const number = ({ correction, occurrence }: Hold): number =>
    held.get(correction.id)?.shown.get(occurrence) ?? occurrence;
  const named = ({ correction }: Hold): Correction => shown.get(correction.id) ?? correction;
  const markOf = ({ text, was, holds }: Stretch): Mark | null => {
    const [top, ...under] = holds;
    if (top === undefined) return null;
    return { correction: named(top), occurrence: number(top), was: was === text ? null : was, under: under.map(named) };
  };
  const runs: LaidRun[] = [];
  for (const stretch of part.stretches) {
    const [mark, last] = [markOf(stretch), runs.at(-1)];
    if (mark === null && last !== undefined && last.mark === null)
      runs[runs.length - 1] = { text: last.text + stretch.text, mark };
    else runs.push({ text: stretch.text, mark });
  }
  return {
    ...part.part,
    voice: part.voice,
    words: wordsOf(part.stretches),
    runs,
    speaker: speakerOf(part, number, named),
  };
}

function speakerOf(
  { voice, voiceHold }: WorkingPart,
  number: (hold: Hold) => number,
  named: (hold: Hold) => Correction,
): SpeakerChange | null {
  if (voiceHold === null || voiceHold.was === voice) return null;
  return { correction: named(voiceHold), occurrence: number(voiceHold), was: voiceHold.was };
}
