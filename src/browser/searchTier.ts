import type { Asked, Clause } from "./asked.ts";
import type { ClauseHits, Hit, TierHits } from "./rank.ts";

/** The part of Pagefind's browser interface that is used here, as version 1.6 has it. */
export interface Pagefind {
  createInstance(options: {
    readonly basePath: string;
    readonly baseUrl: string;
    readonly ranking: { readonly metaWeights: Readonly<Record<string, number>> };
  }): Searcher;
}
export interface Searcher {
  search(term: string | null, options: Partial<SearchOptions>): Promise<Answer>;
  /** How many records have each value. */
  filters(): Promise<Readonly<Record<string, Readonly<Record<string, number>>>>>;
}
interface SearchOptions {
  readonly filters: Filters;
  readonly sort: { readonly aired: "desc" };
}
export type Filters = Readonly<Record<string, { readonly any: readonly string[] }>>;
interface Answer {
  readonly results: readonly Result[];
}
export interface Result {
  readonly id: string;
  readonly score: number;
  /** Places of the words found. */
  readonly words: readonly number[];
  readonly matchedMetaFields?: readonly string[];
  data(): Promise<Fragment>;
}
export interface Fragment {
  readonly url: string;
  readonly content: string;
  /** With a zero-width space between words, in languages that write none. */
  readonly raw_content?: string;
  readonly meta: Readonly<Record<string, string>>;
  readonly anchors: readonly { readonly id: string; readonly location: number }[];
}

/** What a match beside the words weighs, against one in a word said: so a report on a thing comes before a mention of it. */
export const WEIGHTS = { title: 4, topics: 2, summary: 2, places: 2, who: 2, aired: 1, notes: 2, edition: 2, out: 4 };
/** @param filters null: the tier has none. */
export async function searchTier(searcher: Searcher, asked: Asked, filters: Filters | null): Promise<TierHits<Result>> {
  const [all, whole, ...clauses] = await Promise.all([
    searcher.search(null, filters === null ? {} : { filters, sort: { aired: "desc" } }),
    asked.whole === null ? null : searcher.search(asked.whole, {}),
    ...asked.clauses.map((clause) => searchClause(searcher, clause)),
  ]);
  return {
    size: all.results.length,
    records: new Map(all.results.map((result) => [result.id, result])),
    whole: hitsOf(whole?.results ?? []),
    clauses,
  };
}

async function searchClause(searcher: Searcher, { is, terms }: Clause): Promise<ClauseHits> {
  if (is !== "word") {
    const answers = await Promise.all(terms.map((term) => searcher.search(term, {})));
    return { byId: hitsOf(answers.flatMap(({ results }) => results)), begins: false };
  }
  // In quotation marks, a word stands for itself and its stem. Without them the index also gives words that begin with it,
  // and where none does, words that begin with some of it: these nobody asked for.
  const answers = await Promise.all(
    terms.map(async (term) => ({
      term,
      exact: (await searcher.search(`"${term}"`, {})).results,
      loose: (await searcher.search(term, {})).results,
    })),
  );
  const exact = answers.flatMap(({ exact, loose }) => {
    const own = new Map(exact.map((result) => [result.id, result]));
    return loose
      .filter(({ id }) => own.has(id))
      .map((result) => ({ ...result, words: own.get(result.id)?.words ?? [] }));
  });
  if (exact.length > 0) return { byId: hitsOf(exact), begins: false };
  const [first] = answers;
  const beginning = first !== undefined && (await doesBegin(first.loose[0], first.term)) ? first.loose : [];
  return { byId: hitsOf(beginning), begins: true };
}

const LEAST_BEGINNING = 3;

/** Whether the first of the words found begins with what was asked for: all others then do. */
async function doesBegin(first: Result | undefined, term: string): Promise<boolean> {
  if (first === undefined || term.length < LEAST_BEGINNING) return false;
  const { content, meta } = await first.data();
  const words = content.split(SPACE);
  const matched = [
    ...first.words.map((at) => words[at] ?? ""),
    ...(first.matchedMetaFields ?? []).flatMap((field) => (meta[field] ?? "").split(SPACE)),
  ];
  return matched.some((word) => plain(word).startsWith(plain(term)));
}

export const SPACE = /[^\S\uFEFF]+/;

/** Without accents, signs and capitals, as the index has words. */
const plain = (word: string): string =>
  word
    .normalize("NFD")
    .replace(/[^\p{L}\p{N}]/gu, "")
    .toLowerCase();

function hitsOf(results: readonly Result[]): ReadonlyMap<string, Hit> {
  const hits = new Map<string, Hit>();
  for (const { id, score, words, matchedMetaFields: fields = [] } of results) {
    const before = hits.get(id);
    hits.set(id, {
      score: Math.max(before?.score ?? 0, score),
      places: [...new Set([...(before?.places ?? []), ...words])].sort((a, b) => a - b),
      fields: [...new Set([...(before?.fields ?? []), ...fields])],
    });
  }
  return hits;
}
