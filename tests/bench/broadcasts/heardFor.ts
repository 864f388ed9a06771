import { distance } from "fastest-levenshtein";
import type { TrueSentence } from "./lay.ts";
import type { Lump, Token } from "./lumps.ts";

export const mid = ({ start, end }: Pick<Token, "start" | "end">): number => (start + end) / 2;

/** Where what was heard for some words stands: in a lump, from a token to before another. */
export interface HeardPlace {
  readonly lump: number;
  readonly from: number;
  readonly to: number;
}

/** How far heard words may begin before their sentence or end after it: seconds. */
const EDGE = 0.12;

/**
 * What was heard for some words of a sentence: whatever lies between what was heard for the words before and after.
 * null where nothing was, where the words are not in the sentence, or where two lumps share them.
 */
export function heardFor(
  { start, end, spoken }: TrueSentence,
  words: string,
  lumps: readonly Lump[],
): HeardPlace | null {
  const said = spoken.split(" ");
  const own = words.split(" ");
  const first = said.findIndex((_, n) => own.every((word, k) => said[n + k] === word));
  if (first < 0) return null;
  const heard = lumps.flatMap(({ tokens }, lump) =>
    tokens.flatMap((token, n) => (mid(token) > start - EDGE && mid(token) < end + EDGE ? [{ lump, n, token }] : [])),
  );
  const pairs = paired(
    said,
    heard.map(({ token }) => token.text),
  );
  const before = pairs.slice(0, first).findLast((one) => one !== null) ?? -1;
  const after = pairs.slice(first + own.length).find((one) => one !== null) ?? heard.length;
  const [from, to] = [heard[before + 1], heard[after - 1]];
  if (from === undefined || to === undefined || after - before < 2 || from.lump !== to.lump) return null;
  return { lump: from.lump, from: from.n, to: to.n + 1 };
}

/** For each word the one of the others that it goes with, by least edits of letters. */
function paired(said: readonly string[], heard: readonly string[]): readonly (number | null)[] {
  const apart = (a: string, b: string) => (2 * distance(a, b)) / Math.max(a.length, b.length);
  const width = heard.length + 1;
  const cost = new Float64Array((said.length + 1) * width);
  const at = (i: number, j: number) => cost[i * width + j] ?? 0;
  for (let i = 0; i <= said.length; i++)
    for (let j = 0; j <= heard.length; j++) {
      if (i === 0 || j === 0) {
        cost[i * width + j] = i + j;
        continue;
      }
      const both = at(i - 1, j - 1) + apart(said[i - 1] ?? "", heard[j - 1] ?? "");
      cost[i * width + j] = Math.min(both, at(i - 1, j) + 1, at(i, j - 1) + 1);
    }
  const pairs: (number | null)[] = said.map(() => null);
  let [i, j] = [said.length, heard.length];
  while (i > 0 && j > 0) {
    if (at(i, j) === at(i - 1, j) + 1) i--;
    else if (at(i, j) === at(i, j - 1) + 1) j--;
    else {
      i--;
      j--;
      pairs[i] = j;
    }
  }
  return pairs;
}
