import { describe, expect, test } from "vitest";
import { saidWords, sayWord } from "../../src/derive/align/said.ts";

describe("words as they are said", () => {
  test.each([
    ["11", "eleven"],
    ["160", "one hundred and sixty"],
    ["2,600", "two thousand six hundred"],
    ["440,000.", "four hundred and forty thousand"],
    ["1866.", "eighteen sixty six"],
    ["1905", "nineteen oh five"],
    ["1900", "nineteen hundred"],
    ["2011.", "twenty eleven"],
    ["2005", "two thousand and five"],
    ["6.42", "six forty two"],
    ["7.05", "seven oh five"],
    ["18:30", "eighteen thirty"],
    ["3.75", "three point seven five"],
    ["12th", "twelfth"],
    ["31st", "thirty first"],
    ["2–1", "two one"],
    ["40%", "forty per cent"],
    ["£5", "five pounds"],
    ["ferrymen’s", "ferrymen's"],
    ["north-westerly", "north westerly"],
    ["verrinislands.example/tide.", "verrinislands dot example slash tide"],
    ["“Good", "good"],
    ["–", ""],
    ["12345678901234567890", "12345678901234567890"],
  ])("%s", (written, said) => expect(sayWord(written).join(" ")).toBe(said));

  test("each knows its written word, its capital and its stop", () => {
    expect(saidWords(["On", "2,600", "boats."])).toEqual([
      { said: "on", of: 0, capital: true, stop: false },
      { said: "two", of: 1, capital: false, stop: false },
      { said: "thousand", of: 1, capital: false, stop: false },
      { said: "six", of: 1, capital: false, stop: false },
      { said: "hundred", of: 1, capital: false, stop: false },
      { said: "boats", of: 2, capital: false, stop: true },
    ]);
  });
});
