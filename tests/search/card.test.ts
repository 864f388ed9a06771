import { describe, expect, test } from "vitest";
import { cardOf, writeCard } from "../../src/search/card.ts";
import type { SearchStrip } from "../../src/search/segment.ts";
import { segmentWith } from "./segments.ts";

const strip: SearchStrip = {
  runs: 400,
  in: 100,
  out: 200,
  studio: [
    [0, 10],
    [20, 30],
  ],
  others: [[10, 10]],
  held: [[200, 50]],
};

describe("the card of a result", () => {
  test("says who speaks which paragraph", () => {
    const card = cardOf(segmentWith({}));
    expect(card.who).toEqual(["Tovar Quenby", "Ilse Marrane"]);
    expect(card.by).toEqual([0, -1, 1]);
  });
  test("has no white space, and is read back as it was", () => {
    const card = cardOf(segmentWith({ summary: "One line,\nanother\u00a0one\u2028and a third.", strip }));
    expect(writeCard(card)).not.toMatch(/\s/);
    expect(JSON.parse(writeCard(card))).toEqual(card);
  });
  test("draws the threads as gaps and lengths on a grid", () => {
    expect(cardOf(segmentWith({ strip })).strip).toEqual({
      runs: 400,
      steps: 800,
      in: 200,
      out: 400,
      studio: [0, 20, 20, 60],
      others: [20, 20],
      held: [400, 100],
    });
  });
  test("one block where two touch on the grid, in whatever order they come", () => {
    const touching = {
      ...strip,
      studio: [
        [10.1, 10],
        [0, 10],
      ] as const,
    };
    expect(cardOf(segmentWith({ strip: touching })).strip?.studio).toEqual([0, 40]);
  });
  test("a long programme stays small: the grid gets coarser, and ends where the programme ends", () => {
    const many = Array.from({ length: 400 }, (_, at) => [at * 10, 4] as const);
    const long: SearchStrip = { ...strip, runs: 4000, studio: many, others: many.map(([at]) => [at + 5, 4] as const) };
    const drawn = cardOf(segmentWith({ strip: long })).strip;
    const { studio = [], others = [], held = [] } = drawn ?? {};
    expect(JSON.stringify({ studio, others, held }).length).toBeLessThanOrEqual(600);
    expect(drawn?.steps).toBeLessThan(800);
    expect(studio.reduce((sum, step) => sum + step, 0)).toBeLessThanOrEqual(drawn?.steps ?? 0);
    expect(studio.every((step) => step >= 0)).toBe(true);
  });
});
