import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { HeardWord } from "../../src/listen/align.ts";
import { joinParts, partsOf } from "../../src/listen/alignParts.ts";

const NOTHING = { words: [], names: [] };
const word = (start: number): HeardWord => ({ start, end: start + 300, fit: 1 });

describe("words in parts", () => {
  test.each([
    [0, 4, 1],
    [100, 4, 1],
    [1199, 4, 1],
    [1200, 4, 2],
    [6000, 4, 4],
    [6000, 1, 1],
  ])("%i words, at most %i parts: %i", (count, most, parts) => {
    expect(partsOf(count, most)).toHaveLength(parts);
  });

  test("what each part hears of a whole is the whole again, however it was divided", () => {
    const words = fc.array(fc.boolean(), { minLength: 1, maxLength: 6000 });
    fc.assert(
      fc.property(words, fc.integer({ min: 1, max: 8 }), (isHeard, most) => {
        const whole = isHeard.map((own, n) => (own ? word(n * 400) : null));
        const parts = partsOf(whole.length, most);
        const heard = parts.map(({ from, to }) => ({ words: whole.slice(from, to), names: [] }));
        expect(joinParts(parts, heard, whole.length).words).toEqual(whole);
      }),
      { numRuns: 30 },
    );
  });

  test("parts go over into each other where both heard the same, not where one was lost at its end", () => {
    const whole = Array.from({ length: 1400 }, (_, n) => word(n * 400));
    const parts = partsOf(whole.length, 2);
    const heard = parts.map(({ from, to }) => ({ words: whole.slice(from, to), names: [] }));
    const [first = NOTHING, second = NOTHING] = heard;
    // The first was lost from its 690th word on, the second until there were 30 of its own.
    const lost = first.words.map((own, n) => (own === null || n < 690 ? own : word(own.start + 3000)));
    const late = second.words.map((own, n) => (own === null || n >= 30 ? own : word(own.start - 2000)));
    expect(
      joinParts(
        parts,
        [
          { words: lost, names: [] },
          { words: late, names: [] },
        ],
        1400,
      ).words,
    ).toEqual(whole);
  });

  test("where they agree on nothing, time still goes on", () => {
    const whole = Array.from({ length: 1400 }, (_, n) => word(n * 400));
    const parts = partsOf(whole.length, 2);
    const heard = parts.map(({ from, to }, n) => ({
      words: whole.slice(from, to).map((own) => word(own.start + (n === 0 ? 5000 : 0))),
      names: [],
    }));
    const starts = joinParts(parts, heard, 1400).words.flatMap((own) => (own === null ? [] : [own.start]));
    expect(starts).toEqual(starts.toSorted((a, b) => a - b));
    expect(starts.length).toBeGreaterThan(1380);
  });

  test("a name that two parts hear in one place is heard once, as the one that heard it better did", () => {
    const name = (start: number, fit: number, who = "Ruan Skelland") => ({ name: who, start, end: start + 800, fit });
    const heard = [
      { words: [], names: [name(1000, 1), name(9000, 0.5)] },
      { words: [], names: [name(9010, 0.7), name(9400, 0.2, "Joss Tolvey"), name(20_000, 1)] },
    ];
    expect(joinParts(partsOf(2000, 2), heard, 2000).names).toEqual([name(1000, 1), name(9010, 0.7), name(20_000, 1)]);
  });
});
