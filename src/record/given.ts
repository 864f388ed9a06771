import type { CorrectionKind } from "../model/correctionKinds.ts";
import type {
  Correction,
  CuePiece,
  Episode,
  PageField,
  Rights,
  Segment,
  SoundDecision,
  TranscriptCue,
} from "../model/episode.ts";
import type { Place } from "../model/finding.ts";
import type { MediaSpan } from "../model/timeMap.ts";
import type { ClockMs } from "../model/units.ts";
import type { What } from "./entry.ts";

/**
 * What leaves the house. These types hold nothing that is withheld or withdrawn on the day, and no way to it: pages,
 * feeds, captions, data, search and social cards are made from nothing else. `tests/imports.test.ts` sees to that.
 */

/** A correction as the public may have it. */
export interface GivenCorrection
  extends Pick<Correction, "id" | "dated" | "kind" | "segment" | "signed" | "supersedes"> {
  readonly field: PageField | "speaker" | null;
  /** The words as published, and what they became; null where the kind has none, or they may not be given. */
  readonly said: string | null;
  readonly now: string | null;
  /** Markdown; a sentence of ours where the note repeats what may not be given. */
  readonly note: string;
  /** For findings: where it is written. */
  readonly place: Place;
}

/** A correction as it lies over the episode on the day. */
export interface GivenLaid {
  readonly correction: GivenCorrection;
  /** Where, in the episode's clock; null for a whole segment or episode. */
  readonly clock: ClockMs | null;
  /** The segment concerned; null: the whole episode. */
  readonly segment: string | null;
  readonly supersededBy: GivenCorrection | null;
}

/** A correction's hold on words. */
export interface GivenMark {
  readonly correction: GivenCorrection;
  /** Which of the places that this correction marks, from 1. */
  readonly occurrence: number;
  /** What stood there as first published, where the words were replaced. */
  readonly was: string | null;
}
export interface GivenRun {
  readonly text: string;
  readonly mark: GivenMark | null;
}
/** `words` are the runs joined. Only in drafts is a voice `proposed`. */
export interface GivenPiece extends CuePiece {
  readonly runs: readonly GivenRun[];
}
export interface GivenCue extends TranscriptCue {
  readonly pieces: readonly GivenPiece[];
}

/** A field of a page that was replaced. */
export interface GivenChange {
  readonly correction: GivenCorrection;
  readonly was: string;
  readonly now: string;
}

type SegmentField =
  | "slug"
  | "kind"
  | "title"
  | "in"
  | "out"
  | "by"
  | "topics"
  | "places"
  | "summary"
  | "cautions"
  | "story";

export interface GivenSegment extends Pick<Segment, SegmentField> {
  readonly rights: (Pick<Rights, "until" | "holder" | "show"> & { readonly sound: SoundDecision["is"] | null }) | null;
  readonly withdrawn: boolean;
  /** Its in point is a guess that nobody has accepted: given only where it is so, which is in drafts. */
  readonly proposed?: true;
  readonly changes: readonly GivenChange[];
}

/**
 * How the recording may be given on a day.
 * - `whole`: as a file, to anybody: it holds nothing that may not be given.
 * - `stepped`: by the page's own player alone, which steps over what the file still holds.
 * - `off`: not at all, until it is without what was withdrawn.
 * - `none`: there is no recording.
 */
export type Giving = "whole" | "stepped" | "off" | "none";

/** A stretch of the recording that may not be heard on the day. */
export interface Unheard {
  readonly span: MediaSpan;
  /** The segment that it is withheld or withdrawn with; null: none that the episode has now. */
  readonly segment: string | null;
}

type EpisodeField =
  | "id"
  | "title"
  | "summary"
  | "aired"
  | "duration"
  | "media"
  | "clock"
  | "cuts"
  | "notes"
  | "folder"
  | "at";

export interface GivenEpisode extends Pick<Episode, EpisodeField> {
  readonly withdrawn: boolean;
  readonly changes: readonly GivenChange[];
  /** In date order, oldest first. */
  readonly laid: readonly GivenLaid[];
}

/** One line of an episode's history. */
export interface GivenHistory {
  /** ISO 8601: when it was entered; for a correction that awaits entry, when it is dated. */
  readonly time: string;
  readonly what: What;
  readonly correction: { readonly id: string; readonly kind: CorrectionKind; readonly segment: string | null } | null;
  /** Why the text was replaced, Markdown. */
  readonly reason: string | null;
  /** The number of its entry; null: it awaits entry. */
  readonly seq: number | null;
  readonly digest: string | null;
}
