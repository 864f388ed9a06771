import { markdownWords, renderMarkdown } from "../derive/markdown.ts";
import {
  ABOUT_SLUG,
  absolute,
  checksumsPath,
  EPISODES_FEED,
  episodeFilePath,
  fileOf,
  href,
  MISSING_PATH,
  RECORD_PATH,
  SEARCH_PATH,
  textPagePath,
} from "../model/address.ts";
import { SEGMENT_KINDS } from "../model/episode.ts";
import { segmentKindName } from "../model/kinds.ts";
import type { YearFacts } from "./facts.ts";
import { correctionsFeedLink, type PageContext } from "./site.ts";
import type { EpisodeSummary } from "./summary.ts";
import type { Entry, HomePage, Page, SearchPage } from "./types.ts";
import { countedInFigures } from "./words.ts";

/** How many episodes the home page lists under the latest, and how many corrections beside it. */
const EARLIER = 12;
const LATEST_CORRECTIONS = 4;

/** @param newest the newest episodes, oldest first: at least as many as the page shows. @param entries newest first. */
export function homePage(
  newest: readonly EpisodeSummary[],
  entries: readonly Entry[],
  years: readonly YearFacts[],
  context: PageContext,
): Page {
  const latest = newest.findLast(({ withdrawn }) => !withdrawn);
  const page: HomePage = {
    site: context.site,
    title: "Latest",
    description: markdownWords(context.programme.about).slice(0, 160),
    canonical: absolute(context.addresses, ""),
    structured: null,
    alternates: [
      { title: context.programme.title, href: href(context.addresses, EPISODES_FEED), type: "application/rss+xml" },
      correctionsFeedLink(context),
    ],
    latest:
      latest === undefined ? null : { ...latest.card, runs: latest.runs, plays: latest.plays, order: latest.order },
    earlier: newest
      .filter((summary) => summary !== latest)
      .slice(-EARLIER)
      .reverse()
      .map(({ card }) => card),
    latestCorrections: entries.slice(0, LATEST_CORRECTIONS),
    correctionCount: entries.length,
    hint: hintOf(years),
  };
  return { kind: "home", path: fileOf(""), page };
}

/** @param years oldest first. */
export function searchPage(years: readonly YearFacts[], index: SearchPage["index"], context: PageContext): Page {
  const all = (list: (facts: YearFacts) => readonly string[]) => [...new Set(years.flatMap(list))].sort(byName);
  const page: SearchPage = {
    site: context.site,
    title: "Search",
    description: `Search every word of ${context.programme.title}.`,
    canonical: absolute(context.addresses, SEARCH_PATH),
    structured: null,
    index: { ...index, folder: href(context.addresses, index.folder) },
    hint: hintOf(years),
    years: years.map(({ year }) => year).reverse(),
    speakers: all(({ speakers }) => speakers),
    topics: all(({ topics }) => topics),
    places: all(({ places }) => places),
    kinds: SEGMENT_KINDS.filter((kind) => kind !== "break").map((kind) => ({ kind, name: segmentKindName(kind) })),
  };
  return { kind: "search", path: fileOf(SEARCH_PATH), page };
}

const byName = (a: string, b: string): number => a.localeCompare(b, "en");

function hintOf(years: readonly YearFacts[]): string {
  const count = years.reduce((sum, { episodes }) => sum + episodes, 0);
  const episodes = countedInFigures(count, "edition", "editions");
  const since = years[0]?.year;
  const reach = since === undefined ? "No editions yet" : `${episodes} since ${since}`;
  return `${reach}. A name, a place, or a few words you half remember; exact words in “quotation marks”.`;
}

/** The programme's own account of itself, the pages written by hand, and the page for addresses that lead nowhere. */
export function textPagesOf(context: PageContext): readonly Page[] {
  const { programme, addresses, site } = context;
  const textPage = (slug: string, title: string, summary: string | null, body: string): Page => ({
    kind: "text",
    path: fileOf(textPagePath(slug)),
    page: {
      site,
      title,
      description: summary ?? `${title}: ${programme.title}.`,
      canonical: absolute(addresses, textPagePath(slug)),
      structured: null,
      heading: title,
      summary,
      html: renderMarkdown(body, addresses.base),
      here: href(addresses, textPagePath(slug)),
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
    textPage(ABOUT_SLUG, `About ${programme.title}`, null, programme.about),
    ...programme.textPages.map(({ slug, title, summary, body }) => textPage(slug, title, summary, body)),
    { kind: "missing", path: MISSING_PATH, page: missing },
  ];
}

/** How to check a copy of the site. @param newest the newest episodes, oldest first. @param years oldest first. */
export function recordPage(newest: readonly EpisodeSummary[], years: readonly YearFacts[], context: PageContext): Page {
  const { site, programme, addresses } = context;
  const list = (name: string, covers: string) => {
    const path = checksumsPath(name);
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
              title: example.card.title,
              path: episodeFilePath(example.id, "record"),
              href: href(addresses, episodeFilePath(example.id, "record")),
            },
    },
  };
}
