import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { timeWords } from "../../src/derive/captioning/wordTimes.ts";
import type { RawBlock } from "../../src/model/spoken.ts";
import { EVENING, quantile, rawWords, truthOf } from "../support/evening.ts";

const block = (start: number | null, end: number | null, text: string): RawBlock => ({
  start,
  end,
  voice: null,
  text,
  at: { file: "raw.vtt", line: 1, column: 1 },
});

// Outside check: the recogniser's own word times, which the blocks were made from.
describe("times inside blocks, against the true ones", () => {
  const truth = rawWords(EVENING, "raw.words.json", null);
  test.each([
    ["raw.vtt", 300, 1500],
    ["raw.txt", 400, 1900],
  ])("%s: half within %d ms, nineteen in twenty within %d ms", (file, median, most) => {
    const estimated = rawWords(EVENING, file, truthOf(EVENING).duration * 1000);
    const errors = estimated.map(({ start }, n) => Math.abs(start - (truth[n]?.start ?? 0)));
    expect(estimated).toHaveLength(truth.length);
    expect(quantile(errors, 0.5)).toBeLessThan(median);
    expect(quantile(errors, 0.95)).toBeLessThan(most);
  });
});

describe("what is not timed", () => {
  test("a block without a time shares the stretch of the one before", () => {
    const words = timeWords([block(0, null, "one two"), block(null, null, "three four"), block(4000, 5000, "five")], {
      end: null,
    });
    expect(words.map(({ text }) => text)).toEqual(["one", "two", "three", "four", "five"]);
    expect(words[3]?.end).toBeLessThanOrEqual(4000);
    expect(words[4]?.start).toBe(4000);
  });

  test("plain text fills the recording", () => {
    const words = timeWords([block(null, null, "one two"), block(null, null, "three four")], { end: 10_000 });
    expect(words[0]?.start).toBe(0);
    expect(words.at(-1)?.end).toBe(10_000);
  });

  test("plain text without a recording runs at the pace of speech", () => {
    const words = timeWords([block(null, null, "nine sailings a week from Sollen")], { end: null });
    expect(words.at(-1)?.end).toBeGreaterThan(1500);
    expect(words.at(-1)?.end).toBeLessThan(4000);
  });

  test("a few words do not fill the music after them", () => {
    const spoken = "nine sailings a week from Sollen to the outer islands and the islands ask why that is so";
    const rawBlocks = [0, 6000, 12_000, 18_000].map((start) => block(start, null, spoken));
    const words = timeWords(rawBlocks, { end: 60_000 });
    expect(words.at(-1)?.end).toBeLessThan(28_000);
  });
});

test("words keep their order and stand inside their block", () => {
  const text = fc
    .array(fc.constantFrom("a", "sailings,", "Sollen.", "–", "440,000"), { minLength: 1, maxLength: 12 })
    .map((words) => words.join(" "));
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.nat(20_000), text), { minLength: 1, maxLength: 8 }), (entries) => {
      let at = 0;
      const rawBlocks = entries.map(([length, words]) => {
        const start = at;
        at += length;
        return block(start, at, words);
      });
      const timed = timeWords(rawBlocks, { end: null });
      timed.forEach(({ start, end }, n) => {
        expect(end).toBeGreaterThanOrEqual(start);
        expect(start).toBeGreaterThanOrEqual(timed[n - 1]?.start ?? 0);
      });
      expect(timed.map(({ text: word }) => word).join(" ")).toBe(rawBlocks.map((one) => one.text).join(" "));
      expect(timed.at(-1)?.end ?? 0).toBeLessThanOrEqual(at);
    }),
  );
});
