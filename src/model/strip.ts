/** How a programme is drawn as a strip, on pages and by scripts. */

/** Stretches from a moment, and how long they are. */
export type Blocks = readonly (readonly [from: number, long: number])[];

/** A part from 0 to 1 as a length for an SVG attribute: `40.27%`. */
export const percent = (part: number): string => `${Math.round(part * 10_000) / 100}%`;

/** Tenths of a second are finer than a pixel of any strip. */
export const tenths = (seconds: number): number => Math.round(seconds * 10) / 10;

/**
 * The path of one thread of a strip that lies down, a block a paragraph, in a box of 20 across and one unit a second (or
 * a step) along. `across`: where the thread begins, 0 for the studio, 11 for the others; it is 9 wide. `from`: how far
 * along the blocks begin to count.
 */
export const lyingThread = (blocks: Blocks, across: number, from = 0): string =>
  blocks.map(([at, long]) => `M${tenths(from + at)} ${across}h${tenths(long)}v9h${tenths(-long)}z`).join("");
