import { type Addresses, correctionPath, episodePath, href, segmentPath, yearPath } from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import { segmentKindName } from "../model/kinds.ts";
import type { CorrectionData, EpisodeData, SegmentData, YearData, YearEntry } from "../station/contract.ts";
import type { Listing } from "./episodePlan.ts";

/** What a station's templates are given of an episode. */
export function episodeData({ summary, segments }: Listing, addresses: Addresses): EpisodeData {
  const { id, aired, draft, withdrawn, speakers, topics } = summary;
  const at = (path: string) => ({ url: `/${path}`, href: href(addresses, path) });
  const own = { id, ...at(episodePath(id)), title: summary.card.title, date: aired, day: summary.card.day.long };
  return {
    ...own,
    year: id.slice(0, 4),
    summary: summary.card.summary,
    seconds: summary.card.strip.runs,
    draft,
    withdrawn,
    speakers,
    topics,
    segments: segments.map((segment): SegmentData => {
      const { at: start, kind } = segment;
      return {
        ...segment,
        ...at(segmentPath(id, segment.slug)),
        kindName: segmentKindName(kind),
        at: start,
        clock: start === null ? null : formatClock(start * 1000),
        episode: own,
      };
    }),
    corrections: summary.entries.map((entry): CorrectionData => {
      const { ref, kind, kindName, dated, datedLong, html, plain, signed, about, gone, supersededBy } = entry;
      return {
        id: ref,
        ...at(correctionPath(ref)),
        title: `${kindName}: ${about.title}`,
        kind,
        kindName,
        date: dated,
        day: datedLong,
        html,
        plain,
        signed,
        about,
        withdrawn: gone,
        supersededBy: supersededBy?.title ?? null,
      };
    }),
  };
}

/** @param listings oldest first. Drafts have no corrections in the log, and none here. */
export function yearData(listings: readonly Listing[], addresses: Addresses): YearData {
  const episodes = listings.toReversed().map((listing) => episodeData(listing, addresses));
  return {
    episodes,
    segments: episodes.flatMap(({ segments }) => segments),
    corrections: episodes
      .flatMap(({ draft, corrections }) => (draft ? [] : corrections))
      .sort((a, b) => Date.parse(b.date) - Date.parse(a.date) || (a.id < b.id ? 1 : -1)),
  };
}

/** What is known of a year without reading its listings. */
export interface YearCounts {
  readonly episodes: number;
  readonly segments: number;
  readonly corrections: number;
  readonly places: readonly string[];
}

export function countsOf(listings: readonly Listing[]): YearCounts {
  const published = listings.filter(({ summary }) => !summary.draft);
  return {
    episodes: listings.length,
    segments: listings.reduce((sum, { segments }) => sum + segments.length, 0),
    corrections: published.reduce((sum, { summary }) => sum + summary.entries.length, 0),
    places: [...new Set(listings.flatMap(({ segments }) => segments.flatMap(({ places }) => places)))].sort(),
  };
}

export const yearEntry = (
  year: string,
  { episodes, segments, corrections }: YearCounts,
  addresses: Addresses,
): YearEntry => ({
  year,
  url: `/${yearPath(year)}`,
  href: href(addresses, yearPath(year)),
  episodes,
  segments,
  corrections,
});
