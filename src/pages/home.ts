import { markdownWords, renderMarkdown } from "../derive/markdown.ts";
import {
  ABOUT_SLUG,
  absolute,
  checksumsPath,
  EPISODES_FEED,
  episodeFilePath,
  fileOf,
  href,
  leafletPath,
  MISSING_PATH,
  RECORD_PATH,
  SEARCH_PATH,
} from "../model/address.ts";
import { SEGMENT_KINDS } from "../model/episode.ts";
import { segmentKindName } from "../model/kinds.ts";
import type { EpisodeSummary } from "./edition.ts";
import type { YearFacts } from "./facts.ts";
import { correctionsFeedLink, type Setting } from "./site.ts";
import type { Entry, HomePage, Page, SearchPage } from "./types.ts";
import { countedInFigures } from "./words.ts";

/** How many editions the home page lists under the latest, and how many corrections beside it. */
const EARLIER = 12;
const LATEST_CORRECTIONS = 4;

/** @param newest the newest editions, oldest first: at least as many as the page shows. @param entries newest first. */
export function homePage(
  newest: readonly EpisodeSummary[],
  entries: readonly Entry[],
  years: readonly YearFacts[],
  setting: Setting,
): Page {
  const latest = newest.findLast(({ withdrawn }) => !withdrawn);
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
    latest: latest === undefined ? null : { ...latest.edition, runs: latest.runs, order: latest.order },
    earlier: newest
      .filter((summary) => summary !== latest)
      .slice(-EARLIER)
      .reverse()
      .map(({ edition }) => edition),
    latestCorrections: entries.slice(0, LATEST_CORRECTIONS),
    correctionCount: entries.length,
    hint: hintOf(years),
  };
  return { kind: "home", path: fileOf(""), page };
}

/** @param years oldest first. */
export function searchPage(years: readonly YearFacts[], index: SearchPage["index"], setting: Setting): Page {
  const all = (list: (facts: YearFacts) => readonly string[]) => [...new Set(years.flatMap(list))].sort(byName);
  const page: SearchPage = {
    site: setting.site,
    title: "Search",
    description: `Search every word of ${setting.programme.title}.`,
    canonical: absolute(setting.addresses, SEARCH_PATH),
    structured: null,
    index: { ...index, folder: href(setting.addresses, index.folder) },
    hint: hintOf(years),
    years: years.map(({ year }) => year).reverse(),
    speakers: all(({ speakers }) => speakers),
    topics: all(({ topics }) => topics),
    kinds: SEGMENT_KINDS.filter((kind) => kind !== "break").map((kind) => ({ kind, name: segmentKindName(kind) })),
  };
  return { kind: "search", path: fileOf(SEARCH_PATH), page };
}

const byName = (a: string, b: string): number => a.localeCompare(b, "en");

function hintOf(years: readonly YearFacts[]): string {
  const count = years.reduce((sum, { editions }) => sum + editions, 0);
  const editions = countedInFigures(count, "edition", "editions");
  const since = years[0]?.year;
  const reach = since === undefined ? "No editions yet" : `${editions} since ${since}`;
  return `${reach}. A name, a place, or a few words you half remember; exact words in “quotation marks”.`;
}

/** The programme's own account of itself, the pages written by hand, and the page for addresses that lead nowhere. */
export function leafletPages(setting: Setting): readonly Page[] {
  const { programme, addresses, site } = setting;
  const leaflet = (slug: string, title: string, summary: string | null, body: string): Page => ({
    kind: "leaflet",
    path: fileOf(leafletPath(slug)),
    page: {
      site,
      title,
      description: summary ?? `${title}: ${programme.title}.`,
      canonical: absolute(addresses, leafletPath(slug)),
      structured: null,
      heading: title,
      summary,
      html: renderMarkdown(body, addresses.base),
      here: href(addresses, leafletPath(slug)),
    },
  });
  const missing = {
    site,
    title: "Not here",
    description: "There is no page at this address.",
    canonical: absolute(addresses, MISSING_PATH),
    structured: null,
  };
  return [
    leaflet(ABOUT_SLUG, `About ${programme.title}`, null, programme.about),
    ...programme.leaflets.map(({ slug, title, summary, body }) => leaflet(slug, title, summary, body)),
    { kind: "missing", path: MISSING_PATH, page: missing },
  ];
}

/** How to check a copy of the site. @param newest the newest editions, oldest first. @param years oldest first. */
export function recordPage(newest: readonly EpisodeSummary[], years: readonly YearFacts[], setting: Setting): Page {
  const { site, programme, addresses } = setting;
  const list = (part: string, covers: string) => {
    const path = checksumsPath(part);
    return { title: path, href: href(addresses, path), covers };
  };
  const example = newest.findLast(({ draft }) => !draft);
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
        ...years.toReversed().map(({ year }) => list(year, `the editions of ${year}`)),
        list("site", "all that belongs to no single year"),
      ],
      example:
        example === undefined
          ? null
          : {
              title: example.edition.title,
              path: episodeFilePath(example.id, "record"),
              href: href(addresses, episodeFilePath(example.id, "record")),
            },
    },
  };
}
