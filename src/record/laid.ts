import type {
  Correction,
  CuePiece,
  Episode,
  PageCorrection,
  Segment,
  TranscriptCue,
  Withdrawal,
} from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import type { ClockMs } from "../model/units.ts";
import type { Bounds, WithdrawnStretch } from "./stretch.ts";

/** A correction's hold on words. */
export interface Mark {
  readonly correction: Correction;
  /** Which of the places that this correction marks, from 1. */
  readonly occurrence: number;
  /** What stood there as first published, where the words were replaced; null where they stand. */
  readonly was: string | null;
  /** Earlier corrections of the same words, newest first. */
  readonly under: readonly Correction[];
}

/** A speaker's name that was replaced. */
export interface SpeakerChange {
  readonly correction: Correction;
  /** Counts with the marks of the same correction, from 1. */
  readonly occurrence: number;
  /** Who was named there as first published; null: nobody. */
  readonly was: string | null;
}

/** Words under one mark, or under none. */
export interface LaidRun {
  readonly text: string;
  readonly mark: Mark | null;
}

/**
 * `words` are the runs joined: the words as they stand on the day. They may be empty, where a correction moved all of
 * them into the cue before. The words as first published are the runs' `mark.was`, or `text` where that is null, joined.
 */
export interface LaidPiece extends CuePiece {
  readonly runs: readonly LaidRun[];
  /** Given where `voice` is not the one first published. */
  readonly speaker: SpeakerChange | null;
}
export interface LaidCue extends TranscriptCue {
  readonly pieces: readonly LaidPiece[];
  /** Its place among the episode's cues as first published, from 0. */
  readonly place: number;
}

/** A field of a page that was replaced: one step, from what was published until then. */
export interface FieldChange {
  readonly correction: PageCorrection;
  readonly was: string;
  readonly now: string;
}

/** Withdrawn: nothing of it is left but its address, kind and times; its title is `WITHDRAWN_TITLE`. */
export interface LaidSegment extends Segment {
  readonly withdrawn: Withdrawal | null;
  /** Every stretch that it stood on until the day, as first published first: corrections move its points. */
  readonly stood: readonly Bounds[];
  readonly changes: readonly FieldChange[];
}

/** A correction as it lies over the episode on the day. */
export interface LaidCorrection {
  readonly correction: Correction;
  /** Where, in the episode's clock: the marked words' cue, or `at`; null for a whole segment or episode. */
  readonly clock: ClockMs | null;
  /** The segment concerned: named, or the one its words stand in; null: the whole episode. */
  readonly segment: string | null;
  /** The segments whose words it marks, in order; else the one concerned, if any. */
  readonly segments: readonly string[];
  /** How many places it marks, as the marks in the text are counted: 0 where a later correction covers them all. */
  readonly places: number;
  /** The cues that it holds on to, by their place among the episode's as first published. */
  readonly touches: readonly number[];
  /** It speaks only of what was withdrawn: its words and its note are gone from here too. */
  readonly hidden: boolean;
  /** Its note repeats what was withdrawn, or it is hidden: its note is gone from here. */
  readonly noteHidden: boolean;
  /** The later correction that took its place. */
  readonly supersededBy: Correction | null;
}

/** An episode with its corrections of a day laid over it. The words and fields are those of the day. */
export interface LaidEpisode extends Episode {
  readonly segments: readonly LaidSegment[];
  /** Without the cues of what is withdrawn. Withdrawn whole, it has no words, notes or media either. */
  readonly cues: readonly LaidCue[];
  readonly withdrawn: Withdrawal | null;
  /** The stretches that are withdrawn, wherever its segments stand on the day. */
  readonly gone: readonly WithdrawnStretch[];
  /** Cues that share a replaced passage, by place: what holds one of them back holds all. */
  readonly passages: readonly (readonly number[])[];
  readonly changes: readonly FieldChange[];
  /** In date order, oldest first; only those of the day. `corrections` holds the same. */
  readonly laid: readonly LaidCorrection[];
  /** Corrections that can't be laid: their words are not there, or their fields disagree. */
  readonly findings: readonly Finding[];
}

/** What stands in the place of a withdrawn title. */
export const WITHDRAWN_TITLE = "Withdrawn";
