import type { ComponentChildren } from "preact";
import { renderToString } from "preact-render-to-string";
import { cardOf, speakersOf, writeCard } from "./card.ts";
import type { IndexPage, SearchSegment } from "./segment.ts";

/** The names that the search page narrows by, and the name it sorts by. */
export const FILTERS = ["year", "speaker", "topic", "kind", "corrected"] as const;
export type Filter = (typeof FILTERS)[number];

/**
 * The document that Pagefind indexes for a segment: an empty inline element with its id stands before each paragraph,
 * because Pagefind keeps the places of ids, and with them, a second time, the words that stand in their elements; and it
 * puts a full stop that nobody said at the end of a block. Only the title and the words are searched.
 */
export function toIndexPage(segment: SearchSegment): string {
  const page = (
    <html lang={segment.language}>
      <body>
        <main
          data-pagefind-body=""
          data-pagefind-meta="title[data-title]"
          data-title={segment.title}
          data-pagefind-sort="aired[data-aired]"
          data-aired={sortKey(segment)}
        >
          {filtersOf(segment).map(([name, value]) => (
            <Filtered key={name + value} name={name} value={value} />
          ))}
          <span id={writeCard(cardOf(segment))} />
          {segment.paragraphs.flatMap(({ id, words }): ComponentChildren[] => [" ", <span key={id} id={id} />, words])}
        </main>
      </body>
    </html>
  );
  return `<!doctype html>${renderToString(page)}`;
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
    ...corrected.map((value) => ["corrected", value] as const),
  ];
}

/** Falling, it puts the newest episode first, and its segments in the order of the programme. */
function sortKey({ aired, position }: SearchSegment): string {
  return `${new Date(aired).toISOString()} ${String(9999 - position).padStart(4, "0")}`;
}

/** Segments as the index reads them, one at a time. */
export function* indexPages(segments: Iterable<SearchSegment>): Generator<IndexPage> {
  for (const segment of segments) yield { address: segment.address, html: toIndexPage(segment) };
}
