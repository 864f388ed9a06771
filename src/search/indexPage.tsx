import type { ComponentChildren } from "preact";
import { renderToString } from "preact-render-to-string";
import { NOTE_MARK } from "../model/searchMarks.ts";
import { cardOf, type IndexCard, otherCardOf, speakersOf, writeCard } from "./card.ts";
import {
  type IndexPage,
  type SearchEdition,
  type SearchEntry,
  type SearchSegment,
  type SearchText,
  WORDLESS,
} from "./segment.ts";

/** The names that the search page narrows by, and the name it sorts by. */
export const FILTERS = ["year", "speaker", "topic", "place", "kind", "corrected"] as const;
export type Filter = (typeof FILTERS)[number];

/**
 * What is searched besides the words, by the name under which the record keeps it. In `aired` a day is one word, such as
 * `day20261006`, which no programme says; of editions, which are no segments, title and day go by other names.
 */
export const FIELDS = ["title", "topics", "summary", "places", "who", "aired", "notes", "edition", "out"] as const;
export type Field = (typeof FIELDS)[number];

/** The kinds of segments that name all others: what they say counts less than the reports. */
const MENTIONING: readonly string[] = ["headlines", "close"];
const LESS = "0.3";

export function toIndexPage(entry: SearchEntry): string {
  switch (entry.is) {
    case "segment":
      return segmentPage(entry);
    case "edition":
      return editionPage(entry);
    case "text":
      return textPage(entry);
  }
}

/**
 * The document that Pagefind indexes for a segment: an empty inline element with its id stands before each paragraph,
 * because Pagefind keeps the places of ids, and with them, a second time, the words that stand in their elements; and it
 * puts a full stop that nobody said at the end of a block. What was not said is searched as `meta`, so that a match tells.
 */
function segmentPage(segment: SearchSegment): string {
  const { title, summary, topics, places, roles, corrections, kind, kindName } = segment;
  const who = speakersOf(segment).flatMap((name) => [name, roles[name] ?? []].flat());
  const fields: Fields = {
    title,
    topics: [...topics, kindName].join(", "),
    summary,
    places: places.join(", "),
    who: who.join(", "),
    aired: dayWords(segment.aired),
    notes: corrections.flatMap(({ note }) => note ?? []).join(` ${NOTE_MARK} `),
  };
  return documentOf(segment, fields, cardOf(segment), [
    <span data-pagefind-weight={MENTIONING.includes(kind) ? LESS : undefined}>
      {segment.paragraphs.flatMap(({ id, words }): ComponentChildren[] => [" ", <span key={id} id={id} />, words])}
    </span>,
    ...filtersOf(segment).map(([name, value]) => <Filtered key={name + value} name={name} value={value} />),
  ]);
}

const editionPage = (edition: SearchEdition): string =>
  documentOf(
    edition,
    { edition: [edition.title, edition.summary ?? ""].join(" "), out: dayWords(edition.aired) },
    otherCardOf(edition),
    [<Filtered key="year" name="year" value={edition.aired.slice(0, 4)} />],
  );

const textPage = (text: SearchText): string =>
  documentOf(
    text,
    { title: text.title, summary: text.summary, topics: addressWords(text) },
    otherCardOf(text),
    text.blocks.flatMap((words, at): ComponentChildren[] => [" ", <span key={at} id={`block-${at}`} />, words]),
  );

type Fields = Partial<Readonly<Record<Field, string | null>>>;

function documentOf(
  entry: SearchEntry,
  fields: Fields,
  card: IndexCard,
  children: readonly ComponentChildren[],
): string {
  const own = Object.entries(fields).filter(([, value]) => value !== null && value !== "");
  const page = (
    <html lang={entry.language}>
      <body>
        <main
          data-pagefind-body=""
          data-pagefind-meta={own.map(([name]) => `${name}[data-${name}]`).join(", ")}
          {...Object.fromEntries(own.map(([name, value]) => [`data-${name}`, value]))}
          {...(entry.is === "text" ? {} : { "data-pagefind-sort": "aired[data-sort]", "data-sort": sortKey(entry) })}
        >
          <span id={writeCard(card)} />
          {hasWords(entry) ? "" : WORDLESS}
          {children}
        </main>
      </body>
    </html>
  );
  return `<!doctype html>${renderToString(page)}`;
}

function hasWords(entry: SearchEntry): boolean {
  return entry.is === "segment" ? entry.paragraphs.length > 0 : entry.is === "text" && entry.blocks.length > 0;
}

/** The last part of a page's address as words: people ask for `contact`, whatever its title is. */
const addressWords = ({ address }: SearchText): string =>
  address.replace(/\/$/, "").replace(/^.*\//, "").replaceAll("-", " ");

/** A day as words of its own: `day20261006 month202610 year2026`. @param aired ISO 8601. */
function dayWords(aired: string): string {
  const [year = "", month = "", day = ""] = aired.slice(0, "2026-10-06".length).split("-");
  return `day${year}${month}${day} month${year}${month} year${year}`;
}

const Filtered = ({ name, value }: { readonly name: Filter; readonly value: string }) => (
  <span data-pagefind-filter={`${name}[data-is]`} data-is={value} />
);

/** `corrected` holds `1` for any correction, and the kinds. */
function filtersOf(segment: SearchSegment): readonly (readonly [Filter, string])[] {
  const kinds = new Set(segment.corrections.map(({ kind }) => kind));
  const corrected = kinds.size === 0 ? [] : ["1", ...[...kinds].sort()];
  return [
    ["year", segment.aired.slice(0, 4)],
    ["kind", segment.kind],
    ...speakersOf(segment).map((name) => ["speaker", name] as const),
    ...segment.topics.map((topic) => ["topic", topic] as const),
    ...segment.places.map((place) => ["place", place] as const),
    ...corrected.map((value) => ["corrected", value] as const),
  ];
}

/** Falling, it puts the newest episode first, and its segments in the order of the programme. */
function sortKey(entry: SearchSegment | SearchEdition): string {
  const position = entry.is === "segment" ? entry.position + 1 : 0;
  return `${new Date(entry.aired).toISOString()} ${String(9999 - position).padStart(4, "0")}`;
}

const namesOf = (entry: SearchEntry): readonly string[] =>
  entry.is === "segment" ? [...new Set([...speakersOf(entry), ...entry.places, ...entry.topics, ...entry.named])] : [];

/** Entries as the index reads them, one at a time. */
export function* indexPages(entries: Iterable<SearchEntry>): Generator<IndexPage> {
  for (const entry of entries) yield { address: entry.address, html: toIndexPage(entry), names: namesOf(entry) };
}
