import type { SpokenWord } from "../../model/spoken.ts";
import type { Span } from "../captioning/lending.ts";
import { alignBanded, type Move } from "./band.ts";
import { type Change, changesOf } from "./changes.ts";
import { COST, pairCosts } from "./costs.ts";
import { type SaidWord, saidWords } from "./said.ts";
import { type WordErrors, wordErrors } from "./wordErrors.ts";

/** A word without a time. */
export interface WrittenWord {
  readonly text: string;
  readonly voice: string | null;
  /** Nobody has accepted the voice yet: given only where it is so. */
  readonly proposed?: true;
}

/** Two texts laid against each other. */
export interface Aligned {
  /** For each written word the time of the old words that it stands against; null where there are none. */
  readonly spans: readonly (Span | null)[];
  /** For each written word the old word that is the same letter for letter and stands against it; null: none. */
  readonly same: readonly (number | null)[];
  readonly changes: readonly Change[];
  /** Of the old words against the new: small letters, no punctuation, numerals as number words. */
  readonly errors: WordErrors;
  /** False where the texts are so long and so unlike that a better alignment can't be ruled out. */
  readonly isLeast: boolean;
}

/** Lays two texts against each other, by the cheapest global alignment of what is said in them. */
export function align(old: readonly SpokenWord[], written: readonly WrittenWord[]): Aligned {
  const [heard, said] = [saidWords(old.map(({ text }) => text)), saidWords(written.map(({ text }) => text))];
  const { moves, isLeast } = alignBanded(pairCosts(heard, said), COST.gap);
  return {
    spans: spansOf(moves, timesOf(old, heard), said, written.length),
    same: sameOf(moves, { heard, said, old, written }),
    changes: changesOf(moves, heard, said, old, written),
    errors: wordErrors(
      said.map((word) => word.said),
      heard.map((word) => word.said),
    ),
    isLeast,
  };
}

interface Texts {
  readonly heard: readonly SaidWord[];
  readonly said: readonly SaidWord[];
  readonly old: readonly SpokenWord[];
  readonly written: readonly WrittenWord[];
}

/** Words that stand against each other and are written alike. What is not said, like a dash, goes with its neighbour. */
function sameOf(moves: readonly Move[], { heard, said, old, written }: Texts): readonly (number | null)[] {
  const same: (number | null)[] = written.map(() => null);
  const isSame = (i: number, j: number) => old[i] !== undefined && old[i].text === written[j]?.text;
  let [i, j] = [0, 0];
  for (const move of moves) {
    const [from, to] = [heard[i]?.of, said[j]?.of];
    if (move === "pair" && from !== undefined && to !== undefined && isSame(from, to)) same[to] = from;
    if (move !== "column") i++;
    if (move !== "row") j++;
  }
  const isSaid = new Set(said.map(({ of }) => of));
  const follow = (n: number, beside: number | null | undefined, step: number) => {
    if (beside === null || beside === undefined || isSaid.has(n) || !isSame(beside + step, n)) return;
    same[n] ??= beside + step;
  };
  written.forEach((_, n) => {
    follow(n, n === 0 ? -1 : same[n - 1], 1);
  });
  for (let n = written.length - 1; n >= 0; n--) follow(n, n === written.length - 1 ? old.length : same[n + 1], -1);
  return same;
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
