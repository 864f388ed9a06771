import type { IndexCard } from "../search/card.ts";
import type { Query } from "./query.ts";
import { termsOf } from "./query.ts";

/** The part of Pagefind's browser interface that is used here, as version 1.6 has it. */
interface Pagefind {
  createInstance(options: { readonly basePath: string; readonly baseUrl: string }): Searcher;
}
interface Searcher {
  search(term: string | null, options: Partial<SearchOptions>): Promise<Answer>;
}
interface SearchOptions {
  readonly filters: Filters;
  readonly sort?: { readonly aired: "desc" };
}
type Filters = Readonly<Record<string, { readonly any: readonly string[] }>>;
interface Answer {
  readonly results: readonly Result[];
  /** How many there would be of each value without any filter. */
  readonly totalFilters: Readonly<Record<string, Readonly<Record<string, number>>>>;
}
interface Result {
  readonly id: string;
  readonly score: number;
  /** Places of the words found. */
  readonly words: readonly number[];
  data(): Promise<Fragment>;
}
interface Fragment {
  readonly url: string;
  readonly content: string;
  /** With a zero-width space between words, in languages that write none. */
  readonly raw_content?: string;
  readonly meta: { readonly title?: string };
  readonly anchors: readonly { readonly id: string; readonly location: number }[];
}

/** A segment found. */
export interface Found {
  readonly address: string;
  readonly title: string;
  readonly card: IndexCard;
  /** Ids of its paragraphs on its page, and where each begins in `words`. */
  readonly ids: readonly string[];
  readonly starts: readonly number[];
  readonly words: readonly string[];
  /** Places in `words`; none where the title or only the filters match. */
  readonly found: readonly number[];
}

export interface Findings {
  /** In the order asked for; each loads what it shows when it is shown. */
  readonly segments: readonly (() => Promise<Found>)[];
  /** Segments of each year searched with these words, whatever else narrows the search; null where it can't be told. */
  readonly years: Readonly<Record<string, number>> | null;
  /** Where older tiers are still unsearched: the oldest that was, and the way to go on. */
  readonly older: { readonly since: string; search(): Promise<Findings> } | null;
}

export interface SearchIndex {
  find(query: Query, years: readonly string[]): Promise<Findings>;
}

/** Newest first, older tiers are opened until so many segments are found. */
const ENOUGH = 20;
/** Of what the newest tiers have too little, or where all are asked, so many are opened at a time: less waiting for the network. */
const WIDEST = 16;

/**
 * Opens an index in tiers, newest first; each is a folder of its own, named by its months, beside the module that all
 * of them are searched with. They are disjoint in time, so what is newest stands in the first tiers. @param folder an
 * address that ends in a slash. Rejects when it can't be loaded.
 */
export async function openIndex(folder: string, tiers: readonly string[]): Promise<SearchIndex> {
  if (tiers.length === 0) return { find: async () => NOTHING };
  const base = new URL(folder, location.href).href;
  const { createInstance } = (await import(`${base}pagefind.js`)) as Pagefind;
  const create = (basePath: string) => createInstance({ basePath, baseUrl: "/" });
  // One after the other: two that begin at once would each bring a memory, and one would use the other's. A search for
  // nothing is answered as soon as the memory is there.
  await create(base).search("", {});
  const opened = new Map<string, Searcher>();
  const open = (tier: string): Searcher => {
    const searcher = opened.get(tier) ?? create(`${base}${tier}/`);
    opened.set(tier, searcher);
    return searcher;
  };
  const search = async (tier: string, query: Query, years: readonly string[]): Promise<InTier> => {
    try {
      return { tier, ...(await searchTier(open(tier), query, years)) };
    } catch (error) {
      opened.delete(tier); // what could not be loaded is loaded again when it is asked for again
      throw error;
    }
  };
  return {
    find(query, years) {
      const own = tiers.filter((tier) => query.years.length === 0 || query.years.includes(tier.slice(0, 4)));
      const of = (tier: string) => search(tier, query, years);
      return query.order === "newest" ? findNewest(own, of, []) : findClosest(own, of);
    },
  };
}

/** What one tier has. */
interface InTier {
  readonly tier: string;
  readonly hits: readonly { readonly score: number; load(): Promise<Found> }[];
  readonly years: Findings["years"];
}
const NOTHING: Findings = { segments: [], years: {}, older: null };

async function findNewest(
  tiers: readonly string[],
  search: (tier: string) => Promise<InTier>,
  before: readonly InTier[],
): Promise<Findings> {
  const goal = hitsIn(before).length + ENOUGH;
  let [found, left] = [before, tiers];
  for (let width = 1; left.length > 0; width = Math.min(width * 2, WIDEST)) {
    const own = left.slice(0, width);
    found = [...found, ...(await Promise.all(own.map(search)))];
    left = left.slice(width);
    const since = own.at(-1);
    if (left.length === 0 || since === undefined || hitsIn(found).length < goal) continue;
    const [searched, rest] = [found, left];
    return { ...findingsOf(found), older: { since, search: () => findNewest(rest, search, searched) } };
  }
  return findingsOf(found);
}

/** The scores of all tiers compare: each counts how rare a word is among thousands of segments. */
async function findClosest(tiers: readonly string[], search: (tier: string) => Promise<InTier>): Promise<Findings> {
  const found: InTier[] = [];
  for (let at = 0; at < tiers.length; at += WIDEST)
    found.push(...(await Promise.all(tiers.slice(at, at + WIDEST).map(search))));
  const closest = hitsIn(found).toSorted((a, b) => b.score - a.score);
  return { ...findingsOf(found), segments: closest.map(({ load }) => load) };
}

const hitsIn = (found: readonly InTier[]) => found.flatMap(({ hits }) => hits);

function findingsOf(found: readonly InTier[]): Findings {
  const years: Record<string, number> = {};
  for (const { tier, years: own } of found) {
    const year = tier.slice(0, 4);
    years[year] = (years[year] ?? 0) + (own?.[year] ?? 0);
  }
  return {
    segments: hitsIn(found).map(({ load }) => load),
    years: found.some((own) => own.years === null) ? null : years,
    older: null,
  };
}

async function searchTier(searcher: Searcher, query: Query, years: readonly string[]): Promise<Omit<InTier, "tier">> {
  const terms = termsOf(query.words);
  const options: SearchOptions = {
    filters: filtersOf(query, years),
    ...(query.order === "newest" ? { sort: { aired: "desc" } } : {}),
  };
  const [first, ...others] = await Promise.all(
    (terms.length === 0 ? [null] : terms).map((term) => searcher.search(term, options)),
  );
  if (first === undefined) return { hits: [], years: null };
  const more = others.map(({ results }) => new Map(results.map((result) => [result.id, result])));
  const both = first.results.filter(({ id }) => more.every((map) => map.has(id)));
  return {
    hits: both.map((result) => ({
      score: result.score,
      load() {
        const places = [result.words, ...more.map((map) => map.get(result.id)?.words ?? [])].flat();
        return load(result, places);
      },
    })),
    years: terms.length === 1 ? (first.totalFilters.year ?? null) : null,
  };
}

/** Naming all years narrows nothing, and has Pagefind load and count the years alone. */
function filtersOf(query: Query, years: readonly string[]): Filters {
  const chosen = {
    year: query.years.length > 0 ? query.years : years,
    kind: query.kinds,
    speaker: query.speaker === null ? [] : [query.speaker],
    topic: query.topic === null ? [] : [query.topic],
    corrected: query.corrected ? ["1"] : [],
  };
  const set = Object.entries(chosen).filter(([, values]) => values.length > 0);
  return Object.fromEntries(set.map(([name, any]) => [name, { any }]));
}

async function load(result: Result, found: readonly number[]): Promise<Found> {
  const { url, content, raw_content, meta, anchors } = await result.data();
  const [first, ...paragraphs] = anchors;
  if (first === undefined) throw new Error(`The search record of ${url} has no card`);
  return {
    address: url,
    title: meta.title ?? url,
    card: JSON.parse(first.id) as IndexCard, // written by our own build, beside this script
    ids: paragraphs.map(({ id }) => id),
    starts: paragraphs.map(({ location }) => location),
    words: raw_content?.includes("\u200b") ? raw_content.split("\u200b") : content.split(/[^\S\uFEFF]+/),
    found,
  };
}
