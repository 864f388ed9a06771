import { CAPTION_FIGURES, type CaptionFigures } from "../../model/captions.ts";
import type { CuePart } from "../../model/episode.ts";
import type { SpokenWord } from "../../model/spoken.ts";
import { type Break, breakBefore, namesByFirst } from "./breaks.ts";
import { layLines } from "./lines.ts";

/** A cue cut from words. Whole milliseconds. */
export interface CutCue {
  readonly start: number;
  readonly end: number;
  readonly parts: readonly CuePart[];
}

export interface Cutting {
  readonly figures?: CaptionFigures;
  /** Names that are not to be torn apart: the register's. */
  readonly names?: readonly string[];
}

/** A pause that nobody's caption stands through. Common practice, no source. */
const LONG_PAUSE = 2000;

/** What a cue costs, beside its lines. Chosen by eye on the demo's three broadcasts; no source. */
const COST = {
  cue: 1.5,
  break: 8,
  torn: 40,
  sentence: 2.5,
  straddle: 5,
  short: 10,
  long: 20,
  fast: 3,
  tooFast: 6,
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
}

/**
 * Words cut into cues: of all the ways to break them, the one that costs least (dynamic programming over the break
 * points). A cue has one voice, begins with its first word, and stands into the pause after it for as long as reading
 * it takes.
 * @param words in the order of their times.
 */
export function cutCues(
  words: readonly SpokenWord[],
  { figures = CAPTION_FIGURES, names = [] }: Cutting = {},
): CutCue[] {
  const text = prepare(words, figures, names);
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
  const edges: number[] = [];
  for (let at = words.length; at > 0; at = from[at] ?? 0) edges.unshift(at);
  return edges.map((to, n) => cueOf(text, edges[n - 1] ?? 0, to));
}

function prepare(words: readonly SpokenWord[], figures: CaptionFigures, names: readonly string[]): Text {
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

/** Two speakers are not captioned together (BBC Subtitle Guidelines §5.6), nor are words with a long silence between. */
function mustBreak({ words }: Text, n: number): boolean {
  const [before, after] = [words[n - 1], words[n]];
  if (before === undefined || after === undefined) return true;
  return before.voice !== after.voice || after.start - before.end > LONG_PAUSE;
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
    (Math.max(0, figures.shortest - ms) / 1000) * COST.short +
    (Math.max(0, ms - figures.longest) / 1000) * COST.long +
    (Math.max(0, rate - figures.rate) / figures.rate) * COST.fast +
    (Math.max(0, rate - figures.fastest) / figures.fastest) * COST.tooFast +
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
function timesOf(
  { words, figures }: Text,
  start: number,
  to: number,
): { readonly start: number; readonly end: number } {
  const first = words[start]?.start ?? 0;
  const last = Math.max(words[to - 1]?.end ?? first, first + 1);
  const next = words[to]?.start ?? Number.POSITIVE_INFINITY;
  const wanted = Math.max(last, first + figures.shortest, first + ((to - start) * 60_000) / figures.rate);
  const free = Math.min(wanted, last + figures.hang);
  if (next - free >= figures.gap) return { start: first, end: Math.round(free) };
  return {
    start: first,
    end: next - last <= figures.hang ? Math.max(next, first + 1) : Math.round(Math.max(last, next - figures.gap)),
  };
}

function cueOf(text: Text, start: number, to: number): CutCue {
  const { starts } = layLines(start, to, text.lengths, text.breaks, text.figures);
  const edges = [start, ...starts, to];
  const lines = edges.slice(0, -1).map((from, n) =>
    text.words
      .slice(from, edges[n + 1])
      .map(({ text: word }) => word)
      .join(" "),
  );
  const voice = text.words[start]?.voice ?? null;
  return { ...timesOf(text, start, to), parts: [{ voice, language: null, words: lines.join("\n") }] };
}
