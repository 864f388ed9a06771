import { NOTE_MARK } from "../model/searchMarks.ts";
import type { IndexCard } from "../search/card.ts";
import { type Asked, type Clause, readAsked } from "./asked.ts";
import { hasAll } from "./having.ts";
import { isNarrowed, type Query } from "./query.ts";
import { type Ranked, rank, type TierHits } from "./rank.ts";
import { type Filters, type Pagefind, type Result, type Searcher, SPACE, searchTier, WEIGHTS } from "./searchTier.ts";

/** Something found: a segment, an edition, or a page written by hand. */
export interface Found {
  readonly address: string;
  readonly title: string;
  readonly card: IndexCard;
  /** Ids of its paragraphs on its page, and where each begins in `words`. */
  readonly ids: readonly string[];
  readonly starts: readonly number[];
  readonly words: readonly string[];
  /** Places in `words`; none where only what stands beside the words matches. */
  readonly found: readonly number[];
  /** The note of a correction, where nothing else matches. */
  readonly note: string | null;
  /** All that is searched: words, title, and the rest. */
  readonly text: string;
}

export interface Findings {
  /** What was looked for; not what was typed, where that was taken for something else. */
  readonly asked: Asked;
  /** In the order asked for; each loads what it shows when it is shown. */
  readonly results: readonly (() => Promise<Found>)[];
  /** How many of them are what. */
  readonly counts: Counts;
  /** What was looked for in the place of words that nobody said. */
  readonly instead: string | null;
  /** The tier of each segment. */
  readonly inTiers: readonly string[];
  /** What they were found in; where something was meant, that before what was typed. */
  readonly searched: readonly Searched[];
  /** Where older tiers are still unsearched: the oldest that was, whether only because somebody types, and the way to go on. */
  readonly older: { readonly since: string; readonly isShort: boolean; search(): Promise<Findings> } | null;
}

export interface Searched {
  readonly asked: Asked;
  readonly found: readonly InTier[];
}

export type Counts = Readonly<Record<IndexCard["is"], number>>;

/** What narrows nothing when it is named in full. */
export interface Known {
  readonly kinds: readonly string[];
  /** ISO date of the reader. */
  readonly today: string;
  /** BCP 47. */
  readonly language: string;
}

/** What was probably meant, in the place of what was typed; null: nothing else. @param unknown the words that may be misspelt. */
export type Suggest = (asked: Asked, unknown: ReadonlySet<string>) => Promise<string | null>;

export interface SearchIndex {
  /** @param isTyping asked again and again: while it is so, few tiers are opened, and nothing is suggested by them. */
  find(query: Query, isTyping: () => boolean): Promise<Findings>;
}

/** Newest first, older tiers are opened until so many segments are found. */
const ENOUGH = 20;
/** Of what the newest tiers have too little, so many are opened at a time: less waiting for the network. */
const WIDEST = 16;
/** While somebody types, the newest and so many older ones: a word half typed or mistyped stands nowhere, and would open all. */
const OLDER_TYPED = 2;

/** The tier of pages written by hand. */
const TEXTS = "";

/**
 * Opens an index in tiers, newest first; each is a folder of its own, named by its months, below `base`, where Pagefind's
 * module stands that all of them are searched with. They are disjoint in time, so what is newest stands in the first tiers.
 * @param base an address that ends in a slash. Rejects when it can't be loaded.
 */
export async function searchIndex(
  { createInstance }: Pagefind,
  base: string,
  tiers: readonly string[],
  known: Known,
  suggest: Suggest,
): Promise<SearchIndex> {
  if (tiers.length === 0) return { find: async () => NOTHING };
  const create = (basePath: string) => createInstance({ basePath, baseUrl: "/", ranking: { metaWeights: WEIGHTS } });
  // One after the other: two that begin at once would each bring a memory, and one would use the other's. A search for
  // nothing is answered as soon as the memory is there.
  const texts = create(base);
  await texts.search("", {});
  const opened = new Map<string, Searcher>([[TEXTS, texts]]);
  const open = (tier: string): Searcher => {
    const searcher = opened.get(tier) ?? create(`${base}${tier}/`);
    opened.set(tier, searcher);
    return searcher;
  };
  const find = async (query: Query, asked: Asked, meant: Meant, isTyping: () => boolean): Promise<Answer> => {
    const own = tiers.filter((tier) => query.years.length === 0 || query.years.includes(tier.slice(0, 4)));
    const search = async (tier: string): Promise<InTier> => {
      try {
        const searcher = open(tier);
        const hits = await searchTier(searcher, asked, tier === TEXTS ? null : filtersOf(query, known));
        return { tier, searcher, hits };
      } catch (error) {
        if (tier !== TEXTS) opened.delete(tier); // what could not be loaded is loaded again when it is asked for again
        throw error;
      }
    };
    const beside = query.words === "" || isNarrowed(query) ? [] : [await search(TEXTS)];
    return findIn({ query, asked, meant, search, isTyping }, own, { found: beside, order: [] });
  };
  return {
    async find(query, isTyping) {
      const asked = readAsked(query.words, known.today, known.language);
      const found = await find(query, asked, NOTHING, isTyping);
      if (found.unknown.size === 0 || found.older?.isShort) return found;
      const meant = await suggest(asked, found.unknown);
      if (meant === null) return found;
      const other = await find(
        query,
        readAsked(meant, known.today, known.language),
        { ...found, instead: meant },
        isTyping,
      );
      return other.results.length === 0 ? found : other;
    },
  };
}

/** What one tier has. */
export interface InTier {
  /** "" for the pages written by hand. */
  readonly tier: string;
  readonly searcher: Searcher;
  readonly hits: TierHits<Result>;
}

interface Search {
  readonly query: Query;
  readonly asked: Asked;
  readonly meant: Meant;
  search(tier: string): Promise<InTier>;
  isTyping(): boolean;
}

/** What is looked for in the place of what was typed, and where that was searched. */
type Meant = Pick<Findings, "instead" | "searched">;

/** What was found, and the words that may be misspelt. */
interface Answer extends Findings {
  readonly unknown: ReadonlySet<string>;
}

export const NOTHING: Answer = {
  asked: { clauses: [], whole: null, typed: [] },
  results: [],
  counts: { segment: 0, edition: 0, text: 0 },
  instead: null,
  inTiers: [],
  searched: [],
  older: null,
  unknown: new Set(),
};

/** What was searched, and what of it is shown already: a later and better result never comes between. */
interface Before {
  readonly found: readonly InTier[];
  readonly order: readonly InOrder[];
}

/** Searches tiers, newest first, until enough segments have all that was asked for. */
async function findIn(search: Search, tiers: readonly string[], before: Before): Promise<Answer> {
  let { found } = before;
  let left = tiers;
  const goal = fullIn(found, search).length + ENOUGH;
  for (let width = 1; left.length > 0; width = Math.min(width * 2, WIDEST)) {
    const own = left.slice(0, width);
    found = [...found, ...(await Promise.all(own.map(search.search)))];
    left = left.slice(width);
    const since = own.at(-1);
    if (left.length === 0 || since === undefined) continue;
    const isShort = fullIn(found, search).length < goal;
    if (isShort && !(search.isTyping() && tiers.length - left.length > OLDER_TYPED)) continue;
    const [rest, order] = [left, orderOf(found, search, before.order)];
    const after = { found, order };
    const whole = { ...search, isTyping: () => false }; // who goes on has asked for it
    return { ...answerOf(after, search), older: { since, isShort, search: () => findIn(whole, rest, after) } };
  }
  return answerOf({ found, order: orderOf(found, search, before.order) }, search);
}

function orderOf(found: readonly InTier[], search: Search, shown: readonly InOrder[]): readonly InOrder[] {
  const ranked = rankedIn(found, search);
  const own = new Set(shown.map(({ record }) => record));
  const others = ranked.filter(({ record }) => !own.has(record));
  return [...shown, ...(search.query.order === "newest" ? newestFirst(others, found) : others)];
}

interface InOrder extends Ranked<Result> {
  readonly tier: string;
}

const isTelling = ({ weak }: Clause): boolean => weak !== true;
const places = ({ clauses }: Asked, of: (clause: Clause) => boolean): readonly number[] =>
  clauses.flatMap((clause, at) => (of(clause) ? [at] : []));

function rankedIn(found: readonly InTier[], { asked }: Search): readonly InOrder[] {
  const must = places(asked, ({ is }) => is === "phrase");
  const weak = places(asked, (clause) => !isTelling(clause));
  const tierOf = new Map(found.flatMap(({ tier, hits }) => [...hits.records.values()].map((record) => [record, tier])));
  const tiers = found.map(({ hits }) => hits);
  if (asked.clauses.length > 0)
    return rank(tiers, must, weak, (hits) => !isEdition({ hits })).map((own) => ({
      ...own,
      tier: tierOf.get(own.record) ?? TEXTS,
    }));
  return found.flatMap(({ tier, hits }) =>
    [...hits.records.values()].map((record) => ({ record, hits: [], lacks: [], score: 0, tier })),
  );
}

/** None while a word stands nowhere yet: an older tier may have it. */
const fullIn = (found: readonly InTier[], search: Search): readonly InOrder[] =>
  places(search.asked, () => true).every((at) => found.some((own) => stands(own, at)))
    ? rankedIn(found, search).filter(({ lacks, hits }) => lacks.length === 0 && !isEdition({ hits }))
    : [];

const stands = ({ hits: { clauses, records } }: InTier, at: number): boolean =>
  [...(clauses[at]?.byId.keys() ?? [])].some((id) => records.has(id));

/** Editions are found by fields that nothing else has. */
const isEdition = ({ hits }: Pick<InOrder, "hits">): boolean =>
  hits.some(({ fields }) => fields.some((field) => field === "edition" || field === "out"));

const isOf = (own: InOrder): IndexCard["is"] => (own.tier === TEXTS ? "text" : isEdition(own) ? "edition" : "segment");

function answerOf({ found, order }: Before, search: Search): Answer {
  const { asked, meant } = search;
  const counts = { segment: 0, edition: 0, text: 0 };
  for (const own of order) counts[isOf(own)]++;
  const full = order.some(({ lacks }) => lacks.length === 0);
  return {
    asked: full ? asked : { ...asked, clauses: asked.clauses.filter(isTelling) },
    results: order.map((own) => () => load(own, asked)),
    counts,
    instead: meant.instead,
    inTiers: order.flatMap((own) => (isOf(own) === "segment" ? [own.tier] : [])),
    searched: [{ asked, found }, ...meant.searched],
    older: null,
    unknown: unknownIn(found, search),
  };
}

/**
 * The words that may be misspelt: those that stand nowhere, and with them those that only begin words; where nothing has
 * all of the words, any of them. What narrows makes no word misspelt.
 */
function unknownIn(found: readonly InTier[], { asked }: Search): ReadonlySet<string> {
  const words = asked.clauses.flatMap(({ is, text, weak }, at) => {
    const stands = found.flatMap(({ hits }) => hits.clauses[at] ?? []).filter(({ byId }) => byId.size > 0);
    return is === "word" && weak !== true
      ? [{ text, isNowhere: stands.length === 0, begins: stands.every(({ begins }) => begins) }]
      : [];
  });
  const telling = places(asked, isTelling);
  const isAnswered = found.some(({ hits: { clauses } }) =>
    [...(clauses[telling[0] ?? 0]?.byId.keys() ?? [])].some((id) => telling.every((at) => clauses[at]?.byId.has(id))),
  );
  const isUnknown = words.some(({ isNowhere }) => isNowhere)
    ? ({ begins }: { readonly begins: boolean }) => begins
    : () => !isAnswered;
  return new Set(words.filter(isUnknown).map(({ text }) => text));
}

/** What has all before what lacks some; each newest first, and the pages written by hand at the end. */
function newestFirst(ranked: readonly InOrder[], found: readonly InTier[]): readonly InOrder[] {
  const inOrder = found.filter(({ tier }) => tier !== TEXTS).concat(found.filter(({ tier }) => tier === TEXTS));
  const place = new Map(inOrder.flatMap(({ hits }) => [...hits.records.values()]).map((record, at) => [record, at]));
  return ranked.toSorted(
    (a, b) =>
      Number(a.lacks.length > 0) - Number(b.lacks.length > 0) ||
      (place.get(a.record) ?? 0) - (place.get(b.record) ?? 0),
  );
}

function filtersOf(query: Query, known: Known): Filters {
  const chosen = {
    year: query.years,
    // Editions have no kind: where nothing is looked for but what narrows, they are no answer.
    kind: query.kinds.length > 0 || query.words !== "" ? query.kinds : known.kinds,
    speaker: query.speaker === null ? [] : [query.speaker],
    topic: query.topic === null ? [] : [query.topic],
    place: query.place === null ? [] : [query.place],
    corrected: query.corrected ? ["1"] : [],
  };
  const set = Object.entries(chosen).filter(([, values]) => values.length > 0);
  return Object.fromEntries(set.map(([name, any]) => [name, { any }]));
}

async function load({ record, hits }: InOrder, { clauses }: Asked): Promise<Found> {
  const { url, content, raw_content, meta, anchors } = await record.data();
  const [first, ...paragraphs] = anchors;
  const card = JSON.parse(first?.id ?? "") as IndexCard; // written by our own build, beside this script
  const fields = new Set(hits.flatMap(({ fields }) => fields));
  const notes = fields.has("notes") ? (meta.notes?.split(NOTE_MARK) ?? []) : [];
  return {
    address: url,
    title: card.is === "segment" ? (meta.title ?? url) : card.title,
    card,
    ids: paragraphs.map(({ id }) => id),
    starts: paragraphs.map(({ location }) => location),
    words: raw_content?.includes("\u200b") ? raw_content.split("\u200b") : content.split(SPACE),
    found: [...new Set(hits.flatMap(({ places }) => places))],
    note: notes.find((note) => clauses.some((clause) => hasAll(note, [clause]))) ?? null,
    text: [content, ...Object.values(meta)].join(" "),
  };
}
