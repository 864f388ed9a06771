import { describe, expect, test } from "vitest";
import { measureClean } from "./measure/clean.ts";
import { measureFaults } from "./measure/generateFaults.ts";
import { confusionOf, measureIntroductions, measureStories } from "./measure/generateFigures.ts";
import { measureNames } from "./measure/generateNames.ts";
import { speechesSince } from "./measure/speeches.ts";
import { SUMS } from "./measure/sums.ts";
import { precisionOf, recallOf, type Tally } from "./measure/tally.ts";
import { REGISTER } from "./support.ts";

/** Another seed and other years than the bench's, so that neither is fitted to. */
const SEED = 31;
const SPEECHES = speechesSince(1925).slice(0, 12);

const isAtLeast = (tally: Tally, least: number): void => {
  expect(tally.planted).toBeGreaterThan(4);
  expect(recallOf(tally), tally.missed.join("\n")).toBeGreaterThanOrEqual(least);
  expect(precisionOf(tally), tally.wrong.join("\n")).toBeGreaterThanOrEqual(least);
};

describe("faults put into public speeches are found, and little else", { timeout: 60_000 }, () => {
  test("the recogniser's", async () => {
    for (const tally of (await measureFaults(SPEECHES, SEED)).values()) isAtLeast(tally, 0.9);
  });
  test("names mutated by sound and spelling", async () => {
    isAtLeast(await measureNames(SPEECHES, SEED), 0.9);
  });
  test("figures changed in an introduction", async () => {
    isAtLeast(await measureIntroductions(speechesSince(1990), SEED), 0.75);
  });
  test("figures changed in a report that can be worked out", async () => {
    for (const tally of (await measureStories(SEED, 24, SUMS)).values()) isAtLeast(tally, 0.85);
  });
  test("each of them by its own rule alone", async () => {
    for (const [kind, told] of await confusionOf(SEED, 12, SUMS))
      for (const rule of told.keys()) expect(["nothing", kind], kind).toContain(rule);
  });
  test("figures changed in a short report", async () => {
    for (const tally of (await measureStories(SEED, 12)).values()) isAtLeast(tally, 0.8);
  });
});

test("clean speeches give almost no recogniser faults, and few findings", { timeout: 60_000 }, async () => {
  const { halfHours, byRule } = await measureClean(speechesSince(1995), REGISTER);
  const count = (rules: readonly string[]) => rules.reduce((sum, rule) => sum + (byRule.get(rule)?.length ?? 0), 0);
  const recogniser = count([
    "phrase-loops",
    "sentence-said-twice",
    "words-in-break",
    "words-under-music",
    "stock-line",
    "times-stalled",
    "times-even",
    "pace-too-fast",
    "pace-too-slow",
    "stretch-missing",
  ]);
  expect(halfHours).toBeGreaterThan(25);
  expect(count(["share-disagrees", "speed-disagrees", "total-disagrees", "weekday-not-date"])).toBe(0);
  expect(recogniser / halfHours).toBeLessThan(0.35);
  expect([...byRule.values()].flat().length / halfHours).toBeLessThan(3);
});
