import type { Span } from "../derive/captioning/lending.ts";
import { timeWords } from "../derive/captioning/wordTimes.ts";
import type { HeardName } from "../derive/propose/recording.ts";
import type { RawBlock } from "../model/spoken.ts";
import { type Timed, toEpisode, toMediaEdge } from "../model/timeMap.ts";
import { clockMs, mediaMs } from "../model/units.ts";
import type { Aligner, RoughWord } from "./align.ts";
import { type HeardFault, heldAgainst } from "./heldAgainst.ts";
import type { Division } from "./kinds.ts";

/** A recording that was listened to, and what words are held against. */
export interface Listening {
  readonly align: Aligner;
  /** What is heard when. */
  readonly division: Division;
  readonly progress?: (done: number) => void;
}

/** When words were heard. */
export interface HeardSpans {
  /** By word, milliseconds of the episode's clock; null: it was not heard. Rising. */
  readonly spans: readonly (Span | null)[];
  /** Words that have letters and so could be heard, and those that were. */
  readonly sayable: number;
  readonly heard: number;
  /** Runs of words that were not heard, long enough to be more than a slip of the search. */
  readonly missing: readonly MissingWords[];
  /** Where the words and the sound disagree. */
  readonly against: readonly HeardFault[];
  /** The names that are heard, in the episode's clock. */
  readonly names: readonly HeardName[];
}

/** Words that are in the text and not in the recording. */
export interface MissingWords {
  readonly text: string;
  /** Where the word before them ends, in milliseconds of the episode's clock. */
  readonly at: number;
}

/** Fewer words in a row may be said too indistinctly to be found. Common practice, no source. */
const A_RUN = 4;

/** Fewer of the words heard than this, and the recording is taken for another one. Common practice, no source. */
const LEAST = 0.5;

/**
 * The times of words from the sound, near the times that are known roughly. Null where so few are heard that the
 * recording, or its cuts, must be others: then the rough times are the better ones.
 * @param rough by word, milliseconds of the episode's clock; null: somewhere between its neighbours.
 * @param end where the programme ends. @param begin where the words begin that are asked for.
 */
export async function heardSpans(
  texts: readonly string[],
  rough: readonly (Span | null)[],
  timed: Timed,
  end: number,
  { align, division, progress }: Listening,
  begin = 0,
): Promise<HeardSpans | null> {
  const around = filled(rough, end);
  const cuts = timed.clock === "aired" ? timed.cuts : [];
  const inCut = (n: number, within: number): boolean => {
    const { start, end: to } = around[n] ?? { start: 0, end };
    return cuts.some((cut) => cut.from + within <= start && to <= cut.to - within);
  };
  const inMedia = (ms: number): number => toMediaEdge(clockMs(ms), timed);
  const sought = texts.flatMap((text, n): readonly (RoughWord & { readonly n: number })[] => {
    const { start, end: to } = around[n] ?? { start: 0, end };
    return inCut(n, OFF) ? [] : [{ text, n, from: inMedia(start), to: inMedia(to) }];
  });
  const { words: found, names } = await align(
    sought.map(({ text, from, to }) => ({ text, from, to })),
    progress,
  );
  const spans: (Span | null)[] = texts.map(() => null);
  sought.forEach(({ n }, k) => {
    const word = found[k] ?? null;
    if (word !== null) spans[n] = spanIn(word, timed);
  });
  const heard = spans.filter((span) => span !== null).length;
  const against = heldAgainst(
    sought.map(({ text }, k) => ({ text, heard: found[k] ?? null })),
    division,
    { start: inMedia(begin), end: Math.min(inMedia(end), division.stretches.at(-1)?.end ?? 0) },
    timed,
  );
  const unspoken = against.filter(({ rule }) => rule === "words-unspoken");
  const missing = missingIn(texts, spans, (n) => !inCut(n, -OFF)).filter(
    ({ at }) => !unspoken.some(({ around }) => around.start - ROUNDED <= at && at <= around.end),
  );
  keepCut(spans, (n) => (inCut(n, -OFF) ? (rough[n] ?? null) : null));
  const sayable = texts.filter((text, n) => /[\p{L}\p{N}]/u.test(text) && (spans[n] === null || !inCut(n, 0))).length;
  if (heard < sayable * LEAST) return null;
  const inEpisode = names.map((name) => ({ ...name, ...spanIn(name, timed) }));
  return { spans, sayable, heard: Math.min(heard, sayable), missing, against, names: inEpisode };
}

/** Times are in whole milliseconds in the one place, and not in the other. */
const ROUNDED = 2;

/** @param isThere whether a word may be in the recording at all. */
function missingIn(
  texts: readonly string[],
  spans: readonly (Span | null)[],
  isThere: (n: number) => boolean,
): readonly MissingWords[] {
  const runs: MissingWords[] = [];
  let [run, at]: [string[], number] = [[], 0];
  const close = () => {
    if (run.length >= A_RUN) runs.push({ text: run.join(" "), at });
    run = [];
  };
  texts.forEach((text, n) => {
    const span = spans[n] ?? null;
    if (span !== null || !isThere(n)) close();
    else run.push(text);
    at = span?.end ?? at;
  });
  close();
  return runs;
}

/** So far off a rough time may be: a word nearer than this to a cut's edge may be in the recording or not. Milliseconds. */
const OFF = 3000;

/** What was cut can't be heard: words that stand there keep their rough times, where those fit between the heard ones. */
function keepCut(spans: (Span | null)[], roughIn: (n: number) => Span | null): void {
  const next: number[] = [];
  for (let n = spans.length - 1, first = Number.POSITIVE_INFINITY; n >= 0; n--) {
    next[n] = first;
    first = spans[n]?.start ?? first;
  }
  let last = 0;
  for (let n = 0; n < spans.length; n++) {
    const own = spans[n] ?? roughIn(n);
    if (own !== null && own.start >= last && own.end <= (next[n] ?? 0)) spans[n] = own;
    last = spans[n]?.end ?? last;
  }
}

/** A stretch of the media in the episode's clock; one that ends at a seam ends before the cut. */
function spanIn({ start, end }: Span, timed: Timed): Span {
  const from = Math.round(start);
  const to = Math.max(from + 1, Math.round(end));
  return { start: toEpisode(mediaMs(from), timed), end: toEpisode(mediaMs(to - 1), timed) + 1 };
}

/** Words without a time lie between those with one. */
function filled(rough: readonly (Span | null)[], end: number): readonly Span[] {
  const before: number[] = [];
  let last = 0;
  for (const span of rough) {
    before.push(last);
    last = span?.end ?? last;
  }
  let next = Number.isFinite(end) ? end : last;
  return rough
    .map((span, n) => ({ span, after: n }))
    .reverse()
    .map(({ span, after }) => {
      const own = span ?? { start: before[after] ?? 0, end: next };
      next = span?.start ?? next;
      return own;
    })
    .reverse();
}

/**
 * A raw transcript with the times of its words from the sound: a block for each word; one that was not heard has no time
 * and stands behind the word before it. Null where the recording seems to be another one.
 * @param end how long the recording runs, in the transcript's clock; null: nobody knows.
 */
export async function heardBlocks(
  blocks: readonly RawBlock[],
  timed: Timed,
  end: number | null,
  listening: Listening,
): Promise<{
  readonly blocks: readonly RawBlock[];
  readonly heard: Pick<HeardSpans, "sayable" | "heard" | "against" | "names">;
} | null> {
  const rough = timeWords(blocks, { end });
  const texts = rough.map(({ text }) => text);
  const heard = await heardSpans(texts, rough, timed, end ?? rough.at(-1)?.end ?? 0, listening);
  if (heard === null) return null;
  const sources = blocks.flatMap((block) => block.text.split(" ").map(() => block));
  const words = sources.flatMap(({ voice, at }, n): readonly RawBlock[] => {
    const [text, span] = [texts[n], heard.spans[n] ?? null];
    return text === undefined ? [] : [{ start: span?.start ?? null, end: span?.end ?? null, voice, text, at }];
  });
  return { blocks: words, heard };
}
