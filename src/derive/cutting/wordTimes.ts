import { syllable } from "syllable";
import type { Lump, SpokenWord } from "../../model/spoken.ts";
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
  const known = /[a-z]/i.test(letters) ? syllable(letters) : Math.ceil([...letters].length / 2);
  return Math.max(digits * 2 + known, 1);
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
 * Every word of the lumps with its time. Inside a lump times are shared out by syllables, letters and the pauses at
 * punctuation; lumps without a time share the stretch of the one before them.
 */
export function timeWords(lumps: readonly Lump[], { end }: WordTimes): readonly SpokenWord[] {
  const stretches = stretchesOf(lumps);
  const pace = paceOf(stretches);
  return stretches.flatMap((stretch, n) => {
    const next = stretches[n + 1]?.start ?? end;
    const natural = lengthOf(stretch.words.map(({ text }) => text)) * (pace ?? 1);
    const open = next === null ? natural : Math.min(next - stretch.start, natural * (pace === null ? Infinity : DRAWL));
    return spread(stretch.words, stretch.start, stretch.end ?? stretch.start + Math.max(0, open));
  });
}

function stretchesOf(lumps: readonly Lump[]): readonly Stretch[] {
  const stretches: { start: number; end: number | null; words: { text: string; voice: string | null }[] }[] = [];
  for (const { start, end, voice, text } of lumps) {
    const words = text.split(" ").map((word) => ({ text: word, voice }));
    const last = stretches.at(-1);
    if (start !== null || last === undefined) stretches.push({ start: start ?? 0, end, words });
    else {
      last.words.push(...words);
      last.end = end;
    }
  }
  return stretches;
}

const lengthOf = (words: readonly string[]): number =>
  words.reduce((sum, word, n) => sum + speechOf(word) + (n === words.length - 1 ? 0 : pauseAfter(word)), 0);

/** Few words say little of a speaker's pace. */
const TELLING = 15;

/** The pace of this programme against that of the demo's speakers: the median of its stretches; null when it has none. */
function paceOf(stretches: readonly Stretch[]): number | null {
  const paces = stretches.flatMap(({ start, end, words }, n) => {
    const to = end ?? stretches[n + 1]?.start;
    if (to === undefined || to <= start || words.length < TELLING) return [];
    return [(to - start) / lengthOf(words.map(({ text }) => text))];
  });
  return paces.sort((a, b) => a - b)[paces.length >> 1] ?? null;
}

/** Words shared out over a stretch of time, in whole milliseconds. */
export function spread<W extends { readonly text: string }>(
  words: readonly W[],
  start: number,
  end: number,
): readonly (W & { readonly start: number; readonly end: number })[] {
  const whole = lengthOf(words.map(({ text }) => text)) || 1;
  const scale = (end - start) / whole;
  let at = 0;
  return words.map((word) => {
    const from = at;
    const to = from + speechOf(word.text);
    at = to + pauseAfter(word.text);
    return { ...word, start: Math.round(start + from * scale), end: Math.round(start + to * scale) };
  });
}
