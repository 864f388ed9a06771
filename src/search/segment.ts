import type { CorrectionKind } from "../model/correctionKinds.ts";
import type { SegmentKind } from "../model/episode.ts";

/** A segment as the search index takes it. Withheld and withdrawn words are never in it. */
export interface SearchSegment {
  /** Of the segment's page, root-relative, with the base path. */
  readonly address: string;
  readonly title: string;
  /** Shown where nothing but the title or a filter matches. */
  readonly summary: string | null;
  readonly kind: SegmentKind;
  /** `Package`. */
  readonly kindName: string;
  /** The episode's id. */
  readonly episode: string;
  /** ISO 8601 with the offset of the programme's zone: the year is its local year. */
  readonly aired: string;
  /** Counts through the episode from 0. */
  readonly position: number;
  /** BCP 47. */
  readonly language: string;
  readonly topics: readonly string[];
  readonly paragraphs: readonly SearchParagraph[];
  /** In the order in which they should be shown: the first is named in the results. */
  readonly corrections: readonly SearchCorrection[];
  /** Null where the recording does not have the segment. */
  readonly strip: SearchStrip | null;
}

export interface SearchParagraph {
  /** The paragraph's id on the segment's page: `t=221`, `aired=321`. */
  readonly id: string;
  readonly words: string;
  readonly speaker: string | null;
}

export interface SearchCorrection {
  readonly kind: CorrectionKind;
  /** `On-air error`. */
  readonly kindName: string;
  /** `6 October 2026`. */
  readonly datedLong: string;
  /** To its note on the segment's page. */
  readonly href: string;
}

type Blocks = readonly (readonly [start: number, length: number])[];

/** The whole programme in a strip, and the segment's place in it. All in seconds of the media. */
export interface SearchStrip {
  readonly runs: number;
  readonly in: number;
  readonly out: number;
  readonly studio: Blocks;
  readonly others: Blocks;
  readonly held: Blocks;
}

/** A segment as the index reads it. */
export interface IndexPage {
  /** Of the segment's page. */
  readonly address: string;
  readonly html: string;
}
