import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Lump } from "../../src/model/spoken.ts";
import { mendTimes } from "../../src/read/raw/mendTimes.ts";
import { rulesOf } from "./raw.ts";

const lump = (start: number | null, end: number | null, text = "one two three"): Lump => ({
  start,
  end,
  voice: null,
  text,
  at: { file: "raw.vtt", line: 1, column: 1 },
});
const times = (lumps: readonly Lump[]) => lumps.map(({ start, end }) => [start, end]);

describe("times that can't hold", () => {
  test.each([
    [
      "sound times stay",
      [lump(0, 2000), lump(2000, 4000)],
      [
        [0, 2000],
        [2000, 4000],
      ],
      [],
    ],
    [
      "negative",
      [lump(-500, 1000), lump(2000, 4000)],
      [
        [null, 1000],
        [2000, 4000],
      ],
      ["raw-time-negative"],
    ],
    [
      "an end before its start",
      [lump(3000, 1000), lump(5000, 7000)],
      [
        [3000, null],
        [5000, 7000],
      ],
      ["raw-end-before-start"],
    ],
    [
      "two at once",
      [lump(0, 3000), lump(2000, 4000)],
      [
        [0, 2000],
        [2000, 4000],
      ],
      ["raw-times-overlap"],
    ],
    [
      "none at all",
      [lump(null, null), lump(null, null)],
      [
        [null, null],
        [null, null],
      ],
      [],
    ],
  ])("%s", (_why, lumps, wanted, rules) => {
    const { lumps: mended, findings } = mendTimes(lumps, true);
    expect(times(mended)).toEqual(wanted);
    expect(rulesOf(findings)).toEqual(rules);
  });

  test("cues out of order are sorted; a paragraph's stray time is taken away", () => {
    const cues = [lump(9000, 11_000, "third c c"), lump(0, 2000, "first a a"), lump(4000, 6000, "second b b")];
    expect(mendTimes(cues, true).lumps.map(({ text }) => text[0])).toEqual(["f", "s", "t"]);
    const stray = mendTimes([lump(0, null), lump(60_000, null), lump(4000, null), lump(8000, null)], false);
    expect(times(stray.lumps)).toEqual([
      [0, null],
      [null, null],
      [4000, null],
      [8000, null],
    ]);
    expect(rulesOf(stray.findings)).toEqual(["raw-time-stray"]);
  });

  test("stalled lumps share the time up to the next words", () => {
    const packed = "a b c d e f g h i j";
    const { lumps, findings } = mendTimes(
      [lump(0, 4000), lump(4000, 4300, packed), lump(4300, 4600, packed), lump(14_000, 16_000)],
      true,
    );
    expect(times(lumps)).toEqual([
      [0, 4000],
      [4000, null],
      [null, null],
      [14_000, 16_000],
    ]);
    expect(rulesOf(findings)).toEqual(["raw-times-stalled"]);
  });

  test("of thousands that stalled, the words of each are counted once", () => {
    let asked = 0;
    const counting = (own: Lump): Lump => ({
      ...own,
      get text() {
        asked++;
        return own.text;
      },
    });
    const lumps = Array.from({ length: 3000 }, (_, n) => counting(lump(n, n + 1)));
    expect(rulesOf(mendTimes(lumps, true).findings)).toEqual(["raw-times-stalled"]);
    // Once to count, and once to copy the lump.
    expect(asked).toBeLessThanOrEqual(2 * lumps.length);
  });
});

test("whatever the times, no word is lost, none is negative, and starts rise", () => {
  const time = fc.option(fc.integer({ min: -5000, max: 60_000 }), { nil: null });
  const word = fc.constantFrom("one", "two", "three", "four five six seven eight nine ten");
  fc.assert(
    fc.property(fc.array(fc.tuple(time, time, word), { maxLength: 30 }), fc.boolean(), (entries, cues) => {
      const lumps = entries.map(([start, end, text], n) => lump(start, end, `${text} ${n}`));
      const { lumps: mended } = mendTimes(lumps, cues);
      expect(mended.map(({ text }) => text).sort()).toEqual(lumps.map(({ text }) => text).sort());
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
  const lumps = Array.from({ length: 150_000 }, (_, n) => lump(n * 1000 + 900, n * 1000));
  expect(mendTimes(lumps, true).findings.length).toBeGreaterThanOrEqual(lumps.length);
});
