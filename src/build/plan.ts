import { correctionsFeed } from "../feeds/corrections.ts";
import { episodesFeed, FEED_LENGTH } from "../feeds/episodes.ts";
import { type SitemapEntry, sitemap, sitemapIndex } from "../feeds/sitemap.ts";
import {
  ARCHIVE_PATH,
  absolute,
  CORRECTIONS_FEED,
  CORRECTIONS_PATH,
  EPISODES_FEED,
  fileOf,
  RECORD_PATH,
  SEARCH_INDEX,
  SEARCH_PATH,
  SITEMAPS_PATH,
  servedAt,
  sitemapPath,
  textPagePath,
  yearOfSitemap,
} from "../model/address.ts";
import type { Claim } from "../model/output.ts";
import { correctionLog, correctionPage, entriesOf } from "../pages/corrections.ts";
import type { YearFacts } from "../pages/facts.ts";
import { homePage, recordPage, searchPage, textPagesOf } from "../pages/home.ts";
import type { PageContext } from "../pages/site.ts";
import type { Page } from "../pages/types.ts";
import { monthPages } from "../pages/walkPages.ts";
import { archivePage, yearFile, yearSheet } from "../pages/year.ts";
import type { Listing } from "./episodePlan.ts";
import type { Group, Output, PlannedSite, PlannedYear } from "./groups.ts";
import { keyOf } from "./state.ts";
import { storyGroups } from "./storyPlan.ts";
import { nameGroups } from "./walkPlan.ts";

const pageOutput = (page: Page): Output => ({ path: page.path, page });

/** What belongs to no single episode, in groups. Nothing here costs more for an older archive than a line a year. */
export function planCommon(site: PlannedSite): readonly Group[] {
  const { context, years } = site;
  const facts = years.map((year) => year.facts);
  const entries = entriesOf(facts);
  const corrections = years.flatMap((year) => year.corrections);
  return [
    ...years.map((year) => yearGroup(year, site)),
    ...nameGroups(site),
    ...storyGroups(site),
    ...facts.flatMap((own) => correctionsGroup(own, context)),
    {
      name: "the log of corrections",
      key: keyOf([entries, corrections, entries.length === 0 ? facts.at(-1)?.newest : null]),
      async make() {
        const since = facts.at(-1)?.newest ?? null;
        const text = () => correctionsFeed(corrections, since, feedOf(context));
        return [...correctionLog(entries, context).map(pageOutput), { path: CORRECTIONS_FEED, text }];
      },
    },
    {
      name: "the front pages",
      key: keyOf([years.map(({ listed }) => listed), site.tiers]),
      async make() {
        const newest = newestListings(years);
        const summaries = newest.map(({ summary }) => summary);
        const index = { folder: SEARCH_INDEX, tiers: site.tiers };
        const feed = () =>
          episodesFeed(
            newest.flatMap((listing) => listing.feed ?? []),
            feedOf(context),
          );
        return [
          pageOutput(homePage(summaries, entries, facts, context)),
          pageOutput(searchPage(facts, index, context)),
          pageOutput(recordPage(summaries, facts, context)),
          { path: EPISODES_FEED, text: feed },
        ];
      },
    },
    {
      name: "pages written by hand",
      key: "",
      make: async () => textPagesOf(context).map(pageOutput),
    },
  ];
}

function yearGroup(year: PlannedYear, { context, years }: PlannedSite): Group {
  const { facts, listed } = year;
  const isNewest = year === years.at(-1);
  const counts = years.map((own) => ({ year: own.facts.year, episodes: own.facts.episodes }));
  // Of the newest year, the others know no more than that it is there.
  const others = counts.map((own, index) => (index === counts.length - 1 ? own.year : own));
  return {
    name: `the year ${facts.year}`,
    key: keyOf([listed, others, isNewest]),
    async make() {
      const listings = year.readListings();
      const page = yearSheet(
        facts.year,
        listings.map(({ summary }) => summary),
        counts,
        context,
      );
      const months = page.months.map(({ id }) => id.slice("m-".length)).reverse();
      const walks = listings.flatMap(({ walk }) => walk ?? []);
      const addresses = listings.flatMap((listing) => listing.sitemap);
      return [
        { path: yearFile(facts.year), page: { kind: "year", path: yearFile(facts.year), page } },
        ...(isNewest ? [pageOutput(archivePage(page))] : []),
        ...monthPages(months, walks, context).map(pageOutput),
        ...(addresses.length === 0 ? [] : [{ path: sitemapPath(facts.year), text: () => sitemap(addresses) }]),
      ];
    },
  };
}

/** The own pages of a year's corrections. */
function correctionsGroup({ year, entries }: YearFacts, context: PageContext): readonly Group[] {
  if (entries.length === 0) return [];
  const make = async () => entries.map((entry) => pageOutput(correctionPage(entry, context)));
  return [{ name: `the corrections of ${year}`, key: keyOf(entries), make }];
}

/** The newest listings, oldest first: as many as the longest list of the newest shows, or somewhat more. */
function newestListings(years: readonly PlannedYear[]): readonly Listing[] {
  let newest: readonly Listing[] = [];
  for (const year of years.toReversed()) {
    newest = [...year.readListings(), ...newest];
    if (newest.filter(({ feed }) => feed !== null).length >= FEED_LENGTH) break;
  }
  return newest;
}

/** The sitemaps of what belongs to no year, and of all: made last, from the paths of all common files. */
export function sitemapGroup(paths: readonly string[], { addresses }: PageContext): Group {
  const pages = paths.flatMap((path) => servedAt(path) ?? []).filter((path) => path !== ARCHIVE_PATH);
  const own = pages.map((path): SitemapEntry => ({ url: absolute(addresses, path), changed: null }));
  const names = [...paths.flatMap((path) => yearOfSitemap(path) ?? []), "site"].sort();
  return {
    name: "the sitemaps",
    key: keyOf([own, names]),
    make: async () => [
      { path: sitemapPath("site"), text: () => sitemap(own) },
      { path: SITEMAPS_PATH, text: () => sitemapIndex(names, addresses.url) },
    ],
  };
}

/** Everybody who claims a path that others could claim too: pages written by hand, years, corrections, episodes. */
export function sharedClaims(
  context: PageContext,
  years: readonly string[],
  ofEpisodes: readonly Claim[],
): readonly Claim[] {
  const fixed = ["", SEARCH_PATH, RECORD_PATH, CORRECTIONS_PATH, ARCHIVE_PATH].map(fileOf);
  const places = new Map(context.programme.textPages.map(({ slug, at }) => [fileOf(textPagePath(slug)), at]));
  const texts = textPagesOf(context).map(({ path }) => ({ path, from: places.get(path) ?? null }));
  return [...[...fixed, ...years.map(yearFile)].map((path) => ({ path, from: null })), ...texts, ...ofEpisodes];
}

const feedOf = ({ programme, addresses }: PageContext) => ({ programme, addresses });
