/**
 * What the templates of a station's own folder are given of the archive: version 1. Names stay as they are within a
 * version; new ones may come. All of it is made from what may be given: nothing withheld or withdrawn is in it, but that
 * it is so. Lists have the newest first. `url` is an address as Eleventy has it, from the top of the site, for its `url`
 * filter; `href` is ready for a link.
 */
export const CONTRACT = 1;

interface Addressed {
  readonly url: string;
  readonly href: string;
  readonly title: string;
}

export interface EpisodeData extends Addressed {
  /** `2026-10-05`. */
  readonly id: string;
  /** When it was aired, ISO 8601 with the offset of the programme's zone. */
  readonly date: string;
  /** `Monday 5 October 2026`. */
  readonly day: string;
  readonly year: string;
  readonly summary: string | null;
  /** Of the recording. */
  readonly seconds: number;
  /** Not published yet: only in a preview. */
  readonly draft: boolean;
  readonly withdrawn: boolean;
  readonly speakers: readonly string[];
  readonly topics: readonly string[];
  /** In the order of the recording. */
  readonly segments: readonly SegmentData[];
  /** Oldest first. */
  readonly corrections: readonly CorrectionData[];
}

export interface SegmentData extends Addressed {
  readonly slug: string;
  /** `package`, `interview`, `music`. */
  readonly kind: string;
  /** `Package`. */
  readonly kindName: string;
  /** Where it begins in the recording, in seconds, and as `12:40`; null where the recording does not have it. */
  readonly at: number | null;
  readonly clock: string | null;
  readonly seconds: number;
  readonly summary: string | null;
  readonly topics: readonly string[];
  readonly places: readonly string[];
  /** Whoever speaks in it, in order of their first words. */
  readonly speakers: readonly string[];
  /** Its words and sound are held back today. */
  readonly withheld: boolean;
  readonly withdrawn: boolean;
  /** How many corrections concern it. */
  readonly corrections: number;
  readonly episode: Addressed & { readonly id: string; readonly date: string; readonly day: string };
}

export interface CorrectionData extends Addressed {
  readonly id: string;
  readonly kind: string;
  /** `On-air error`. */
  readonly kindName: string;
  readonly date: string;
  /** `6 October 2026, 9:40`. */
  readonly day: string;
  /** The note, as HTML and without its markup. */
  readonly html: string;
  readonly plain: string;
  readonly signed: string;
  /** What it is about: a segment, or an episode. */
  readonly about: { readonly title: string; readonly href: string };
  /** It took something away. */
  readonly withdrawn: boolean;
  /** The id of the correction that took its place. */
  readonly supersededBy: string | null;
}

/** A topic, a speaker or a place. */
export interface NamedData {
  readonly name: string;
  /** For an address. */
  readonly slug: string;
  /** Newest first. Whoever asks for it asks for all years. */
  readonly segments: readonly SegmentData[];
}

export interface YearData {
  /** Newest first. */
  readonly episodes: readonly EpisodeData[];
  readonly segments: readonly SegmentData[];
  readonly corrections: readonly CorrectionData[];
}

/** What is known of a year without reading it. */
export interface YearEntry {
  readonly year: string;
  readonly url: string;
  readonly href: string;
  readonly episodes: number;
  readonly segments: number;
  readonly corrections: number;
}

/** The programme, as `programme` in every template. */
export interface ProgrammeData {
  readonly title: string;
  /** Who broadcasts it; null where programme.md doesn't say. */
  readonly station: string | null;
  /** BCP 47. */
  readonly language: string;
  readonly timezone: string;
  /** The address of the site. */
  readonly url: string;
}

/** The names of all that a list's items have: an item asked for another is a fault of the template. */
export const LISTS = ["episodes", "segments", "corrections"] as const;
export const NAMED = ["topics", "speakers", "places"] as const;
export type ListName = (typeof LISTS)[number];
export type NamedName = (typeof NAMED)[number];
