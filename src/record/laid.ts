import type {
  Correction,
  CuePart,
  Episode,
  PageCorrection,
  Segment,
  TranscriptCue,
  Withdrawal,
} from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import type { ClockMs } from "../model/units.ts";

/** A correction's hold on words. */
export interface Mark {
  readonly correction: Correction;
  /** Which of the places that this correction marks, from 1. */
  readonly occurrence: number;
  /** What stood there as first published, where the words were replaced; null where they stand. */
  readonly was: string | null;
}

/** Words under one mark, or under none. */
export interface LaidRun {
  readonly text: string;
  readonly mark: Mark | null;
}

/** `words` are the runs joined: the words as they stand on the day. */
export interface LaidPart extends CuePart {
  readonly runs: readonly LaidRun[];
}
export interface LaidCue extends TranscriptCue {
  readonly parts: readonly LaidPart[];
}

/** A field of a page that was replaced. */
export interface FieldChange {
  readonly correction: PageCorrection;
  readonly was: string;
  readonly now: string;
}

export interface LaidSegment extends Segment {
  readonly withdrawn: Withdrawal | null;
  readonly changes: readonly FieldChange[];
}

/** A correction as it lies over the episode on the day. */
export interface LaidCorrection {
  readonly correction: Correction;
  /** Where, in the episode's clock: the marked words' cue, or `at`; null for a whole segment or episode. */
  readonly clock: ClockMs | null;
  /** The segment concerned: named, or the one its words stand in; null: the whole episode. */
  readonly segment: string | null;
  /** How many places it marks. */
  readonly places: number;
  /** The later correction that took its place. */
  readonly supersededBy: Correction | null;
}

/** An episode with its corrections of a day laid over it. The words and fields are those of the day. */
export interface LaidEpisode extends Episode {
  readonly segments: readonly LaidSegment[];
  /** Without the cues of what is withdrawn. */
  readonly cues: readonly LaidCue[];
  readonly withdrawn: Withdrawal | null;
  readonly changes: readonly FieldChange[];
  /** In date order, oldest first; only those of the day. */
  readonly laid: readonly LaidCorrection[];
  /** Corrections that can't be laid: their words are not there, or their fields disagree. */
  readonly findings: readonly Finding[];
}
