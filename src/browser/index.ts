import type { IndexCard } from "../search/card.ts";
import type { Query } from "./query.ts";
import { termsOf } from "./query.ts";

/** The part of Pagefind's browser interface that is used here, as version 1.6 has it. */
interface Pagefind {
  options(options: { readonly baseUrl: string }): Promise<void>;
  search(term: string | null, options: SearchOptions): Promise<Answer>;
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
  /** Segments of each year with these words, whatever else narrows the search; null where it can't be told. */
  readonly years: Readonly<Record<string, number>> | null;
}

export interface Index {
  find(query: Query, years: readonly string[]): Promise<Findings>;
}

/** Loads the index from its folder: an address that ends in a slash. Rejects when it can't be loaded. */
export async function openIndex(folder: string): Promise<Index> {
  const address = new URL("pagefind.js", new URL(folder, location.href));
  const pagefind = (await import(address.href)) as Pagefind;
  await pagefind.options({ baseUrl: "/" });
  return { find: (query, years) => find(pagefind, query, years) };
}

async function find(pagefind: Pagefind, query: Query, years: readonly string[]): Promise<Findings> {
  const terms = termsOf(query.words);
  const options: SearchOptions = {
    filters: filtersOf(query, years),
    ...(query.order === "newest" ? { sort: { aired: "desc" } } : {}),
  };
  const [first, ...others] = await Promise.all(
    (terms.length === 0 ? [null] : terms).map((term) => pagefind.search(term, options)),
  );
  if (first === undefined) return { segments: [], years: null };
  const more = others.map(({ results }) => new Map(results.map((result) => [result.id, result])));
  const both = first.results.filter(({ id }) => more.every((map) => map.has(id)));
  return {
    segments: both.map((result) => () => {
      const places = [result.words, ...more.map((map) => map.get(result.id)?.words ?? [])].flat();
      return load(result, places);
    }),
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
