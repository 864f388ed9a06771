import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { alignBanded } from "../../src/derive/align/band.ts";
import { COST, type PairCosts, pairCosts } from "../../src/derive/align/costs.ts";
import { saidWords } from "../../src/derive/align/said.ts";

/** The plain quadratic algorithm, its whole table in memory. */
function plainCost(costs: PairCosts, gap: number): number {
  const table = Array.from({ length: costs.rows + 1 }, (_, i) =>
    Array.from({ length: costs.columns + 1 }, (_, j) => (i + j) * gap),
  );
  for (let i = 1; i <= costs.rows; i++) {
    for (let j = 1; j <= costs.columns; j++) {
      const row = table[i] ?? [];
      row[j] = Math.min(
        (table[i - 1]?.[j - 1] ?? 0) + costs.of(i - 1, j - 1),
        (table[i - 1]?.[j] ?? 0) + gap,
        (row[j - 1] ?? 0) + gap,
      );
    }
  }
  return table[costs.rows]?.[costs.columns] ?? 0;
}

/** What the moves cost, walked through. */
function walked(costs: PairCosts, gap: number, moves: ReturnType<typeof alignBanded>["moves"]): number {
  let [i, j, sum] = [0, 0, 0];
  for (const move of moves) {
    sum += move === "pair" ? costs.of(i, j) : gap;
    if (move !== "column") i++;
    if (move !== "row") j++;
  }
  expect([i, j]).toEqual([costs.rows, costs.columns]);
  return sum;
}

const words = (text: string) => saidWords(text.split(" ").filter((word) => word !== ""));

describe("the cheapest alignment", () => {
  const word = fc.constantFrom(
    "ferry",
    "fairy",
    "nine",
    "9",
    "fifth",
    "5",
    "Sollen.",
    "sullen",
    "the",
    "The",
    "a",
    "islands",
    "wilson",
    "Ilse",
  );
  const text = (maxLength: number) => fc.array(word, { maxLength });

  test("costs what the plain quadratic one does", () => {
    fc.assert(
      fc.property(text(60), text(60), (one, other) => {
        const costs = pairCosts(saidWords(one), saidWords(other));
        const { cost, moves, isLeast } = alignBanded(costs, COST.gap);
        expect(cost).toBe(plainCost(costs, COST.gap));
        expect(walked(costs, COST.gap, moves)).toBe(cost);
        expect(isLeast).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  test("also where the band has to widen: passages of hundreds of words moved, missing or put in", () => {
    const passage = fc.array(word, { minLength: 100, maxLength: 220 });
    fc.assert(
      fc.property(passage, passage, passage, (a, b, c) => {
        for (const [one, other] of [
          [
            [...a, ...b, ...c],
            [...b, ...c, ...a],
          ],
          [
            [...a, ...b, ...c],
            [...a, ...c],
          ],
          [
            [...b, ...c],
            [...c, ...a, ...b, ...a],
          ],
        ]) {
          const costs = pairCosts(saidWords(one ?? []), saidWords(other ?? []));
          const { cost, moves } = alignBanded(costs, COST.gap);
          expect(cost).toBe(plainCost(costs, COST.gap));
          expect(walked(costs, COST.gap, moves)).toBe(cost);
        }
      }),
      { numRuns: 12 },
    );
  });

  test.each([
    ["two empty texts", "", "", 0],
    ["nothing against three", "", "one two three", 3 * COST.gap],
    ["three against nothing", "one two three", "", 3 * COST.gap],
  ])("%s", (_why, one, other, cost) =>
    expect(alignBanded(pairCosts(words(one), words(other)), COST.gap).cost).toBe(cost),
  );
});

describe("what words cost against each other", () => {
  const cost = (one: string, other: string) => pairCosts(words(one), words(other)).of(0, 0);
  test("the same word is free; its case and its stop cost little", () => {
    expect(cost("ferry", "ferry")).toBe(0);
    expect(cost("ferry", "Ferry")).toBe(COST.capital);
    expect(cost("ferry", "ferry.")).toBe(COST.stop);
  });
  test("a numeral is its word, and near its ordinal", () => {
    expect(cost("nine", "9")).toBe(0);
    expect(cost("fifth", "5")).toBe(COST.ordinal);
    expect(cost("5th", "five")).toBe(COST.ordinal);
  });
  test("words that sound alike are nearer than words that don't, and those than a gap each", () => {
    expect(cost("fairy", "ferry")).toBeLessThan(cost("wilson", "ferry"));
    expect(cost("sullen", "sollen")).toBeLessThan(COST.gap);
    expect(cost("wilson", "ferry")).toBe(COST.far);
    expect(COST.far).toBeLessThan(2 * COST.gap);
  });
});
