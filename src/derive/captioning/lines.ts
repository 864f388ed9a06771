import type { CaptionFigures } from "../../model/captions.ts";
import type { Break } from "./breaks.ts";

/** Words laid into lines, and how badly they lie. */
export interface Layout {
  /** Where lines after the first begin, as numbers of words. */
  readonly starts: readonly number[];
  readonly cost: number;
}

/** What lines cost. Chosen by eye on the demo's three broadcasts; no source. */
const COST = { wide: 15, overflow: 4, torn: 15, break: 4, balance: 2, line: 0.4 } as const;

/** What a break costs where it falls at the end of a line. */
const breakCost = (at: Break): number => (at === "never" ? COST.torn : at * COST.break);

/**
 * The best way to lay words [from, to) into lines: no longer than the figures allow, broken where it reads well, and
 * of even length. One line is always better than two when it holds the words.
 * @param lengths lengths[n]: characters of the words before word n, one space after each.
 */
export function layLines(
  from: number,
  to: number,
  lengths: readonly number[],
  breaks: readonly Break[],
  figures: CaptionFigures,
): Layout {
  const widthOf = (a: number, b: number) => (lengths[b] ?? 0) - (lengths[a] ?? 0) - 1;
  const overflow = (width: number) => (width <= figures.line ? 0 : COST.wide + (width - figures.line) * COST.overflow);
  const whole = widthOf(from, to);
  const single: Layout = { starts: [], cost: overflow(whole) };
  if (whole <= figures.line || figures.lines < 2) return single;
  const fair = Math.ceil(whole / figures.lines);
  const best = (start: number, lines: number): Layout => {
    const rest = widthOf(start, to);
    const last = { starts: [], cost: overflow(rest) + unevenness(rest, fair) };
    if (lines === 1) return last;
    let chosen: Layout = last;
    for (let at = start + 1; at < to && widthOf(start, at) <= figures.line; at++) {
      const here = breakCost(breaks[at] ?? 1) + unevenness(widthOf(start, at), fair) + COST.line;
      if (here >= chosen.cost) continue;
      const after = best(at, lines - 1);
      if (here + after.cost < chosen.cost) chosen = { starts: [at, ...after.starts], cost: here + after.cost };
    }
    return chosen;
  };
  return best(from, figures.lines);
}

const unevenness = (width: number, fair: number): number => (COST.balance * Math.abs(width - fair)) / Math.max(fair, 1);
