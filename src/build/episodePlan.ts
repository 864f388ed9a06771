import { join } from "node:path";
import { captionsVtt, chaptersJson, chaptersVtt, plainText } from "../feeds/captions.ts";
import { type FeedCorrection, feedCorrections } from "../feeds/corrections.ts";
import { episodeJson, type FeedContext } from "../feeds/data.ts";
import { type FeedItem, feedItem } from "../feeds/episodes.ts";
import type { SitemapEntry } from "../feeds/sitemap.ts";
import {
  absolute,
  asPublishedPath,
  correctionPath,
  type EPISODE_FILES,
  episodeFilePath,
  episodePath,
  fileOf,
  mediaPath,
  mergedRecordPath,
} from "../model/address.ts";
import { does } from "../model/correctionKinds.ts";
import type { Claim } from "../model/output.ts";
import { episodePages, type Neighbours } from "../pages/episode.ts";
import { type ListedSegment, listedSegments } from "../pages/listedSegment.ts";
import type { PageContext } from "../pages/site.ts";
import { type EpisodeSummary, summaryOf } from "../pages/summary.ts";
import type { EpisodeStories, Page } from "../pages/types.ts";
import type { WalkEpisode } from "../pages/walk.ts";
import { walkOf } from "../pages/walkEpisode.ts";
import type { ShownEpisode, ShownText } from "../record/shown.ts";
import type { SearchEntry } from "../search/segment.ts";
import { searchSegments } from "./searchSegments.ts";

export interface Text {
  readonly path: string;
  readonly text: string;
}

/** A file copied from below the content folder. */
export interface Copy {
  readonly path: string;
  readonly file: string;
}

/** What lists, feeds and sitemaps need of an episode: little, and kept between builds. */
export interface Listing {
  readonly summary: EpisodeSummary;
  readonly feed: FeedItem | null;
  readonly corrections: readonly FeedCorrection[];
  readonly sitemap: readonly SitemapEntry[];
  readonly segments: readonly ListedSegment[];
  /** For the pages of months and names; null: it is in none. */
  readonly walk: WalkEpisode | null;
}

/** All that the site holds of one episode. */
export interface EpisodePlan {
  readonly pages: readonly Page[];
  readonly texts: readonly Text[];
  readonly copies: readonly Copy[];
  readonly search: readonly SearchEntry[];
  /** Its own paths. */
  readonly claims: readonly Claim[];
  /** Paths of its that stand among those of others. */
  readonly shared: readonly Claim[];
  readonly listing: Listing;
}

/** Pure. Nothing in it depends on another episode than the neighbours and the stories of its segments, and these on pages alone. */
export function planEpisode(
  shown: ShownEpisode,
  neighbours: Neighbours,
  context: PageContext,
  stories: EpisodeStories = {},
): EpisodePlan {
  const feed = { programme: context.programme, addresses: context.addresses };
  const pages = episodePages(shown, neighbours, context, stories);
  const texts = episodeTexts(shown, feed);
  const copies = !shown.episode.withdrawn ? mediaCopies(shown) : [];
  const summary = summaryOf(shown, context);
  const claims = [...pages, ...texts, ...copies].map(({ path }) => ({ path, from: shown.episode.at }));
  return {
    pages,
    texts,
    copies,
    claims,
    shared: [...claims.slice(0, 1), ...correctionClaims(shown)],
    search: shown.draft ? [] : searchSegments(pages, summary.card.strip, context),
    listing: {
      summary,
      feed: feedItem(shown, feed),
      corrections: feedCorrections(shown, feed),
      sitemap: sitemapEntries(pages, shown),
      segments: listedSegments(shown),
      walk: walkOf(shown),
    },
  };
}

/** A correction's id is an address of the whole site. */
const correctionClaims = ({ episode, draft }: ShownEpisode): readonly Claim[] =>
  draft
    ? []
    : episode.laid.map(({ correction }) => ({ path: fileOf(correctionPath(correction.id)), from: correction.place }));

/** Every page that is there to be found, without what was withdrawn. */
function sitemapEntries(pages: readonly Page[], shown: ShownEpisode): readonly SitemapEntry[] {
  if (shown.draft) return [];
  const changed = lastChange(shown.episode);
  return pages.flatMap((page) => {
    if (page.kind === "episode" && !page.page.withdrawn) return [{ url: page.page.canonical, changed }];
    const gone = page.kind === "segment" && page.page.corrections.some((line) => does(line, "takes-away"));
    return page.kind === "segment" && !gone ? [{ url: page.page.canonical, changed }] : [];
  });
}

function lastChange({ aired, laid }: ShownEpisode["episode"]): string {
  const dates = [aired, ...laid.map(({ correction }) => correction.dated)];
  return dates.reduce((last, date) => (Date.parse(date) > Date.parse(last) ? date : last));
}

function episodeTexts(shown: ShownEpisode, feed: FeedContext): readonly Text[] {
  const own = (file: keyof typeof EPISODE_FILES, text: string) => ({
    path: episodeFilePath(shown.episode.id, file),
    text,
  });
  const { title } = feed.programme;
  const address = absolute(feed.addresses, episodePath(shown.episode.id));
  const wordsOf = (text: ShownText) => ({ captions: captionsVtt(text), plain: plainText(text, title, address) });
  const inForce = wordsOf(shown);
  return [
    own("captions", inForce.captions),
    own("chapters", chaptersVtt(shown)),
    own("plainText", inForce.plain),
    own("chaptersData", chaptersJson(shown)),
    own("data", episodeJson(shown, feed)),
    ...(shown.draft ? [] : [own("record", shown.record)]),
    ...shown.merged.map(({ name, text }) => ({ path: mergedRecordPath(shown.episode.id, name), text })),
    ...shown.texts.flatMap(({ seq, shown: text }) => {
      const { captions, plain } = text.episode === shown.episode ? inForce : wordsOf(text);
      return [
        { path: asPublishedPath(shown.episode.id, seq, "captions"), text: captions },
        { path: asPublishedPath(shown.episode.id, seq, "plainText"), text: plain },
      ];
    }),
  ];
}

function mediaCopies({ episode }: ShownEpisode): readonly Copy[] {
  return episode.media
    .filter(({ src }) => !src.startsWith("https:"))
    .map(({ src }) => ({ path: mediaPath(episode.id, src), file: join(episode.folder, src) }));
}
