import type { SpokenWord } from "../../model/spoken.ts";
import { DRAWL, pauseAfter, speechOf, spread } from "../cutting/wordTimes.ts";
import { alignBanded, type Move } from "./band.ts";
import { type Change, changesOf } from "./changes.ts";
import { COST, pairCosts } from "./costs.ts";
import { type SaidWord, saidWords } from "./said.ts";
import { type WordErrors, wordErrors } from "./wordErrors.ts";

/** A word without a time. */
export interface WrittenWord {
  readonly text: string;
  readonly voice: string | null;
}

export interface Retimed {
  readonly words: readonly SpokenWord[];
  readonly changes: readonly Change[];
  /** Of the old words against the new: small letters, no punctuation, numerals as number words. */
  readonly errors: WordErrors;
  /** False where the texts are so long and so unlike that a better alignment can't be ruled out. */
  readonly isLeast: boolean;
}

/** Gives the times of old words to new ones, by the cheapest global alignment of the two. */
export function retime(old: readonly SpokenWord[], written: readonly WrittenWord[]): Retimed {
  const [heard, said] = [saidWords(old.map(({ text }) => text)), saidWords(written.map(({ text }) => text))];
  const { moves, isLeast } = alignBanded(pairCosts(heard, said), COST.gap);
  const spans = spansOf(moves, timesOf(old, heard), said, written.length);
  return {
    words: fillIn(written, spans),
    changes: changesOf(moves, heard, said, old, written),
    errors: wordErrors(
      said.map((word) => word.said),
      heard.map((word) => word.said),
    ),
    isLeast,
  };
}

/** When something was said, in milliseconds. */
interface Span {
  readonly start: number;
  readonly end: number;
}

/** Times of words as said: those of one written word share its time. */
function timesOf(words: readonly SpokenWord[], said: readonly SaidWord[]): readonly Span[] {
  const counts = new Map<number, number>();
  for (const { of } of said) counts.set(of, (counts.get(of) ?? 0) + 1);
  let [last, nth] = [-1, 0];
  return said.map(({ of }) => {
    nth = of === last ? nth + 1 : 0;
    last = of;
    const { start, end } = words[of] ?? { start: 0, end: 0 };
    const each = (end - start) / (counts.get(of) ?? 1);
    return { start: start + each * nth, end: start + each * (nth + 1) };
  });
}

/** For each new word the time of the old words that it stands against; null where there are none. */
function spansOf(
  moves: readonly Move[],
  times: readonly Span[],
  said: readonly SaidWord[],
  count: number,
): (Span | null)[] {
  const spans: (Span | null)[] = Array.from({ length: count }, () => null);
  let [i, j] = [0, 0];
  for (const move of moves) {
    const [time, of] = [times[i], said[j]?.of];
    if (move === "pair" && time !== undefined && of !== undefined) {
      spans[of] = { start: spans[of]?.start ?? time.start, end: time.end };
    }
    if (move !== "column") i++;
    if (move !== "row") j++;
  }
  return spans;
}

/** How much shorter than by nature a run of new words may be spoken. Common practice, no source. */
export const HASTE = 0.6;

/** Words without a time stand between their neighbours; where there is no room, the neighbours give of theirs. */
function fillIn(written: readonly WrittenWord[], spans: readonly (Span | null)[]): readonly SpokenWord[] {
  const words: SpokenWord[] = [];
  for (let n = 0; n < written.length; n++) {
    const [word, span] = [written[n], spans[n]];
    if (word === undefined) continue;
    if (span !== null && span !== undefined) {
      words.push({ ...word, start: Math.round(span.start), end: Math.round(span.end) });
      continue;
    }
    let to = n;
    while (to < written.length && spans[to] === null) to++;
    const before = words.at(-1);
    const after = spans[to] ?? null;
    const run = written.slice(n, to);
    const room = roomFor(run, before, after);
    if (room !== null) words.push(...spread(run, room.start, room.end));
    else {
      const next = to < written.length ? written.slice(to, to + 1) : [];
      if (before !== undefined) words.pop();
      const start = before?.start ?? 0;
      const end = after?.end ?? start;
      words.push(...spread([...(before === undefined ? [] : [before]), ...run, ...next], start, end));
      if (next.length > 0) to++;
    }
    n = to - 1;
  }
  return words;
}

/** The stretch for a run of words between two others: beside the one it belongs to; null when it is too small. */
function roomFor(run: readonly WrittenWord[], before: SpokenWord | undefined, after: Span | null): Span | null {
  const wanted = run.reduce((sum, { text }) => sum + speechOf(text) + pauseAfter(text), 0);
  if (after === null) {
    const start = before?.end ?? 0;
    return { start, end: start + wanted };
  }
  const from = before?.end ?? Math.max(0, after.start - wanted);
  const free = after.start - from;
  if (free < wanted * HASTE) return null;
  const length = Math.min(free, wanted * DRAWL);
  const followsOn = before !== undefined && pauseAfter(before.text) === 0;
  return followsOn ? { start: from, end: from + length } : { start: after.start - length, end: after.start };
}
