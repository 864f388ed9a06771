import { CAPTION_FIGURES, type CaptionFigures } from "../../model/captions.ts";
import type { CuePiece } from "../../model/episode.ts";
import type { SpokenWord } from "../../model/spoken.ts";
import { type Break, breakBefore, namesByFirst } from "./breaks.ts";
import { lendTime, type Span } from "./lending.ts";
import { layLines } from "./lines.ts";

/** A cue made of words. Whole milliseconds. */
export interface MadeCue {
  readonly start: number;
  readonly end: number;
  readonly pieces: readonly CuePiece[];
}

export interface Captioning {
  readonly figures?: CaptionFigures;
  /** Names that are not to be torn apart: the register's. */
  readonly names?: readonly string[];
  /** Moments that no cue stands across: where the recording is cut. Rising, in milliseconds. */
  readonly edges?: readonly number[];
}

/** A pause that nobody's caption stands through. Common practice, no source. */
const LONG_PAUSE = 2000;

/** What a cue costs, beside its lines. Chosen by eye on the demo's three broadcasts; no source. */
const COST = {
  cue: 1.5,
  break: 8,
  torn: 40,
  sentence: 5,
  straddle: 5,
  short: 10,
  flicker: 3,
  long: 20,
  fast: 3,
  tooFast: 6,
  unread: 3,
  pause: 2,
} as const;

/** What the optimiser knows of a text before it begins. */
interface Text {
  readonly words: readonly SpokenWord[];
  readonly figures: CaptionFigures;
  readonly lengths: readonly number[];
  readonly breaks: readonly Break[];
  /** sentences[n]: how many sentences end before word n. */
  readonly sentences: readonly number[];
  readonly edges: readonly number[];
}

/**
 * Words cut into cues: of all the ways to break them, the one that costs least (dynamic programming over the break
 * points). A cue has one voice, begins with its first word, and stands into the pause after it for as long as reading
 * it takes.
 * @param words in the order of their times.
 */
export function makeCues(
  words: readonly SpokenWord[],
  { figures = CAPTION_FIGURES, names = [], edges = [] }: Captioning = {},
): MadeCue[] {
  const text = { ...prepare(words, figures, names), edges };
  const least = new Float64Array(words.length + 1).fill(Number.POSITIVE_INFINITY);
  const from = new Int32Array(words.length + 1);
  least[0] = 0;
  for (let to = 1; to <= words.length; to++) {
    for (let start = to - 1; start >= 0; start--) {
      if (start < to - 1 && mustBreak(text, start + 1)) break;
      const cost = (least[start] ?? 0) + cueCost(text, start, to);
      if (cost < (least[to] ?? 0)) {
        least[to] = cost;
        from[to] = start;
      }
      if (start < to - 1 && isHopeless(text, start, to)) break;
    }
  }
  const ends: number[] = [];
  for (let at = words.length; at > 0; at = from[at] ?? 0) ends.push(at);
  const spans = ends.reverse().map((to, n) => ({ from: ends[n - 1] ?? 0, to }));
  const times = lendTime(
    spans.map((span) => ({ ...timesOf(text, span.from, span.to), ...spokenIn(words, span) })),
    figures,
    edges,
  );
  return spans.flatMap((span, n) => {
    const shown = times[n];
    return shown === undefined ? [] : [{ start: shown.start, end: shown.end, pieces: [pieceOf(text, span)] }];
  });
}

/** What is said in a cue: how many words, and when the last one ends. */
const spokenIn = (words: readonly SpokenWord[], { from, to }: { readonly from: number; readonly to: number }) => ({
  words: to - from,
  last: words[to - 1]?.end ?? 0,
});

function prepare(words: readonly SpokenWord[], figures: CaptionFigures, names: readonly string[]): Omit<Text, "edges"> {
  const texts = words.map(({ text }) => text);
  const known = namesByFirst(names);
  const breaks = texts.map((_, n): Break => (n === 0 ? 0 : breakBefore(n, texts, known)));
  const [lengths, sentences] = [[0], [0]];
  texts.forEach((word, n) => {
    lengths.push((lengths[n] ?? 0) + word.length + 1);
    sentences.push((sentences[n] ?? 0) + (breaks[n + 1] === 0 ? 1 : 0));
  });
  return { words, figures, lengths, breaks, sentences };
}

/**
 * Two speakers are not captioned together (BBC Subtitle Guidelines §5.6), nor are words with a long silence or a cut
 * between.
 */
function mustBreak({ words, edges }: Text, n: number): boolean {
  const [before, after] = [words[n - 1], words[n]];
  if (before === undefined || after === undefined) return true;
  if (before.voice !== after.voice || before.proposed !== after.proposed || after.start - before.end > LONG_PAUSE)
    return true;
  return edges.some((edge) => before.start < edge && edge <= after.start);
}

/** Longer than any cue worth having: starting earlier makes it worse. */
function isHopeless({ words, figures, lengths }: Text, start: number, to: number): boolean {
  const width = (lengths[to] ?? 0) - (lengths[start] ?? 0);
  const spoken = (words[to - 1]?.end ?? 0) - (words[start]?.start ?? 0);
  return width > figures.line * figures.lines || spoken > figures.longest * 2;
}

function cueCost(text: Text, start: number, to: number): number {
  const { figures, breaks, sentences, words } = text;
  const shown = timesOf(text, start, to);
  const ms = Math.max(1, shown.end - shown.start);
  const rate = ((to - start) * 60_000) / ms;
  const after = to < words.length && !mustBreak(text, to) ? (breaks[to] ?? 1) : 0;
  const inner = (sentences[to - 1] ?? 0) - (sentences[start] ?? 0);
  return (
    COST.cue +
    layLines(start, to, text.lengths, breaks, figures).cost +
    (after === "never" ? COST.torn : after * COST.break) +
    inner * (COST.sentence + (after === 0 ? 0 : COST.straddle)) +
    (ms < figures.shortest ? COST.flicker + ((figures.shortest - ms) / 1000) * COST.short : 0) +
    (Math.max(0, ms - figures.longest) / 1000) * COST.long +
    (Math.max(0, rate - figures.rate) / figures.rate) * COST.fast +
    (rate > figures.fastest ? COST.unread + ((rate - figures.fastest) / figures.fastest) * COST.tooFast : 0) +
    pauseInside(text, start, to) * COST.pause
  );
}

/** The longest pause between two words of a cue, in seconds: a cue should not stand through one. */
function pauseInside({ words }: Text, start: number, to: number): number {
  let longest = 0;
  for (let n = start + 1; n < to; n++) longest = Math.max(longest, (words[n]?.start ?? 0) - (words[n - 1]?.end ?? 0));
  return longest / 1000;
}

/** When a cue of words [start, to) stands: from its first word, up to the next cue or for as long as it is wanted. */
function timesOf({ words, figures, edges }: Text, start: number, to: number): Span {
  const first = words[start]?.start ?? 0;
  const last = Math.max(words[to - 1]?.end ?? first, first + 1);
  const edge = edges.find((at) => at > first) ?? Number.POSITIVE_INFINITY;
  const next = Math.min(words[to]?.start ?? edge, edge);
  const wanted = Math.max(last, first + figures.shortest, first + ((to - start) * 60_000) / figures.rate);
  const free = Math.min(wanted, last + figures.hang);
  const end =
    next - free >= figures.gap ? free : next - last <= figures.hang ? next : Math.max(last, next - figures.gap);
  return { start: first, end: Math.max(first + 1, Math.round(Math.min(end, edge))) };
}

function pieceOf(text: Text, { from, to }: { readonly from: number; readonly to: number }): CuePiece {
  const { starts } = layLines(from, to, text.lengths, text.breaks, text.figures);
  const edges = [from, ...starts, to];
  const lines = edges.slice(0, -1).map((start, n) =>
    text.words
      .slice(start, edges[n + 1])
      .map(({ text: word }) => word)
      .join(" "),
  );
  const { voice = null, proposed } = text.words[from] ?? {};
  return { voice, ...(proposed === undefined ? {} : { proposed }), language: null, words: lines.join("\n") };
}
