import type { SegmentKind } from "./episode.ts";
import type { Place } from "./finding.ts";

/** Words that a raw transcript times together. Times in milliseconds of its own clock; null where it gives none. */
export interface RawBlock {
  readonly start: number | null;
  readonly end: number | null;
  readonly voice: string | null;
  /** Words between white space; never empty. */
  readonly text: string;
  /** The same in lines, as a caption shows them: given only where there are several. */
  readonly lines?: string;
  readonly at: Place;
}

const SOUND = /^[[(♪]\s*([^\])]*?)\s*[\])♪]$/u;

/** What words of a raw transcript say is heard and not said, without its brackets: `Music` of `[Music]`; null: it is said. */
export function soundOf(words: string): string | null {
  const sound = SOUND.exec(words)?.[1] ?? null;
  return sound === "" ? words.replaceAll(" ", "").slice(0, 1) : sound;
}

/** One word as it is written, punctuation and all, with when it was said. Milliseconds, `end` >= `start`. */
export interface SpokenWord {
  readonly text: string;
  readonly start: number;
  readonly end: number;
  readonly voice: string | null;
  /** Nobody has accepted the voice yet: given only where it is so. */
  readonly proposed?: true;
}

/** What a raw transcript had that has no place among the words: it is kept as a note. */
export interface Unplaced {
  readonly text: string;
  readonly at: Place;
}

/** A programme's running order, as planned. Milliseconds. */
export interface PlannedSegment {
  /** Unique among its segments. */
  readonly slug: string;
  readonly title: string;
  readonly kind: SegmentKind;
  readonly by: readonly string[];
  readonly planned: number | null;
  /** Where the plan puts its in point, from the beginning of the programme. */
  readonly in: number | null;
  readonly at: Place;
}
