import fc from "fast-check";
import { ToWords } from "to-words";
import { describe, expect, test } from "vitest";
import { atomsOf, readNumber } from "../../src/checks/figures/numbers.ts";

const read = (text: string) => readNumber(atomsOf(text.toLowerCase().split(" ")), 0);

describe("numbers in words and numerals", () => {
  test.each([
    ["eleven", 11],
    ["twenty-one", 21],
    ["a hundred", 100],
    ["a hundred and sixty", 160],
    ["eleven hundred", 1100],
    ["two thousand six hundred", 2600],
    ["four hundred and forty thousand", 440_000],
    ["a hundred and forty thousand", 140_000],
    ["two point three million", 2_300_000],
    ["three point one four", 3.14],
    ["half a million", 500_000],
    ["three and a half", 3.5],
    ["five and three quarters", 5.75],
    ["two and a quarter", 2.25],
    ["one and a half million", 1_500_000],
    ["twenty and one half", 20.5],
    ["3½", 3.5],
    ["half a kilometre", 0.5],
    ["half an hour", 0.5],
    ["half a", null],
    ["three and a half-hour", 3],
    ["two and a quarter of", 2],
    ["a dozen", 12],
    ["two dozen", 24],
    ["one million two hundred thousand and five", 1_200_005],
    ["2,600", 2600],
    ["3.2 million", 3_200_000],
    ["£5m", 5_000_000],
    ["14%", 14],
    ["nineteen eighty-seven", 1987],
    ["twenty twenty-four", 2024],
    ["twenty eleven", 2011],
    ["eighteen sixty six", 1866],
    ["nineteen oh five", 1905],
    ["twelfth", 12],
    ["thirty-first", 31],
    ["the", null],
    ["and", null],
    // Recognisers swallow the article: “after hundred and sixty years”.
    ["hundred and sixty", 160],
    ["point", null],
    ["", null],
    ["nil", 0],
  ])("%s is %s", (text, value) => {
    expect(read(text)?.value ?? null).toBe(value);
  });

  test.each([
    ["a number ends where a smaller scale would have to grow", "two three", 1],
    ["a list of numerals is no number", "2 3 4", 1],
    ["`and` before a word that is no number stays out", "a hundred and people", 2],
    ["a scale alone after its own", "two million million", 2],
  ])("%s", (_why, text, length) => {
    expect(read(text)?.length).toBe(length);
  });

  test("of a hundred thousand atoms each is looked at a few times", () => {
    let looked = 0;
    const atoms = new Proxy(atomsOf(Array.from({ length: 100_000 }, () => "hundred")), {
      get: (list, key) => {
        looked += 1;
        return Reflect.get(list, key);
      },
    });
    for (let at = 0; at < 100_000; at += 1) readNumber(atoms, at);
    expect(looked).toBeLessThan(20 * 100_000);
  });
});

describe("against another package's words (to-words, British English)", () => {
  const toWords = new ToWords({ localeCode: "en-GB" });

  test("whole numbers come back", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 999_999_999 }), (value) => {
        const words = toWords.convert(value).toLowerCase();
        const back = read(words);
        // `Nineteen Hundred` and the like aside, which it does not write.
        expect([words, back?.value, back?.length]).toEqual([words, value, atomsOf(words.split(" ")).length]);
      }),
      { numRuns: 2000 },
    );
  });

  test("ordinals come back", () => {
    for (let value = 1; value <= 100; value += 1) {
      const words = toWords.toOrdinal(value).toLowerCase();
      expect([words, read(words)?.value, read(words)?.ordinal]).toEqual([words, value, true]);
    }
  });
});
