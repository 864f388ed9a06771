import { firstWhere } from "../model/firstWhere.ts";
import { foldText } from "./fold.ts";
import type { Bounds } from "./stretch.ts";
import { tokensIn, type WorkingPart } from "./words.ts";

/**
 * The parts of an episode under work, to be looked up by their words and by when their cues start: an episode may have
 * tens of thousands of parts and of corrections, and none of these must go through all of those.
 */
export interface PartIndex {
  readonly parts: readonly WorkingPart[];
  /** The parts, by number and in file order, whose cues start in a stretch; of null, all parts. */
  within(stretch: Bounds | null): readonly number[];
  /** The parts that a word stands in, by number and in file order; it may also have stood there before. */
  having(word: string): readonly number[];
  /** The name of a part's speaker, folded; "" where nobody is named. */
  voiceOf(part: WorkingPart): string;
  /** To be called when the words of a part have become others. */
  changed(part: WorkingPart): void;
}

export function partIndexOf(parts: readonly WorkingPart[]): PartIndex {
  const all = parts.map((_, number) => number);
  const startOf = (number: number): number => parts[number]?.cue.start ?? 0;
  const stretches = new Map<string, readonly number[]>();
  const voices = new Map<string, string>();
  // Both are made when they are first asked for: most episodes have no correction.
  let [byStart, byWord]: [readonly number[] | null, Map<string, number[]> | null] = [null, null];
  return {
    parts,
    within(stretch) {
      if (stretch === null) return all;
      const key = `${stretch.from} ${stretch.to}`;
      const known = stretches.get(key);
      if (known !== undefined) return known;
      byStart ??= all.toSorted((a, b) => startOf(a) - startOf(b));
      const order = byStart;
      const first = (time: number) => firstWhere(order.length, (place) => startOf(order[place] ?? 0) >= time);
      const own = order.slice(first(stretch.from), first(stretch.to)).sort((a, b) => a - b);
      stretches.set(key, own);
      return own;
    },
    having(word) {
      byWord ??= numbersByWord(parts);
      return byWord.get(word) ?? [];
    },
    voiceOf({ voice }) {
      const folded = voices.get(voice ?? "") ?? foldText(voice ?? "");
      voices.set(voice ?? "", folded);
      return folded;
    },
    changed(part) {
      if (byWord === null) return;
      for (const { text } of tokensIn(part)) {
        const own = byWord.get(text) ?? [];
        const place = placeIn(own, part.number);
        if (own[place] !== part.number) own.splice(place, 0, part.number);
        byWord.set(text, own);
      }
    },
  };
}

/** Where a number stands, or would stand, among numbers that rise. */
export const placeIn = (rising: readonly number[], number: number): number =>
  firstWhere(rising.length, (place) => (rising[place] ?? 0) >= number);

function numbersByWord(parts: readonly WorkingPart[]): Map<string, number[]> {
  const byWord = new Map<string, number[]>();
  for (const part of parts) {
    for (const { text } of tokensIn(part)) {
      const own = byWord.get(text);
      if (own === undefined) byWord.set(text, [part.number]);
      else if (own.at(-1) !== part.number) own.push(part.number);
    }
  }
  return byWord;
}
