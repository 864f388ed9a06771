import fc from "fast-check";
import { toCardinal, toOrdinal } from "n2words/en-GB";
import { expect, test } from "vitest";
import { atomsOf, readNumber } from "../../src/model/numbers.ts";
import { inWords, ordinalInFigures, ordinalInWords } from "../../src/model/numberWords.ts";

const whole = fc.oneof(
  fc.nat(2000),
  fc.nat(2_000_000),
  fc.nat({ max: 2 ** 31 - 1 }),
  fc.integer({ min: 1, max: 999 }).map((n) => n * 1e9),
);
const read = (text: string) => readNumber(atomsOf(text.split(" ")), 0)?.value;

test("numbers are said as a general library says them, and read back", () => {
  fc.assert(
    fc.property(whole, (value) => {
      expect(inWords(value)).toBe(toCardinal(value));
      expect(read(inWords(value))).toBe(value);
    }),
  );
});
test("and with decimals, as far as these are read", () => {
  fc.assert(
    fc.property(fc.nat(99), fc.integer({ min: 1, max: 99 }), (above, hundredths) => {
      const value = Number(`${above}.${String(hundredths).padStart(2, "0")}`);
      expect(read(inWords(value))).toBe(value);
    }),
  );
});
test("ordinals too", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 9999 }), (value) => {
      // The library leaves out the British "and" here, and nowhere else.
      expect(ordinalInWords(value).replaceAll(" and ", " ")).toBe(toOrdinal(value).replaceAll(" and ", " "));
      expect(read(ordinalInWords(value))).toBe(value);
      expect(read(ordinalInFigures(value))).toBe(value);
    }),
  );
});
test.each([
  [1, "1st"],
  [2, "2nd"],
  [3, "3rd"],
  [11, "11th"],
  [112, "112th"],
  [121, "121st"],
])("%d is %s", (value, figures) => {
  expect(ordinalInFigures(value)).toBe(figures);
});
