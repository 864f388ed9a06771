import { segmentAt } from "../derive/holdings.ts";
import { does } from "../model/correctionKinds.ts";
import type { Correction, Episode, TranscriptCue } from "../model/episode.ts";
import { grouped } from "../model/grouped.ts";
import type { ClockMs } from "../model/units.ts";
import type {
  LaidCorrection,
  LaidCue,
  LaidEpisode,
  LaidPiece,
  LaidRun,
  LaidSegment,
  Mark,
  SpeakerChange,
} from "./laid.ts";
import { holdsWords } from "./layWords.ts";
import { quotes, type Spoken, wordsHeld } from "./quotes.ts";
import { goesWith, meets, type WithdrawnStretch, widened, withWholePassages } from "./stretch.ts";
import {
  emptied,
  emptiedEpisode,
  isWithdrawn,
  silenced,
  stretchesOf,
  type Withdrawn,
  withdrawalsIn,
} from "./withdraw.ts";
import { type Hold, type Stretch, sharedPassages, type WorkingPiece, wordsOf } from "./words.ts";
import type { Work } from "./work.ts";

/** Where a correction's marks are. */
interface Held {
  clock: ClockMs | null;
  /** In the order met; `shown` counts only marks that no later one covers. */
  readonly shown: Map<number, number>;
  readonly slugs: Set<string>;
  /** Places of the cues that it holds on to. */
  readonly cues: Set<number>;
}

/** The laid episode out of the finished work: marks counted, what is withdrawn taken out. */
export function finish(work: Work): LaidEpisode {
  const { episode, title, summary, changes } = work;
  const withdrawn = withdrawalsIn(work.done);
  const held = holdsIn(work);
  const gone = goneIn(work, withdrawn);
  const passages = sharedPassages(work.index.pieces);
  const goneCues = withWholePassages(cuesIn(gone, episode), passages);
  const laid = listed(work, held, { withdrawn, goneCues });
  const shown = new Map(laid.map(({ correction }) => [correction.id, correction]));
  const segments = work.segments.map((segment) => withoutWithdrawn(segment, withdrawn, gone));
  return {
    ...episode,
    ...(withdrawn.episode === null ? { title, summary, changes } : emptiedEpisode),
    segments,
    cues: cuesOf(work, held, goneCues, shown),
    corrections: laid.map(({ correction }) => correction),
    withdrawn: withdrawn.episode,
    gone,
    passages,
    laid,
    findings: work.findings,
  };
}

/** All that is withdrawn: as entered, as laid, and where the withdrawn segments stand in the end. */
function goneIn({ gone, segments }: Work, withdrawn: Withdrawn): readonly WithdrawnStretch[] {
  const all = [...withdrawn.segments.values(), ...(withdrawn.episode === null ? [] : [withdrawn.episode])];
  const once = new Map<string, WithdrawnStretch>();
  for (const own of [...gone, ...all.flatMap((withdrawal) => stretchesOf(withdrawal, segments))]) {
    const key = JSON.stringify([own.segment, own.from, own.to]);
    if (!once.has(key)) once.set(key, own);
  }
  return [...once.values()];
}

/** The places of the cues that go with withdrawn stretches, and of those that a guessed time may have put beside them. */
function cuesIn(gone: readonly WithdrawnStretch[], { cues, segments, timesGuessed }: Episode): ReadonlySet<number> {
  if (gone.some(({ segment }) => segment === null)) return new Set(cues.keys());
  const heard = new Set(segments.flatMap(({ slug, edgesHeard }) => (edgesHeard ? [slug] : [])));
  const takes = (stretch: WithdrawnStretch, cue: TranscriptCue): boolean =>
    goesWith(cue, stretch) ||
    (timesGuessed === true && !heard.has(stretch.segment ?? "") && meets(cue, widened(stretch)));
  return new Set([...cues.entries()].flatMap(([place, cue]) => (gone.some((own) => takes(own, cue)) ? [place] : [])));
}

/** A segment of a withdrawal, or one that mostly lies in a stretch that was withdrawn under a name that is not here. */
function withoutWithdrawn(
  segment: LaidSegment,
  { episode, segments }: Withdrawn,
  gone: readonly WithdrawnStretch[],
): LaidSegment {
  const own = segments.get(segment.slug) ?? episode;
  if (own !== null) return emptied(segment, own);
  const renamed = gone.find(
    (stretch) => stretch.segment !== segment.slug && goesWith({ start: segment.in, end: segment.out }, stretch),
  );
  const withdrawal = renamed === undefined ? undefined : segments.get(renamed.segment ?? "");
  return withdrawal === undefined ? segment : emptied(segment, withdrawal);
}

function holdsIn({ index, segments }: Work): ReadonlyMap<string, Held> {
  const held = new Map<string, Held>();
  const note = ({ correction, occurrence }: Hold, piece: WorkingPiece, shows: boolean): void => {
    const own: Held = held.get(correction.id) ?? { clock: null, shown: new Map(), slugs: new Set(), cues: new Set() };
    held.set(correction.id, own);
    own.clock ??= piece.cue.start;
    own.cues.add(piece.place);
    const slug = segmentAt(piece.cue.start, segments)?.slug;
    if (slug !== undefined) own.slugs.add(slug);
    if (shows && !own.shown.has(occurrence)) own.shown.set(occurrence, own.shown.size + 1);
  };
  for (const piece of index.pieces) {
    if (piece.voiceHold !== null) note(piece.voiceHold, piece, true);
    for (const { holds } of piece.stretches)
      for (const [index, hold] of holds.entries()) note(hold, piece, index === 0);
  }
  return held;
}

/** What is withdrawn, and the places of its cues. */
interface Gone {
  readonly withdrawn: Withdrawn;
  readonly goneCues: ReadonlySet<number>;
}

function listed(work: Work, held: ReadonlyMap<string, Held>, gone: Gone): readonly LaidCorrection[] {
  const words = wordsHeld(gone.goneCues.size === 0 ? [] : spokenIn(work), gone.goneCues);
  const order = new Map(work.segments.map(({ slug }, place) => [slug, place]));
  const entries = work.done.map((correction) => {
    const own = held.get(correction.id);
    const segments = segmentsOf(correction, work, own, order);
    const hidden = !does(correction, "takes-away") && isHidden(correction, segments, own?.cues ?? new Set(), gone);
    return {
      correction,
      clock: own?.clock ?? correction.at,
      segment: correction.segment ?? (segments.length === 1 ? (segments[0] ?? null) : null),
      segments,
      touches: [...(own?.cues ?? [])],
      places: own?.shown.size ?? 0,
      hidden,
      // A withdrawal says in public what was taken away.
      noteHidden: hidden || (!does(correction, "takes-away") && quotes(correction.note, false, words)),
    };
  });
  const shown = new Map(
    entries.map(({ correction, hidden, noteHidden }) => {
      const own = hidden ? silenced(correction) : noteHidden ? { ...correction, note: "" } : correction;
      return [correction.id, own];
    }),
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

/** What is said in the cues, with all corrections laid. */
function spokenIn({ episode, index: { pieces } }: Work): readonly Spoken[] {
  const ofCue = grouped(pieces, ({ place }) => place);
  return episode.cues.map((cue, place) => ({
    place,
    now: (ofCue.get(place) ?? []).map(({ stretches }) => wordsOf(stretches)).join(" "),
    was: cue.pieces.map(({ words }) => words).join(" "),
  }));
}

/** @param order the place of each segment, by slug. */
function segmentsOf(
  correction: Correction,
  { segments }: Work,
  own: Held | undefined,
  order: ReadonlyMap<string, number>,
): readonly string[] {
  if (own !== undefined) return [...own.slugs].sort((a, b) => (order.get(a) ?? 0) - (order.get(b) ?? 0));
  if (correction.segment !== null) return [correction.segment];
  const slug = correction.at === null ? undefined : segmentAt(correction.at, segments)?.slug;
  return slug === undefined ? [] : [slug];
}

/** Whether all that a correction speaks of is withdrawn, or may be: then it could repeat the words. */
function isHidden(
  correction: Correction,
  segments: readonly string[],
  touches: ReadonlySet<number>,
  { withdrawn, goneCues }: Gone,
): boolean {
  if (withdrawn.episode !== null) return true;
  if (touches.size > 0) return [...touches].every((place) => goneCues.has(place));
  if (segments.length > 0) return segments.every((slug) => isWithdrawn(slug, withdrawn));
  return holdsWords(correction) && withdrawn.segments.size > 0;
}

function cuesOf(
  { episode, index }: Work,
  held: ReadonlyMap<string, Held>,
  gone: ReadonlySet<number>,
  shown: ReadonlyMap<string, Correction>,
): readonly LaidCue[] {
  const cues: LaidCue[] = [];
  let next = 0;
  for (const [place, cue] of episode.cues.entries()) {
    const own = index.pieces.slice(next, next + cue.pieces.length);
    next += cue.pieces.length;
    if (!gone.has(place)) cues.push({ ...cue, place, pieces: own.map((piece) => laidPiece(piece, held, shown)) });
  }
  return cues;
}

function laidPiece(
  piece: WorkingPiece,
  held: ReadonlyMap<string, Held>,
  shown: ReadonlyMap<string, Correction>,
): LaidPiece {
  const [first, ...others] = piece.stretches;
  if (first !== undefined && first.holds.length === 0 && others.length === 0 && piece.voiceHold === null) {
    const { text } = first;
    return { ...piece.piece, voice: piece.voice, words: text, runs: [{ text, mark: null }], speaker: null };
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
  for (const stretch of piece.stretches) {
    const [mark, last] = [markOf(stretch), runs.at(-1)];
    if (mark === null && last !== undefined && last.mark === null)
      runs[runs.length - 1] = { text: last.text + stretch.text, mark };
    else runs.push({ text: stretch.text, mark });
  }
  return {
    ...piece.piece,
    voice: piece.voice,
    words: wordsOf(piece.stretches),
    runs,
    speaker: speakerOf(piece, number, named),
  };
}

function speakerOf(
  { voice, voiceHold }: WorkingPiece,
  number: (hold: Hold) => number,
  named: (hold: Hold) => Correction,
): SpeakerChange | null {
  if (voiceHold === null || voiceHold.was === voice) return null;
  return { correction: named(voiceHold), occurrence: number(voiceHold), was: voiceHold.was };
}
