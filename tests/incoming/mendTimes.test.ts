import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { RawBlock } from "../../src/model/spoken.ts";
import { mendTimes } from "../../src/read/incoming/mendTimes.ts";
import { rulesOf } from "./raw.ts";

const block = (start: number | null, end: number | null, text = "one two three"): RawBlock => ({
  start,
  end,
  voice: null,
  text,
  at: { file: "raw.vtt", line: 1, column: 1 },
});
const times = (rawBlocks: readonly RawBlock[]) => rawBlocks.map(({ start, end }) => [start, end]);

describe("times that can't hold", () => {
  test.each([
    [
      "sound times stay",
      [block(0, 2000), block(2000, 4000)],
      [
        [0, 2000],
        [2000, 4000],
      ],
      [],
    ],
    [
      "negative",
      [block(-500, 1000), block(2000, 4000)],
      [
        [null, 1000],
        [2000, 4000],
      ],
      ["raw-time-negative"],
    ],
    [
      "an end before its start",
      [block(3000, 1000), block(5000, 7000)],
      [
        [3000, null],
        [5000, 7000],
      ],
      ["raw-end-before-start"],
    ],
    [
      "two at once",
      [block(0, 3000), block(2000, 4000)],
      [
        [0, 2000],
        [2000, 4000],
      ],
      ["raw-times-overlap"],
    ],
    [
      "none at all",
      [block(null, null), block(null, null)],
      [
        [null, null],
        [null, null],
      ],
      [],
    ],
  ])("%s", (_why, rawBlocks, wanted, rules) => {
    const { rawBlocks: mended, findings } = mendTimes(rawBlocks, true);
    expect(times(mended)).toEqual(wanted);
    expect(rulesOf(findings)).toEqual(rules);
  });

  test("cues out of order are sorted; a paragraph's stray time is taken away", () => {
    const cues = [block(9000, 11_000, "third c c"), block(0, 2000, "first a a"), block(4000, 6000, "second b b")];
    expect(mendTimes(cues, true).rawBlocks.map(({ text }) => text[0])).toEqual(["f", "s", "t"]);
    const stray = mendTimes([block(0, null), block(60_000, null), block(4000, null), block(8000, null)], false);
    expect(times(stray.rawBlocks)).toEqual([
      [0, null],
      [null, null],
      [4000, null],
      [8000, null],
    ]);
    expect(rulesOf(stray.findings)).toEqual(["raw-time-stray"]);
  });

  test("stalled blocks share the time up to the next words", () => {
    const packed = "a b c d e f g h i j";
    const { rawBlocks, findings } = mendTimes(
      [block(0, 4000), block(4000, 4300, packed), block(4300, 4600, packed), block(14_000, 16_000)],
      true,
    );
    expect(times(rawBlocks)).toEqual([
      [0, 4000],
      [4000, null],
      [null, null],
      [14_000, 16_000],
    ]);
    expect(rulesOf(findings)).toEqual(["raw-times-stalled"]);
  });

  test("of thousands that stalled, the words of each are counted once", () => {
    let asked = 0;
    const counting = (own: RawBlock): RawBlock => ({
      ...own,
      get text() {
        asked++;
        return own.text;
      },
    });
    const rawBlocks = Array.from({ length: 3000 }, (_, n) => counting(block(n, n + 1)));
    expect(rulesOf(mendTimes(rawBlocks, true).findings)).toEqual(["raw-times-stalled"]);
    // Once to count, and once to copy the block.
    expect(asked).toBeLessThanOrEqual(2 * rawBlocks.length);
  });
});

test("whatever the times, no word is lost, none is negative, and starts rise", () => {
  const time = fc.option(fc.integer({ min: -5000, max: 60_000 }), { nil: null });
  const word = fc.constantFrom("one", "two", "three", "four five six seven eight nine ten");
  fc.assert(
    fc.property(fc.array(fc.tuple(time, time, word), { maxLength: 30 }), fc.boolean(), (entries, cues) => {
      const rawBlocks = entries.map(([start, end, text], n) => block(start, end, `${text} ${n}`));
      const { rawBlocks: mended } = mendTimes(rawBlocks, cues);
      expect(mended.map(({ text }) => text).sort()).toEqual(rawBlocks.map(({ text }) => text).sort());
      const starts = mended.flatMap(({ start }) => (start === null ? [] : [start]));
      expect(starts).toEqual([...starts].sort((a, b) => a - b));
      expect(starts.every((start) => start >= 0)).toBe(true);
      for (const { start, end } of mended)
        if (start !== null && end !== null) expect(end).toBeGreaterThanOrEqual(start);
    }),
    { numRuns: 500 },
  );
});

test("hundreds of thousands of findings are all there", () => {
  const rawBlocks = Array.from({ length: 150_000 }, (_, n) => block(n * 1000 + 900, n * 1000));
  expect(mendTimes(rawBlocks, true).findings.length).toBeGreaterThanOrEqual(rawBlocks.length);
});
