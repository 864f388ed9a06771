import { describe, expect, test } from "vitest";
import { cheapestPath, levelOfShare, runsOf, windowMean } from "../../src/listen/kindTools.ts";
import { spectrum } from "../../src/listen/spectrum.ts";
import { noise, sine } from "../support/sounds.ts";

test("a spectrum is the textbook's sum, behind a Hann window", () => {
  const length = 64;
  const samples = noise(length + 5, 1);
  const found = [...spectrum(length).of(samples, 5)];
  const wanted = found.map((_, k) => {
    let [re, im] = [0, 0];
    for (let n = 0; n < length; n++) {
      const own = (samples[5 + n] ?? 0) * (0.5 - 0.5 * Math.cos((2 * Math.PI * n) / length));
      re += own * Math.cos((2 * Math.PI * k * n) / length);
      im -= own * Math.sin((2 * Math.PI * k * n) / length);
    }
    return re * re + im * im;
  });
  expect(found).toHaveLength(length / 2);
  found.forEach((own, k) => {
    expect(own).toBeCloseTo(wanted[k] ?? -1, 8);
  });
});

test("a tone stands in its bin", () => {
  const power = [...spectrum(512).of(sine(16_000, 0.1, 1000), 0)];
  expect(power.indexOf(Math.max(...power))).toBe(32);
});

test("a window's mean has fewer values at the ends", () => {
  expect([...windowMean(Float64Array.from([1, 2, 6, 3]), 1)]).toEqual([1.5, 3, 11 / 3, 4.5]);
});

test.each([
  [
    [0, 1, 1, 0, 1],
    1,
    [
      { start: 1, end: 3 },
      { start: 4, end: 5 },
    ],
  ],
  [[0, 1, 1, 0, 1], 2, [{ start: 1, end: 3 }]],
  [[1, 1], 1, [{ start: 0, end: 2 }]],
  [[], 1, []],
  [[0, 0], 1, []],
])("runs of %j, %i or longer", (values, least, wanted) => {
  expect(runsOf(values, 1, least)).toEqual(wanted);
});

describe("the level of a share", () => {
  const levels = Float64Array.from({ length: 1000 }, (_, n) => -n / 10);
  test.each([
    [0.05, -95],
    [0.5, -50],
    [0.95, -5],
  ])("%f", (share, wanted) => {
    expect(Math.abs(levelOfShare(levels, share) - wanted)).toBeLessThanOrEqual(0.25);
  });
  test("what is lower or higher than all levels is counted with the last", () => {
    expect(levelOfShare(Float64Array.from([Number.NEGATIVE_INFINITY]), 0.5)).toBeLessThan(-100);
    expect(levelOfShare(new Float64Array(0), 0.5)).toBeLessThan(-100);
  });
});

describe("the cheapest path", () => {
  const pathOf = (costs: readonly (readonly number[])[], change: number) => [
    ...cheapestPath(Float32Array.from(costs.flat()), costs[0]?.length || 2, change),
  ];
  const [one, other] = [
    [0, 2],
    [2, 0],
  ] as const;
  test("stays where a change costs more than it saves, and changes where it saves more", () => {
    const costs = [one, one, one, other, other, one, one, one];
    expect(pathOf(costs, 3)).toEqual([0, 0, 0, 0, 0, 0, 0, 0]);
    expect(pathOf(costs, 1)).toEqual([0, 0, 0, 1, 1, 0, 0, 0]);
  });
  test("is as cheap as the cheapest of all", () => {
    const draws = noise(7 * 3, 1);
    const costs = Array.from({ length: 7 }, (_, n) => [0, 1, 2].map((s) => draws[n * 3 + s] ?? 0));
    const priceOf = (path: readonly number[]) =>
      path.reduce((sum, s, n) => sum + (costs[n]?.[s] ?? 0) + (n > 0 && s !== path[n - 1] ? 0.4 : 0), 0);
    const all = Array.from({ length: 3 ** 7 }, (_, n) => costs.map((_own, at) => Math.floor(n / 3 ** at) % 3));
    expect(priceOf(pathOf(costs, 0.4))).toBeCloseTo(Math.min(...all.map(priceOf)), 9);
  });
  test("of nothing is nothing", () => expect(pathOf([[]], 1)).toEqual([]));
});
