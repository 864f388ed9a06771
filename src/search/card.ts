import type { SearchCorrection, SearchEdition, SearchSegment, SearchStrip, SearchText } from "./segment.ts";

/**
 * What a result shows beside the words found. It travels with the record as the id of an empty element: an id
 * is the one place that Pagefind keeps without indexing it (every `meta` is searched too, filters are one
 * file for all values), and loads only with a result that is shown.
 */
export type IndexCard = SegmentCard | OtherCard;

/** Of an edition, or of a page written by hand, which has no day. */
export interface OtherCard {
  readonly is: "edition" | "text";
  readonly title: string;
  readonly summary: string | null;
  readonly aired: string | null;
}

export interface SegmentCard {
  readonly is: "segment";
  readonly episode: string;
  readonly aired: string;
  readonly kind: string;
  readonly summary: string | null;
  /** Everybody who speaks, and for each paragraph who speaks it: a place in `who`, or -1. */
  readonly who: readonly string[];
  readonly by: readonly number[];
  readonly corrections: readonly Pick<SearchCorrection, "kind" | "kindName" | "datedLong" | "href">[];
  readonly strip: CardStrip | null;
}

/** A strip on a grid of whole steps; threads as [gap, length, gap, length...] from the strip's start. */
export interface CardStrip {
  readonly runs: number;
  readonly steps: number;
  readonly in: number;
  readonly out: number;
  readonly studio: readonly number[];
  readonly others: readonly number[];
  readonly held: readonly number[];
}

/** The most that the threads of a strip may take up in a record, in characters. */
const THREADS_LIMIT = 600;
/** A strip is some 600 px wide: the first grid is finer than it shows, the last one still tells who speaks when. */
const GRIDS = [800, 400, 200, 100] as const;

export const otherCardOf = ({ is, title, summary, ...rest }: SearchEdition | SearchText): OtherCard => ({
  is,
  title,
  summary,
  aired: "aired" in rest ? rest.aired : null,
});

export function cardOf(segment: SearchSegment): SegmentCard {
  const who = speakersOf(segment);
  return {
    is: "segment",
    episode: segment.episode,
    aired: segment.aired,
    kind: segment.kindName,
    summary: segment.summary,
    who,
    by: segment.paragraphs.map(({ speaker }) => (speaker === null ? -1 : who.indexOf(speaker))),
    corrections: segment.corrections.map(({ kind, kindName, datedLong, href }) => ({
      kind,
      kindName,
      datedLong,
      href,
    })),
    strip: segment.strip === null ? null : cardStrip(segment.strip),
  };
}

/** Everybody who speaks in a segment, in order of their first words. */
export const speakersOf = ({ paragraphs }: Pick<SearchSegment, "paragraphs">): readonly string[] => [
  ...new Set(paragraphs.flatMap(({ speaker }) => speaker ?? [])),
];

/** As an id: JSON whose spaces are escaped, because Pagefind takes white space out of ids. */
export const writeCard = (card: IndexCard): string =>
  JSON.stringify(card).replace(/\s/g, (space) => `\\u${space.charCodeAt(0).toString(16).padStart(4, "0")}`);

/** The strip on the finest grid on which its threads stay within the limit, or without them. */
function cardStrip(strip: SearchStrip): CardStrip {
  for (const steps of GRIDS) {
    const on = (blocks: SearchStrip["studio"]) => onGrid(blocks, strip.runs, steps);
    const threads = { studio: on(strip.studio), others: on(strip.others), held: on(strip.held) };
    if (JSON.stringify(threads).length <= THREADS_LIMIT) return { ...place(strip, steps), ...threads };
  }
  return { ...place(strip, GRIDS[0]), studio: [], others: [], held: [] };
}

function place(strip: SearchStrip, steps: number): Pick<CardStrip, "runs" | "steps" | "in" | "out"> {
  const step = (seconds: number) => Math.round((seconds / strip.runs) * steps);
  return { runs: strip.runs, steps, in: step(strip.in), out: step(strip.out) };
}

/** Blocks as gaps and lengths in steps; blocks that touch on the grid are one. */
function onGrid(blocks: SearchStrip["studio"], runs: number, steps: number): readonly number[] {
  const step = (seconds: number) => Math.round((seconds / runs) * steps);
  const line: number[] = [];
  let end = 0;
  for (const [start, length] of [...blocks].sort(([a], [b]) => a - b)) {
    const [from, to] = [Math.max(end, step(start)), Math.max(end, step(start + length))];
    if (to === from) continue;
    const before = line.length;
    if (from === end && before > 0) line[before - 1] = (line[before - 1] ?? 0) + to - from;
    else line.push(from - end, to - from);
    end = to;
  }
  return line;
}
