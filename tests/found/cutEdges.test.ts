import { describe, expect, test } from "vitest";
import { spread } from "../../src/derive/cutting/wordTimes.ts";
import { edgesOf, fitToCuts } from "../../src/derive/found/cutEdges.ts";
import { clockMs } from "../../src/model/units.ts";

const cut = (from: number, to: number) => ({ from: clockMs(from), to: clockMs(to) });
const said = (text: string, start: number, end: number) =>
  spread(
    text.split(" ").map((word) => ({ text: word, voice: null })),
    start,
    end,
  );
/** A report that ends at 20 s, a break up to 40 s, and sport after it; all three times estimated wrong. */
const words = [
  ...said("The ferries sail. They sail on nine days.", 8000, 22_500),
  ...said("Sport now. Sollen won again, by two goals.", 37_000, 50_000),
];
const first = 8;
const found = [
  { in: 0, out: 22_900, word: 0, confidence: 1 },
  { in: 22_900, out: 36_600, word: first, confidence: 0.3 },
  { in: 36_600, out: 60_000, word: first, confidence: 0.5 },
];

describe("a break cut from 20 s to 40 s", () => {
  const fitted = fitToCuts(words, found, [cut(20_000, 40_000)]);
  test("the in points next to it stand on its edges", () => {
    expect(fitted.found.map(({ in: start, out }) => [start, out])).toEqual([
      [0, 20_000],
      [20_000, 40_000],
      [40_000, 60_000],
    ]);
    expect(fitted.found.map(({ confidence }) => confidence)).toEqual([1, 0.95, 0.95]);
  });
  test("what was said before it ends by then, what was said after begins after", () => {
    expect(fitted.words.map(({ text }) => text)).toEqual(words.map(({ text }) => text));
    expect(fitted.words[first - 1]?.end).toBe(20_000);
    expect(fitted.words[first]?.start).toBe(40_400);
    fitted.words.forEach(({ start, end }, n) => {
      expect(end).toBeGreaterThanOrEqual(start);
      expect(start).toBeGreaterThanOrEqual(fitted.words[n - 1]?.end ?? 0);
    });
  });
  test("what was far from it stays", () => expect(fitted.words[0]?.start).toBe(8000));
});

test("in points far from a cut stay, and so do the words", () => {
  const fitted = fitToCuts(words, found, [cut(55_000, 58_000)]);
  expect(fitted.words).toEqual(words);
  expect(fitted.found).toEqual(found);
});

test("cuts that touch have one edge between them", () => {
  expect(edgesOf([cut(10, 20), cut(20, 30)])).toEqual([10, 20, 30]);
});
