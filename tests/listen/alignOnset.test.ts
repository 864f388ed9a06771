import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { onsetOf } from "../../src/listen/alignOnset.ts";

/** Loudness by frame; as it stands in recordings of the bench's broadcasts, a frame in three. */
const loudnessOf = (frames: readonly number[]) => (frame: number) => frames[frame] ?? 0;
const thrice = (frames: readonly number[]) => frames.flatMap((one) => [one, one, one]);

describe("where a word's sound begins", () => {
  test.each([
    ["a rest before it, in wind", thrice([37, 36, 37, 36, 35, 36, 34, 35, 37, 44, 67, 73, 75, 69, 64]), 29],
    ["a rest, in a studio", thrice([17, 19, 18, 16, 12, 11, 8, 23, 61, 66, 57, 27]), 23],
    ["the end of the word before, and a rest", thrice([51, 41, 18, 9, 12, 17, 22, 19, 17, 14, 50, 61, 66, 67, 72]), 29],
    ["loud from the first", thrice([60, 66, 70, 71, 52, 44]), 0],
    ["a closure, no longer than a closure is", [20, 20, 20, 60, 66, 70, 71], 0],
    ["a rest inside, after a loud beginning", thrice([60, 66, 62, 64, 12, 11, 12, 60, 70]), 0],
    ["nothing but noise", thrice([35, 36, 35, 37, 36, 35, 38, 36]), 0],
    ["a rest after it", thrice([60, 70, 66, 52, 12, 11, 12, 11]), 0],
  ] as const)("%s", (_why, frames, expected) => {
    expect(onsetOf(loudnessOf(frames), 0, frames.length)).toBe(expected);
  });

  test("is never before the word, and never past its loudest frame", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 80 }), { minLength: 1, maxLength: 60 }), (frames) => {
        const loudness = loudnessOf([...Array(7).fill(5), ...frames]);
        const to = 7 + frames.length;
        const begins = onsetOf(loudness, 7, to);
        const peak = frames.indexOf(Math.max(...frames)) + 7;
        expect(begins).toBeGreaterThanOrEqual(7);
        expect(begins).toBeLessThanOrEqual(peak);
      }),
    );
  });
});
