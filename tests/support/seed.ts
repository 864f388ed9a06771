import fc from "fast-check";
import { onTestFailed } from "vitest";
import { type Random, randomFrom } from "./random.ts";

/**
 * `SEED=123 npm test -- FILE` draws again what a run drew that failed: fast-check tells its seed by itself, all other
 * random tests through `randomOfRun`. Left out: another one in every run.
 */
const given = process.env.SEED;
if (given !== undefined) fc.configureGlobal({ seed: Number(given) });

/** Random numbers for the test that calls this. Where it fails, their seed is told. */
export function randomOfRun(): Random {
  const seed = given === undefined ? Date.now() % 2 ** 31 : Number(given);
  onTestFailed(() => console.error(`SEED=${seed} draws the same again.`));
  return randomFrom(seed);
}
