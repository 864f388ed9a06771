import type { CorrectionKind } from "../model/correctionKinds.ts";
import type { SegmentKind } from "../model/episode.ts";

/** What the index has a record of. */
export type SearchEntry = SearchSegment | SearchEdition | SearchText;

/** A segment as the search index takes it. Withheld and withdrawn words are never in it. */
export interface SearchSegment {
  readonly is: "segment";
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
  readonly places: readonly string[];
  /** Names of the register that stand in its words, title or summary. */
  readonly named: readonly string[];
  /** Of those who speak, by name: `reporter`. */
  readonly roles: Readonly<Record<string, string>>;
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
  /** The note in plain words; null where the page has none of its own for it. */
  readonly note: string | null;
}

/** An edition as a whole, which is found by its day, its title and its summary. */
export interface SearchEdition {
  readonly is: "edition";
  /** Of its page, root-relative, with the base path. */
  readonly address: string;
  readonly title: string;
  readonly summary: string | null;
  /** The episode's id. */
  readonly episode: string;
  /** As of a segment. */
  readonly aired: string;
  /** BCP 47. */
  readonly language: string;
}

/** A page written by hand. */
export interface SearchText {
  readonly is: "text";
  readonly address: string;
  readonly title: string;
  readonly summary: string | null;
  /** Its blocks in plain words. */
  readonly blocks: readonly string[];
  /** BCP 47. */
  readonly language: string;
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
  /** Names that it has: tags, speakers, and those of the register that stand in its words. */
  readonly names: readonly string[];
}

/** Pagefind leaves out what has no words: this is one that nobody says or types. */
export const WORDLESS = "x0nowords";
