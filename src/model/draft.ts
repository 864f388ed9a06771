import type { Cut, EdgeState, SegmentKind } from "./episode.ts";
import type { Clock } from "./units.ts";

/** A segment as it is proposed to the producer. Milliseconds of the episode's clock. */
export interface DraftSegment {
  readonly slug: string;
  readonly kind: SegmentKind;
  readonly title: string;
  readonly in: number;
  readonly planned: number | null;
  readonly by: readonly string[];
  /** How the in point was found; null where it was given. */
  readonly edgeState: EdgeState | null;
}

/** An episode before anybody has worked on it. */
export interface EpisodeDraft {
  readonly title: string;
  /** As `aired` in episode.md. */
  readonly aired: string;
  /** Of the media file, in milliseconds. */
  readonly duration: number;
  readonly media: readonly { readonly src: string; readonly type: string; readonly bytes: number | null }[];
  readonly clock: Clock;
  /** The times of its words are guesses: the raw transcript has one time for many words. */
  readonly timesGuessed: boolean;
  /** `proposed`: assumed, and not measured by anybody. */
  readonly cuts: readonly (Omit<Cut, "at"> & { readonly proposed?: true })[];
  readonly segments: readonly DraftSegment[];
  /** What was assumed, and what had no place: told beside the segments. */
  readonly remarks: readonly string[];
}
