import { markdownWords, renderMarkdown } from "../derive/markdown.ts";
import {
  absolute,
  checksumsPath,
  EPISODES_FEED,
  episodeRecordPath,
  fileOf,
  href,
  RECORD_PATH,
  SEARCH_PATH,
} from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import { SEGMENT_KINDS } from "../model/episode.ts";
import { segmentKindName } from "../model/kinds.ts";
import type { ShownEpisode } from "../record/shown.ts";
import type { EpisodeSummary } from "./edition.ts";
import { runningOrder } from "./order.ts";
import { ABOUT_PATH, correctionsFeedLink, type Setting } from "./site.ts";
import type { Entry, HomePage, Page, SearchPage } from "./types.ts";
import { countedInFigures } from "./words.ts";

/** How many editions the home page lists under the latest, and how many corrections beside it. */
const EARLIER = 12;
const LATEST_CORRECTIONS = 4;

/** @param summaries oldest first. @param latest the newest episode that isn't withdrawn. */
export function homePage(
  summaries: readonly EpisodeSummary[],
  latest: ShownEpisode | null,
  entries: readonly Entry[],
  setting: Setting,
): Page {
  const newest = latest === null ? undefined : summaries.find(({ id }) => id === latest.episode.id);
  const page: HomePage = {
    site: setting.site,
    title: "Latest",
    description: markdownWords(setting.programme.about).slice(0, 160),
    canonical: absolute(setting.addresses, ""),
    structured: null,
    alternates: [
      { title: setting.programme.title, href: href(setting.addresses, EPISODES_FEED), type: "application/rss+xml" },
      correctionsFeedLink(setting),
    ],
    latest:
      latest === null || newest === undefined
        ? null
        : {
            ...newest.edition,
            runs: formatClock(latest.episode.duration),
            order: runningOrder(latest, setting)("elsewhere"),
          },
    earlier: summaries
      .filter((summary) => summary !== newest)
      .slice(-EARLIER)
      .reverse()
      .map(({ edition }) => edition),
    latestCorrections: entries.slice(0, LATEST_CORRECTIONS),
    correctionCount: entries.length,
    hint: hintOf(summaries),
  };
  return { kind: "home", path: fileOf(""), page };
}

export function searchPage(summaries: readonly EpisodeSummary[], index: string, setting: Setting): Page {
  const all = (list: (summary: EpisodeSummary) => readonly string[]) =>
    [...new Set(summaries.flatMap(list))].sort(byName);
  const page: SearchPage = {
    site: setting.site,
    title: "Search",
    description: `Search every word of ${setting.programme.title}.`,
    canonical: absolute(setting.addresses, SEARCH_PATH),
    structured: null,
    index: href(setting.addresses, index),
    hint: hintOf(summaries),
    years: [...new Set(summaries.map(({ aired }) => aired.slice(0, 4)))].sort().reverse(),
    speakers: all(({ speakers }) => speakers),
    topics: all(({ topics }) => topics),
    kinds: SEGMENT_KINDS.filter((kind) => kind !== "break").map((kind) => ({ kind, name: segmentKindName(kind) })),
  };
  return { kind: "search", path: fileOf(SEARCH_PATH), page };
}

const byName = (a: string, b: string): number => a.localeCompare(b, "en");

function hintOf(summaries: readonly EpisodeSummary[]): string {
  const editions = countedInFigures(summaries.length, "edition", "editions");
  const since = summaries[0]?.aired.slice(0, 4);
  const reach = since === undefined ? "No editions yet" : `${editions} since ${since}`;
  return `${reach}. A name, a place, or a few words you half remember; exact words in “quotation marks”.`;
}

/** The programme's own account of itself, the pages written by hand, and the page for addresses that lead nowhere. */
export function leafletPages(setting: Setting): readonly Page[] {
  const { programme, addresses, site } = setting;
  const leaflet = (slug: string, title: string, summary: string | null, body: string): Page => ({
    kind: "leaflet",
    path: fileOf(`${slug}/`),
    page: {
      site,
      title,
      description: summary ?? `${title}: ${programme.title}.`,
      canonical: absolute(addresses, `${slug}/`),
      structured: null,
      heading: title,
      summary,
      html: renderMarkdown(body, addresses.base),
      here: href(addresses, `${slug}/`),
    },
  });
  const missing = {
    site,
    title: "Not here",
    description: "There is no page at this address.",
    canonical: absolute(addresses, "404.html"),
    structured: null,
  };
  return [
    leaflet(ABOUT_PATH.slice(0, -1), `About ${programme.title}`, null, programme.about),
    ...programme.leaflets.map(({ slug, title, summary, body }) => leaflet(slug, title, summary, body)),
    { kind: "missing", path: "404.html", page: missing },
  ];
}

/** How to check a copy of the site. */
export function recordPage(summaries: readonly EpisodeSummary[], setting: Setting): Page {
  const { site, programme, addresses } = setting;
  const published = summaries.filter(({ draft }) => !draft);
  const years = [...new Set(published.map(({ aired }) => aired.slice(0, 4)))].sort().reverse();
  const list = (part: string, covers: string) => {
    const path = checksumsPath(part);
    return { title: path, href: href(addresses, path), covers };
  };
  const newest = published.at(-1);
  return {
    kind: "record",
    path: fileOf(RECORD_PATH),
    page: {
      site,
      title: "The record and its checksums",
      description: `How anybody can check that nothing ${programme.title} published was changed in silence.`,
      canonical: absolute(addresses, RECORD_PATH),
      structured: null,
      lists: [
        ...years.map((year) => list(year, `the editions of ${year}`)),
        list("site", "all that belongs to no single year"),
      ],
      example:
        newest === undefined
          ? null
          : {
              title: newest.edition.title,
              path: episodeRecordPath(newest.id),
              href: href(addresses, episodeRecordPath(newest.id)),
            },
    },
  };
}
