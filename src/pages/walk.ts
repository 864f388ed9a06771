import type { CorrectionKind } from "../model/correctionKinds.ts";
import type { SegmentKind } from "../model/episode.ts";
import type { NameList } from "../model/nameLists.ts";

/** A name with the last part of its page's address. */
export interface Named {
  readonly name: string;
  readonly slug: string;
}

/** A correction as pages of months and names tell it: when, of which kind, and where it stands. Never its words. */
export interface WalkCorrection {
  readonly id: string;
  readonly kind: CorrectionKind;
  readonly dated: string;
}

/** A segment as the pages of months and names have it: what they show, and which of them have it. */
export interface WalkSegment {
  readonly slug: string;
  readonly title: string;
  readonly kind: SegmentKind;
  /** Milliseconds: in the recording, or on air where the recording lacks it. */
  readonly runs: number;
  readonly names: Readonly<Record<NameList, readonly Named[]>>;
  /** The story that an editor put it into; null: nobody did. */
  readonly story: Named | null;
  /** Stems of the words of its title and summary by which it may be found to belong to a story. */
  readonly telling: readonly string[];
  readonly corrections: readonly WalkCorrection[];
}

/** An episode as those pages have it. */
export interface WalkEpisode {
  readonly id: string;
  /** ISO 8601 with offset. */
  readonly aired: string;
  readonly title: string;
  readonly draft: boolean;
  readonly segments: readonly WalkSegment[];
  /** Those on the whole episode. */
  readonly corrections: readonly WalkCorrection[];
}

/** The part of some episodes that a name is in: their segments with it. @param slug the name's. */
export function partWith(episodes: readonly WalkEpisode[], list: NameList, slug: string): readonly WalkEpisode[] {
  return episodes.flatMap((episode) => {
    const segments = episode.segments.filter(({ names }) => names[list].some((own) => own.slug === slug));
    return segments.length === 0 ? [] : [{ ...episode, segments }];
  });
}

/** Every name of a list in some episodes, by slug, with the part that it is in. */
export function partsByName(
  episodes: readonly WalkEpisode[],
  list: NameList,
): ReadonlyMap<string, readonly WalkEpisode[]> {
  const parts = new Map<string, WalkEpisode[]>();
  for (const episode of episodes) {
    for (const slug of new Set(episode.segments.flatMap(({ names }) => names[list].map((own) => own.slug)))) {
      const own = parts.get(slug) ?? [];
      own.push(...partWith([episode], list, slug));
      parts.set(slug, own);
    }
  }
  return parts;
}

/** What is told of a story in the list of all, of one of its years. */
export interface StoryPart extends Counts {
  /** Digest of the year's part of the story. */
  readonly digest: string;
  /** As an editor called it there last; null: nobody did. */
  readonly named: string | null;
  /** Its segments there, in order. */
  readonly there: readonly StoryMember[];
}

/** A segment of a story. @property aired when its episode was on air: ISO 8601 with offset. */
export interface StoryMember {
  readonly episode: string;
  readonly slug: string;
  readonly title: string;
  readonly aired: string;
}

/** How many a name has. */
export interface Counts {
  readonly segments: number;
  readonly editions: number;
}

export const countsIn = (part: readonly WalkEpisode[]): Counts => ({
  segments: part.reduce((sum, { segments }) => sum + segments.length, 0),
  editions: part.length,
});

/** How many editions a name's page shows at most, unless one month has more. Common practice, no source. */
export const PAGE_EDITIONS = 60;

/** What a name has in a month or in a year. */
export interface NameSpan extends Counts {
  /** `2026-10`, or `2026`. */
  readonly period: string;
  /** As it is written there last. */
  readonly name: string;
  /** Another one where an episode that it is in has changed. */
  readonly digest: string;
}

/** What is known of a name in a year without reading the year's episodes. */
export interface YearName extends NameSpan {
  /** Its months, oldest first, where the year has more than a page can show; none otherwise. */
  readonly months: readonly NameSpan[];
}

/** The names of a year, by list and slug. */
export type YearNames = Readonly<Record<NameList, Readonly<Record<string, YearName>>>>;
