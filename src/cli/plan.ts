import { join } from "node:path";
import { captionsVtt, chaptersJson, chaptersVtt, plainText } from "../feeds/captions.ts";
import { correctionsFeed } from "../feeds/corrections.ts";
import { episodeJson, type FeedSetting } from "../feeds/data.ts";
import { episodesFeed } from "../feeds/episodes.ts";
import { type SitemapEntry, sitemaps } from "../feeds/sitemap.ts";
import {
  ARCHIVE_PATH,
  absolute,
  asPublishedPath,
  CORRECTIONS_FEED,
  correctionPath,
  EPISODES_FEED,
  episodePath,
  episodeRecordPath,
  fileOf,
} from "../model/address.ts";
import type { Place } from "../model/finding.ts";
import type { Claim } from "../model/output.ts";
import type { Archive } from "../model/programme.ts";
import { correctionPages, entriesOf } from "../pages/corrections.ts";
import { summaryOf } from "../pages/edition.ts";
import { episodePages, episodeTitle } from "../pages/episode.ts";
import { homePage, leafletPages, recordPage, searchPage } from "../pages/home.ts";
import { type AssetPaths, settingOf } from "../pages/site.ts";
import type { Link, Page } from "../pages/types.ts";
import { yearPages } from "../pages/year.ts";
import type { ShownEpisode } from "../record/shown.ts";
import type { SearchSegment } from "../search/segment.ts";
import { searchSegments } from "./searchSegments.ts";

/** Everything the site will hold, before a byte of it is written. */
export interface Plan {
  readonly pages: readonly Page[];
  readonly texts: readonly { readonly path: string; readonly text: string }[];
  /** Files copied from below the content folder. */
  readonly copies: readonly { readonly path: string; readonly file: string }[];
  readonly search: readonly SearchSegment[];
  readonly claims: readonly Claim[];
}

/** The folder of the search index. */
export const SEARCH_INDEX = "search/index/";

/** @param shown the episodes of the day, oldest first. @param assets what pages load. Pure. */
export function planSite(archive: Archive, shown: readonly ShownEpisode[], assets: AssetPaths): Plan {
  const { programme } = archive;
  const setting = settingOf(programme, assets);
  const feed = { programme, addresses: setting.addresses };
  const published = shown.filter(({ draft }) => !draft);
  const summaries = shown.map((one) => summaryOf(one, setting));
  const entries = entriesOf(summaries.filter(({ draft }) => !draft));
  const latest = shown.findLast(({ episode }) => episode.withdrawn === null) ?? null;
  const link = (one: ShownEpisode | undefined): Link | null =>
    one === undefined ? null : { title: episodeTitle(one), href: setting.addresses.base + episodePath(one.episode.id) };
  const own = shown.map((one, index) => ({
    from: one.episode.at,
    draft: one.draft,
    pages: episodePages(one, { earlier: link(shown[index - 1]), later: link(shown[index + 1]) }, setting),
    texts: episodeTexts(one, feed),
    copies: one.episode.withdrawn === null ? mediaCopies(one) : [],
  }));
  const leaflets = leafletPages(setting);
  const common = [
    homePage(summaries, latest, entries, setting),
    searchPage(summaries, SEARCH_INDEX, setting),
    recordPage(summaries, setting),
    ...correctionPages(entries, setting),
    ...yearPages(summaries, setting),
  ];
  const episodes = own.flatMap(({ pages }) => pages);
  const feeds = [
    { path: EPISODES_FEED, text: episodesFeed(published, feed) },
    { path: CORRECTIONS_FEED, text: correctionsFeed(published, feed) },
    ...sitemaps(sitemapEntries([...common, ...leaflets, ...episodes], published), setting.addresses.url),
  ];
  const poster = { path: assets.poster, file: programme.poster };
  return {
    pages: [...common, ...leaflets, ...episodes],
    texts: [...feeds, ...own.flatMap(({ texts }) => texts)],
    copies: [poster, ...own.flatMap(({ copies }) => copies)],
    search: searchSegments(own.filter(({ draft }) => !draft).flatMap(({ pages }) => pages)),
    claims: [
      ...[...common.filter(({ kind }) => kind !== "correction"), ...feeds, poster].map(({ path }) => ({
        path,
        from: null,
      })),
      ...published.flatMap(correctionClaims),
      ...leaflets.map(({ path }) => ({ path, from: leafletPlace(path, archive) })),
      ...own.flatMap(({ from, pages, texts, copies }) =>
        [...pages, ...texts, ...copies].map(({ path }) => ({ path, from })),
      ),
    ],
  };
}

/** A correction's id is an address of the whole site. */
const correctionClaims = ({ episode }: ShownEpisode): readonly Claim[] =>
  episode.laid.map(({ correction }) => ({ path: fileOf(correctionPath(correction.id)), from: correction.place }));

/** Every page that is there to be found, without what was withdrawn. */
function sitemapEntries(pages: readonly Page[], shown: readonly ShownEpisode[]): readonly SitemapEntry[] {
  const changes = new Map(shown.map(({ episode }) => [episode.id, lastChange(episode)]));
  return pages.flatMap((page) => {
    if (page.kind === "order-sheet" || page.kind === "missing" || page.path === fileOf(ARCHIVE_PATH)) return [];
    if ((page.kind === "episode" || page.kind === "segment") && page.page.draft) return [];
    if (page.kind === "episode" && page.page.withdrawn) return [];
    if (page.kind === "segment" && page.page.corrections.some(({ kind }) => kind === "withdrawal")) return [];
    const own = page.kind === "episode" || page.kind === "segment" ? page.page : null;
    const changed = own === null ? null : (changes.get(own.episodeId) ?? null);
    return [{ url: page.page.canonical, changed, part: own?.day.year ?? "site" }];
  });
}

function lastChange({ aired, laid }: ShownEpisode["episode"]): string {
  const dates = [aired, ...laid.map(({ correction }) => correction.dated)];
  return dates.reduce((last, date) => (Date.parse(date) > Date.parse(last) ? date : last));
}

function leafletPlace(path: string, { programme }: Archive): Place | null {
  return programme.leaflets.find(({ slug }) => path === `${slug}/index.html`)?.at ?? null;
}

function episodeTexts(shown: ShownEpisode, feed: FeedSetting): Plan["texts"] {
  const own = (name: string, text: string) => ({ path: episodePath(shown.episode.id) + name, text });
  const { title } = feed.programme;
  const address = absolute(feed.addresses, episodePath(shown.episode.id));
  return [
    own("transcript.vtt", captionsVtt(shown)),
    own("chapters.vtt", chaptersVtt(shown)),
    own("transcript.txt", plainText(shown, title, address)),
    own("chapters.json", chaptersJson(shown)),
    own("episode.json", episodeJson(shown, feed)),
    ...(shown.draft ? [] : [{ path: episodeRecordPath(shown.episode.id), text: shown.record }]),
    ...shown.texts.flatMap(({ seq, shown: text }) => [
      { path: asPublishedPath(shown.episode.id, seq, "transcript.vtt"), text: captionsVtt(text) },
      { path: asPublishedPath(shown.episode.id, seq, "transcript.txt"), text: plainText(text, title, address) },
    ]),
  ];
}

function mediaCopies({ episode }: ShownEpisode): Plan["copies"] {
  return episode.media
    .filter(({ src }) => !src.startsWith("https:"))
    .map(({ src }) => ({ path: episodePath(episode.id) + src, file: join(episode.folder, src) }));
}
