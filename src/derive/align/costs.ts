import { doubleMetaphone } from "double-metaphone";
import { distance } from "fastest-levenshtein";
import { ORDINALS, type SaidWord } from "./said.ts";

/**
 * What it costs to read one word for another, in whole hundredths, so that sums are exact. A word left out and one put
 * in cost less than two that have nothing in common, but more than two that sound alike. Chosen on the demo's three
 * broadcasts; no source.
 */
export const COST = { gap: 65, far: 120, near: 25, ordinal: 20, capital: 2, stop: 3 } as const;

/** What two rows of words cost where they stand against each other. */
export interface PairCosts {
  readonly rows: number;
  readonly columns: number;
  /** The cost of row `i` against column `j`. */
  of(i: number, j: number): number;
}

interface Vocabulary {
  readonly ids: Int32Array;
  readonly words: readonly string[];
  readonly keys: readonly (readonly [string, string])[];
}

function vocabularyOf(said: readonly SaidWord[]): Vocabulary {
  const known = new Map<string, number>();
  const ids = Int32Array.from(said, ({ said: word }) => {
    const id = known.get(word) ?? known.size;
    known.set(word, id);
    return id;
  });
  const words = [...known.keys()];
  return { ids, words, keys: words.map((word) => doubleMetaphone(word)) };
}

/** Bit 0: a capital; bit 1: a stop after it. */
const marksOf = (said: readonly SaidWord[]): Uint8Array =>
  Uint8Array.from(said, ({ capital, stop }) => (capital ? 1 : 0) + (stop ? 2 : 0));

const MARKS = [0, COST.capital, COST.stop, COST.capital + COST.stop] as const;

/** The costs of two texts: a pair of words is judged once, however often it meets. */
export function pairCosts(rows: readonly SaidWord[], columns: readonly SaidWord[]): PairCosts {
  const [a, b] = [vocabularyOf(rows), vocabularyOf(columns)];
  const [marksA, marksB] = [marksOf(rows), marksOf(columns)];
  /** 255: not judged yet. */
  const judged = new Uint8Array(a.words.length * b.words.length).fill(255);
  return {
    rows: rows.length,
    columns: columns.length,
    of(i, j) {
      const [x, y] = [a.ids[i] ?? 0, b.ids[j] ?? 0];
      const at = x * b.words.length + y;
      let cost = judged[at] ?? 0;
      if (cost === 255) {
        cost = wordCost(a, x, b, y);
        judged[at] = cost;
      }
      return cost + (MARKS[(marksA[i] ?? 0) ^ (marksB[j] ?? 0)] ?? 0);
    },
  };
}

function wordCost(a: Vocabulary, x: number, b: Vocabulary, y: number): number {
  const [one = "", other = ""] = [a.words[x], b.words[y]];
  if (one === other) return 0;
  if (ORDINALS.get(one) === other || ORDINALS.get(other) === one) return COST.ordinal;
  const [keyOne, keyOther] = [a.keys[x]?.[0] ?? "", b.keys[y]?.[0] ?? ""];
  const unlike = Math.min(unlikeness(keyOne, keyOther), unlikeness(one, other));
  return Math.round(COST.near + (COST.far - COST.near) * Math.min(1, unlike * 1.2));
}

/** From 0, the same, to 1, nothing in common: edits over the longer one's length. */
function unlikeness(one: string, other: string): number {
  const longer = Math.max(one.length, other.length);
  if (longer === 0 || Math.abs(one.length - other.length) > longer * 0.8) return 1;
  return distance(one, other) / longer;
}
