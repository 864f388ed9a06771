import { syllable } from "syllable";
import { addAll } from "../../model/addAll.ts";
import type { RawBlock, SpokenWord } from "../../model/spoken.ts";
import type { Span } from "./lending.ts";
import { endsClause, endsSentence, endsWithComma } from "./stops.ts";

/**
 * How long speech takes, in milliseconds. The first two were fitted by least squares to the 4,080 words that a
 * recogniser timed in the three demo broadcasts, the pause at a full stop to their median; the pause at a comma is
 * common practice, no source.
 */
const PACE = { syllable: 30, letter: 57, stop: 380, comma: 150 } as const;

/**
 * How much slower than the rest a stretch of unknown length may be spoken before its end is taken to be a pause.
 * Common practice, no source.
 */
export const DRAWL = 1.3;

/** How much shorter than by nature words may be spoken before it is taken to be a fault. Common practice, no source. */
export const HASTE = 0.6;

/**
 * Syllables of a word as the `syllable` package counts them. Words it can't know: capitals are spelled out
 * (three for W), digits have two each, other scripts one for two letters.
 */
export function syllablesOf(word: string): number {
  const bare = word.replace(/[^\p{L}\p{N}]/gu, "");
  if (bare === "") return 0;
  const letters = bare.replace(/\P{L}/gu, "");
  const digits = bare.length - letters.length;
  if (/^\p{Lu}{2,4}$/u.test(letters)) return [...letters].reduce((sum, one) => sum + (one === "W" ? 3 : 1), digits * 2);
  const known = /[a-z]/i.test(letters) ? counted(letters) : Math.ceil([...letters].length / 2);
  return Math.max(digits * 2 + known, 1);
}

/** Counting takes ten times as long as all else about a word, and few words make most of a programme. */
const COUNTED = new Map<string, number>();
const MOST_COUNTED = 20_000;

function counted(letters: string): number {
  const known = COUNTED.get(letters);
  if (known !== undefined) return known;
  if (COUNTED.size >= MOST_COUNTED) COUNTED.clear();
  const own = syllable(letters);
  COUNTED.set(letters, own);
  return own;
}

/** How long a word takes to say, without the pause after it: milliseconds at the pace of the demo's speakers. */
export const speechOf = (word: string): number =>
  syllablesOf(word) * PACE.syllable + word.replace(/[^\p{L}\p{N}]/gu, "").length * PACE.letter;

/** The pause after a word, by its punctuation. */
export function pauseAfter(word: string): number {
  if (endsSentence(word)) return PACE.stop;
  return endsWithComma(word) || endsClause(word) ? PACE.comma : 0;
}

export interface WordTimes {
  /** Where the recording ends, in the transcript's clock; null when that is not known. */
  readonly end: number | null;
}

/** Words that have only one stretch of time between them. */
interface Stretch {
  readonly start: number;
  /** Null: it runs to the next stretch, or for as long as such words take. */
  readonly end: number | null;
  readonly words: readonly { readonly text: string; readonly voice: string | null }[];
}

/**
 * Every word of the blocks with its time. Inside a block times are shared out by syllables, letters and the pauses at
 * punctuation; blocks without a time share the stretch of the one before them.
 */
export const timeWords = (rawBlocks: readonly RawBlock[], times: WordTimes): readonly SpokenWord[] =>
  timedStretches(rawBlocks, times).flat();

/** The words of each stretch of time, with their times. */
function timedStretches(rawBlocks: readonly RawBlock[], { end }: WordTimes): readonly (readonly SpokenWord[])[] {
  const stretches = stretchesOf(rawBlocks);
  const speech = rememberedSpeech();
  const pace = paceOf(stretches, speech);
  return stretches.map((stretch, n) => {
    if (stretch.end !== null) return spread(stretch.words, stretch.start, stretch.end, speech);
    const next = stretches[n + 1]?.start ?? end;
    const texts = stretch.words.map(({ text }) => text);
    const natural = lengthOf(texts, speech) * (pace ?? 1);
    const open = next === null ? natural : Math.min(next - stretch.start, natural * (pace === null ? Infinity : DRAWL));
    return spread(stretch.words, stretch.start, stretch.start + Math.max(0, open), speech);
  });
}

/** `speechOf` that works out each word once: a long programme says the same few thousand. */
function rememberedSpeech(): typeof speechOf {
  const known = new Map<string, number>();
  return (word) => {
    const long = known.get(word) ?? speechOf(word);
    known.set(word, long);
    return long;
  };
}

/** Words this far inside a silent stretch may belong to the speech beside it, if no pause as long as this parts them. */
const [RAGGED, APART] = [1500, 400] as const;

/**
 * The words that were heard where somebody speaks, and those heard in a break or a cut where nobody does: the
 * recogniser's own. Of a stretch that is only partly silent, no more words are told apart than nobody could say in the
 * rest of it, because their times are estimates. Words that run on over the edge without a pause count as speech,
 * because cuts are measured more coarsely than words.
 * @param silent stretches where nobody speaks.
 */
export function heardOutside(
  rawBlocks: readonly RawBlock[],
  times: WordTimes,
  silent: readonly Span[],
): { readonly words: readonly SpokenWord[]; readonly inside: readonly SpokenWord[] } {
  const stretches = timedStretches(rawBlocks, times).filter((words) => words.length > 0);
  const spans = stretches.map((words) => ({ start: words[0]?.start ?? 0, end: words.at(-1)?.end ?? 0 }));
  const homes = spans.map((span) => silent.find(({ start, end }) => start <= span.start && span.end <= end) ?? null);
  const isJoined = (n: number, beside: number, edge: (home: Span) => number): boolean => {
    const [own, home, other] = [spans[n], homes[n] ?? null, spans[beside]];
    if (own === undefined || home === null || other === undefined || homes[beside] !== null) return false;
    const isNear = Math.abs(edge(home) - own.start) <= RAGGED && Math.abs(edge(home) - own.end) <= RAGGED;
    return isNear && Math.max(own.start - other.end, other.start - own.end) < APART;
  };
  for (let n = 0; n < spans.length; n++) if (isJoined(n, n - 1, ({ start }) => start)) homes[n] = null;
  for (let n = spans.length - 1; n >= 0; n--) if (isJoined(n, n + 1, ({ end }) => end)) homes[n] = null;
  const parted = stretches.map((words, n) => {
    const [from, to] = homes[n] === null ? sayable(words, silent) : [0, 0];
    return { words: words.slice(from, to), inside: [...words.slice(0, from), ...words.slice(to)] };
  });
  return { words: parted.flatMap(({ words }) => words), inside: parted.flatMap(({ inside }) => inside) };
}

/** Words [from, to) of a stretch that can be said in what of it is not silent: it runs into silence, or out of it. */
function sayable(words: readonly SpokenWord[], silent: readonly Span[]): readonly [number, number] {
  const [start, end] = [words[0]?.start ?? 0, words.at(-1)?.end ?? 0];
  const texts = words.map(({ text }) => text);
  const into = silent.find((span) => span.start < end && end <= span.end);
  const outOf = silent.find((span) => span.start <= start && start < span.end);
  if ((into === undefined) === (outOf === undefined)) return [0, words.length];
  const room = RAGGED / 2 + (into === undefined ? end - (outOf?.end ?? end) : into.start - start);
  let [from, to] = [0, words.length];
  while (to - from > 1 && lengthOf(texts.slice(from, to)) * HASTE > room) {
    if (into === undefined) from++;
    else to--;
  }
  return [from, to];
}

function stretchesOf(rawBlocks: readonly RawBlock[]): readonly Stretch[] {
  const stretches: { start: number; end: number | null; words: { text: string; voice: string | null }[] }[] = [];
  for (const { start, end, voice, text } of rawBlocks) {
    const words = text.split(" ").map((word) => ({ text: word, voice }));
    const last = stretches.at(-1);
    if (start !== null || last === undefined) stretches.push({ start: start ?? 0, end, words });
    else {
      addAll(last.words, words);
      last.end = end;
    }
  }
  return stretches;
}

const lengthOf = (words: readonly string[], speech = speechOf): number =>
  words.reduce((sum, word, n) => sum + speech(word) + (n === words.length - 1 ? 0 : pauseAfter(word)), 0);

/** Few words say little of a speaker's pace. */
const TELLING = 15;

/** The pace of this programme against that of the demo's speakers: the median of its stretches; null when it has none. */
function paceOf(stretches: readonly Stretch[], speech: typeof speechOf): number | null {
  const paces = stretches.flatMap(({ start, end, words }, n) => {
    const to = end ?? stretches[n + 1]?.start;
    if (to === undefined || to <= start || words.length < TELLING) return [];
    return [
      (to - start) /
        lengthOf(
          words.map(({ text }) => text),
          speech,
        ),
    ];
  });
  return paces.sort((a, b) => a - b)[paces.length >> 1] ?? null;
}

/** Words shared out over a stretch of time, in whole milliseconds. `speech`: how long each takes by nature. */
export function spread<W extends { readonly text: string }>(
  words: readonly W[],
  start: number,
  end: number,
  speech = speechOf,
): readonly (W & { readonly start: number; readonly end: number })[] {
  let at = 0;
  const spans = words.map(({ text }) => {
    const from = at;
    const to = from + speech(text);
    at = to + pauseAfter(text);
    return { from, to };
  });
  const scale = (end - start) / (spans.at(-1)?.to || 1);
  return words.map((word, n) => {
    const { from = 0, to = 0 } = spans[n] ?? {};
    return { ...word, start: Math.round(start + from * scale), end: Math.round(start + to * scale) };
  });
}

/** More words than a caption has: only their beginning has a time. Common practice, no source. */
const MANY_WORDS = 25;
/** The share of such words from which an episode's times are said to be guesses. */
const GUESSED_SHARE = 0.25;

/** Whether the times of these words are guesses: too many of them share one time, or have none. */
export function areTimesGuessed(rawBlocks: readonly RawBlock[]): boolean {
  const counts = rawBlocks.map(({ text, start }) => ({ words: text.split(" ").length, start }));
  const all = counts.reduce((sum, { words }) => sum + words, 0);
  const guessed = counts.reduce((sum, { words, start }) => sum + (start === null || words > MANY_WORDS ? words : 0), 0);
  return guessed > all * GUESSED_SHARE;
}
