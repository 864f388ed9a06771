import { alignBanded } from "./band.ts";
import type { PairCosts } from "./costs.ts";

/** Least word edits from a reference to a transcript. */
export interface WordErrors {
  /** Words of the reference. */
  readonly words: number;
  readonly substitutions: number;
  readonly deletions: number;
  readonly insertions: number;
  /** (S + D + I) / N; null when the reference has no words. Not bounded by 1. */
  readonly rate: number | null;
}

/**
 * Word error rate: WER = (S + D + I) / N over the fewest edits. The words are compared as they are: fold them first.
 * Of several alignments with the same sum the one with the most substitutions counts.
 */
export function wordErrors(reference: readonly string[], transcript: readonly string[]): WordErrors {
  const { moves } = alignBanded(unitCosts(reference, transcript), 1);
  let [i, j, substitutions, deletions, insertions] = [0, 0, 0, 0, 0];
  for (const move of moves) {
    if (move === "pair" && reference[i] !== transcript[j]) substitutions++;
    if (move === "row") deletions++;
    if (move === "column") insertions++;
    if (move !== "column") i++;
    if (move !== "row") j++;
  }
  const edits = substitutions + deletions + insertions;
  const rate = reference.length === 0 ? null : edits / reference.length;
  return { words: reference.length, substitutions, deletions, insertions, rate };
}

function unitCosts(reference: readonly string[], transcript: readonly string[]): PairCosts {
  const known = new Map<string, number>();
  const idsOf = (words: readonly string[]) =>
    Int32Array.from(words, (word) => {
      const id = known.get(word) ?? known.size;
      known.set(word, id);
      return id;
    });
  const [a, b] = [idsOf(reference), idsOf(transcript)];
  return { rows: a.length, columns: b.length, of: (i, j) => (a[i] === b[j] ? 0 : 1) };
}
