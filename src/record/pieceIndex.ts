import { firstWhere } from "../model/firstWhere.ts";
import { foldText } from "./fold.ts";
import type { Bounds } from "./stretch.ts";
import { tokensIn, type WorkingPiece } from "./words.ts";

/**
 * The pieces of an episode under work, to be looked up by their words and by when their cues start: an episode may have
 * tens of thousands of pieces and of corrections, and none of these must go through all of those.
 */
export interface PieceIndex {
  readonly pieces: readonly WorkingPiece[];
  /** The pieces, by number and in file order, whose cues start in a stretch; of null, all pieces. */
  within(stretch: Bounds | null): readonly number[];
  /** The pieces that a word stands in, by number and in file order; it may also have stood there before. */
  having(word: string): readonly number[];
  /** The name of a piece's speaker, folded; "" where nobody is named. */
  voiceOf(piece: WorkingPiece): string;
  /** To be called when the words of a piece have become others. */
  changed(piece: WorkingPiece): void;
}

export function pieceIndexOf(pieces: readonly WorkingPiece[]): PieceIndex {
  const all = pieces.map((_, number) => number);
  const startOf = (number: number): number => pieces[number]?.cue.start ?? 0;
  const stretches = new Map<string, readonly number[]>();
  const voices = new Map<string, string>();
  // Both are made when they are first asked for: most episodes have no correction.
  let [byStart, byWord]: [readonly number[] | null, Map<string, number[]> | null] = [null, null];
  return {
    pieces,
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
      byWord ??= numbersByWord(pieces);
      return byWord.get(word) ?? [];
    },
    voiceOf({ voice }) {
      const folded = voices.get(voice ?? "") ?? foldText(voice ?? "");
      voices.set(voice ?? "", folded);
      return folded;
    },
    changed(piece) {
      if (byWord === null) return;
      for (const { text } of tokensIn(piece)) {
        const own = byWord.get(text) ?? [];
        const place = placeIn(own, piece.number);
        if (own[place] !== piece.number) own.splice(place, 0, piece.number);
        byWord.set(text, own);
      }
    },
  };
}

/** Where a number stands, or would stand, among numbers that rise. */
export const placeIn = (rising: readonly number[], number: number): number =>
  firstWhere(rising.length, (place) => (rising[place] ?? 0) >= number);

function numbersByWord(pieces: readonly WorkingPiece[]): Map<string, number[]> {
  const byWord = new Map<string, number[]>();
  for (const piece of pieces) {
    for (const { text } of tokensIn(piece)) {
      const own = byWord.get(text);
      if (own === undefined) byWord.set(text, [piece.number]);
      else if (own.at(-1) !== piece.number) own.push(piece.number);
    }
  }
  return byWord;
}
