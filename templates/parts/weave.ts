import { type Blocks, lyingThread, tenths } from "../../src/model/strip.ts";
import type { Weave } from "../../src/pages/types.ts";

/** Standing, what lies along stands down. */
const standingThread = (blocks: Blocks, across: number): string =>
  blocks.map(([at, long]) => `M${across} ${tenths(at)}h9v${tenths(long)}h-9z`).join("");

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
