import { correctionKind, type Effect, type KindThat } from "./correctionKinds.ts";
import type { Place } from "./finding.ts";
import type { MisheardName } from "./misheardNames.ts";
import type { Clock, ClockMs, MediaMs } from "./units.ts";

export const SEGMENT_KINDS = [
  "headlines",
  "package",
  "reader",
  "two-way",
  "interview",
  "agency",
  "round-up",
  "break",
  "sport",
  "weather",
  "close",
] as const;
export type SegmentKind = (typeof SEGMENT_KINDS)[number];

/** The one segment of an episode that is not divided: its slug becomes an address. */
export const WHOLE_PROGRAMME = { slug: "programme", kind: "round-up" } as const satisfies {
  readonly slug: string;
  readonly kind: SegmentKind;
};

/**
 * How an in point was found: on the edge of a cut that somebody measured; where the words speak clearly for it; or where
 * they would nearly as well have it elsewhere.
 */
export const EDGE_STATES = ["at a cut", "clear", "doubtful"] as const;
export type EdgeState = (typeof EDGE_STATES)[number];

/** An in point that a program proposed and nobody has accepted. `edgeState` is null where the file doesn't say. */
export interface Proposal {
  readonly edgeState: EdgeState | null;
}

export const CAUTIONS = ["court", "self-harm", "minors", "graphic"] as const;
export type Caution = (typeof CAUTIONS)[number];

/** What a withheld segment may show: its words without its sound, or neither. */
export const SHOWN = ["transcript", "nothing"] as const;
export type Shown = (typeof SHOWN)[number];

/** What `rights.sound` may say. */
export const SOUND_WORDS = ["silenced", "in-file"] as const;

/**
 * What was decided about sound that may not be given: the recording is silent there, or still holds it, which somebody
 * accepted for a reason.
 */
export type SoundDecision = { readonly is: "silenced" } | { readonly is: "in-file"; readonly because: string };

export interface Rights {
  readonly withheld: boolean;
  /** The first local date (`2027-01-01`) on which it may be shown; null: not foreseen. */
  readonly until: string | null;
  readonly holder: string | null;
  readonly show: Shown;
  /** Left out: nothing was decided, and the recording must not have it. */
  readonly sound?: SoundDecision;
}

/** Instead of a story's name: the segment belongs to none. */
export const NO_STORY = "none";

export interface Segment {
  readonly slug: string;
  readonly kind: SegmentKind;
  readonly title: string;
  readonly in: ClockMs;
  /** Given, or the next in point, or the end of the programme. */
  readonly out: ClockMs;
  readonly by: readonly string[];
  readonly topics: readonly string[];
  readonly places: readonly string[];
  readonly summary: string | null;
  readonly rights: Rights | null;
  readonly cautions: readonly Caution[];
  /** Planned duration from the running order, where it is known. */
  readonly planned: ClockMs | null;
  /** The story that it was put into, by name, or `NO_STORY`; left out: it is looked for. */
  readonly story?: string;
  /** Somebody has listened to its first and last words: its in and out points are no guesses. */
  readonly edgesHeard?: true;
  /** Given where the in point is a guess that nobody has accepted. */
  readonly proposed?: Proposal;
  readonly at: Place;
}

/** A stretch of aired time that the media file does not have. */
export interface Cut {
  readonly from: ClockMs;
  readonly to: ClockMs;
  readonly why: string;
  /** It is a guess that nobody has accepted: given only where it is so. */
  readonly proposed?: true;
  readonly at: Place;
}

export interface MediaSource {
  /** An `https:` address, or a file name beside episode.md. */
  readonly src: string;
  readonly type: string;
  readonly bytes: number | null;
}

/** Words of one voice, one language, in a cue. */
export interface CuePiece {
  /** The `<v Name>` annotation, or null where the cue names nobody. */
  readonly voice: string | null;
  /** The voice is a guess that nobody has accepted (`<v.proposed Name>`): given only where it is so. */
  readonly proposed?: true;
  /** BCP 47, from `<lang>`; null: the programme's language. */
  readonly language: string | null;
  /** Plain text, references decoded, tags gone; line breaks as `\n`. */
  readonly words: string;
}

export interface TranscriptCue {
  /** The names that the recording says in it where other words stand: given only where there are any. */
  readonly heard?: readonly MisheardName[];
  readonly id: string;
  readonly start: ClockMs;
  readonly end: ClockMs;
  readonly pieces: readonly CuePiece[];
  /** The settings as written after the end time (`align:start`), or "". */
  readonly settings: string;
  readonly at: Place;
}

/** A finding of the checks that was looked at and let stand. */
export interface Acceptance {
  /** The rule's name. */
  readonly rule: string;
  /** The moment of the finding, as the report shows it; null: any. */
  readonly at: ClockMs | null;
  /** The words that the finding is about; null: any. */
  readonly words: string | null;
  /** A local date. */
  readonly dated: string;
  readonly why: string;
  readonly by: string;
  readonly place: Place;
}

export interface Episode {
  /** `2026-10-05`, or `2026-10-05-late`. */
  readonly id: string;
  readonly title: string;
  readonly summary: string | null;
  /** ISO 8601 with the offset of the programme's zone. */
  readonly aired: string;
  readonly duration: MediaMs;
  readonly media: readonly MediaSource[];
  readonly clock: Clock;
  /** Sorted, disjoint (they may touch). */
  readonly cuts: readonly Cut[];
  /** In order of their in points. */
  readonly segments: readonly Segment[];
  readonly cues: readonly TranscriptCue[];
  /** Programme notes, Markdown. */
  readonly notes: string;
  readonly corrections: readonly Correction[];
  readonly accepted?: readonly Acceptance[];
  /** The times of its captions are guesses: the raw transcript had one time for many words. */
  readonly timesGuessed?: true;
  /** The folder, relative to the content folder. */
  readonly folder: string;
  readonly at: Place;
}

export const PAGE_FIELDS = ["title", "summary", "by", "in", "out"] as const;
export type PageField = (typeof PAGE_FIELDS)[number];

interface CorrectionBase {
  /** `2026-10-06-1`: the file's name. */
  readonly id: string;
  /** ISO 8601 with offset. */
  readonly dated: string;
  /** A slug; null: the whole episode. */
  readonly segment: string | null;
  readonly at: ClockMs | null;
  readonly signed: string;
  readonly supersedes: string | null;
  /** What the public reads, Markdown. */
  readonly note: string;
  readonly place: Place;
}
/** The words stand; a note stands beside them. */
export interface NoteCorrection extends CorrectionBase {
  readonly kind: KindThat<"adds-note">;
  readonly said: string | null;
  readonly every: boolean;
}
/** We wrote down the wrong words, or the wrong speaker: they are replaced. */
export interface TranscriptCorrection extends CorrectionBase {
  readonly kind: KindThat<"replaces-words">;
  /** Given: `said` and `now` name the speaker of the turn at `at`; an empty name is nobody's. */
  readonly field?: "speaker";
  readonly said: string;
  readonly now: string;
  readonly every: boolean;
}
/** A title, summary, credit, in or out point was wrong. */
export interface PageCorrection extends CorrectionBase {
  readonly kind: KindThat<"replaces-field">;
  readonly field: PageField;
  readonly said: string;
  readonly now: string;
}
/** A segment, or the episode, is taken away. */
export interface Withdrawal extends CorrectionBase {
  readonly kind: KindThat<"takes-away">;
}
export type Correction = NoteCorrection | TranscriptCorrection | PageCorrection | Withdrawal;

/** What is to be done with a correction by what it does: the compiler finds the effect that is left out. */
type Ways<T> = { readonly [E in Effect]: (correction: Extract<Correction, { kind: KindThat<E> }>) => T };
export function byEffect<T>(correction: Correction, ways: Ways<T>): T {
  // The table says that this way takes this very correction.
  const way = ways[correctionKind(correction.kind).does] as (own: Correction) => T;
  return way(correction);
}
