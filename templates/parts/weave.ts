import type { Weave } from "../../src/pages/types.ts";

type Blocks = Weave["studio"];

/** Two decimals are finer than a pixel of any strip. */
const short = (value: number): number => Math.round(value * 10) / 10;

/**
 * The path of one thread, a block a paragraph, in a box of 20 across and one unit a second along.
 * `across`: where the thread begins, 0 for the studio, 11 for the others; it is 9 wide.
 */
const lyingThread = (blocks: Blocks, across: number, from: number): string =>
  blocks.map(([at, long]) => `M${short(from + at)} ${across}h${short(long)}v9h${short(-long)}z`).join("");
const standingThread = (blocks: Blocks, across: number): string =>
  blocks.map(([at, long]) => `M${across} ${short(at)}h9v${short(long)}h-9z`).join("");

export interface Threads {
  readonly studio: string;
  readonly others: string;
}

/** A strip lying down: time runs in the direction of the words, `from` seconds in. */
export const lying = ({ studio, others }: Weave, from = 0): Threads => ({
  studio: lyingThread(studio, 0, from),
  others: lyingThread(others, 11, from),
});

/** A strip standing: time runs down. */
export const standing = ({ studio, others }: Weave): Threads => ({
  studio: standingThread(studio, 0),
  others: standingThread(others, 11),
});
