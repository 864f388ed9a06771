import type { PairCosts } from "./costs.ts";

/** What an alignment does at each step: both texts go on, only the rows' text does, or only the columns'. */
export type Move = "pair" | "row" | "column";

export interface Alignment {
  readonly cost: number;
  readonly moves: readonly Move[];
  /** False where the texts are so long and so unlike that the band could not be made wide enough to be sure. */
  readonly isLeast: boolean;
}

const [PAIR, ROW, COLUMN] = [0, 1, 2] as const;
const MOVES = ["pair", "row", "column"] as const;

/** Half the band's width at first, in words: how far two texts of a programme drift apart before they meet again. */
const FIRST = 64;
/** The most cells that a band may have: a byte each. */
const MOST_CELLS = 160_000_000;

/**
 * The cheapest global alignment of two texts (Needleman and Wunsch 1970), in a band around the diagonal. Ukkonen's
 * bound (1985) widens the band until no path outside it can be cheaper: to leave a band of half width w and come back
 * takes 2(w + 1) gaps more than the lengths ask for.
 * @param gap the cost of a word that only one text has: whole, more than 0.
 */
export function alignBanded(costs: PairCosts, gap: number): Alignment {
  const { rows, columns } = costs;
  const uneven = Math.abs(rows - columns);
  const widest = Math.max(FIRST, Math.floor((MOST_CELLS / (rows + 1) - uneven - 1) / 2));
  let half = FIRST;
  for (;;) {
    const { cost, steps } = fillBand(costs, gap, half);
    const enough = Math.ceil((cost - gap * uneven) / (2 * gap)) - 1;
    if (half >= enough || half >= Math.max(rows, columns))
      return { cost, moves: trace(costs, steps, half), isLeast: true };
    if (half >= widest) return { cost, moves: trace(costs, steps, half), isLeast: false };
    half = Math.min(enough, widest);
  }
}

/** The first column of a row's band, counted from the diagonal, and how many columns it has. */
function bandOf({ rows, columns }: PairCosts, half: number): { readonly low: number; readonly width: number } {
  const low = Math.min(0, columns - rows) - half;
  return { low, width: Math.max(0, columns - rows) + half - low + 1 };
}

const FAR = 1_000_000_000;

function fillBand(costs: PairCosts, gap: number, half: number): { readonly cost: number; readonly steps: Uint8Array } {
  const { rows, columns } = costs;
  const { low, width } = bandOf(costs, half);
  const steps = new Uint8Array((rows + 1) * width);
  /** One cell before and one after the band are never reached. */
  let above = new Int32Array(width + 2).fill(FAR);
  let here = new Int32Array(width + 2).fill(FAR);
  for (let i = 0; i <= rows; i++) {
    here.fill(FAR);
    const from = Math.max(0, -(i + low));
    const to = Math.min(width, columns - i - low + 1);
    for (let k = from; k < to; k++) {
      const j = i + low + k;
      let best = i === 0 && j === 0 ? 0 : FAR;
      let step: number = PAIR;
      if (i > 0 && j > 0) best = (above[k + 1] ?? FAR) + costs.of(i - 1, j - 1);
      const left = (here[k] ?? FAR) + gap;
      if (left < best) {
        best = left;
        step = COLUMN;
      }
      const up = (above[k + 2] ?? FAR) + gap;
      if (up < best) {
        best = up;
        step = ROW;
      }
      here[k + 1] = best;
      steps[i * width + k] = step;
    }
    [above, here] = [here, above];
  }
  return { cost: above[columns - rows - low + 1] ?? FAR, steps };
}

function trace(costs: PairCosts, steps: Uint8Array, half: number): readonly Move[] {
  const { low, width } = bandOf(costs, half);
  const moves: Move[] = [];
  let [i, j] = [costs.rows, costs.columns];
  while (i > 0 || j > 0) {
    const step = steps[i * width + j - i - low] ?? PAIR;
    moves.push(MOVES[step] ?? "pair");
    if (step !== COLUMN) i--;
    if (step !== ROW) j--;
  }
  return moves.reverse();
}
