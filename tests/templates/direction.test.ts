import { expect, test } from "vitest";
import { direction } from "../../templates/parts/text.ts";

// The scripts of these languages: Unicode CLDR, languageData, from memory of its table.
test.each([
  ["en-GB", "ltr"],
  ["cy", "ltr"],
  ["ar", "rtl"],
  ["he-IL", "rtl"],
  ["fa", "rtl"],
  ["ur-PK", "rtl"],
  ["ckb", "rtl"],
  ["yi", "rtl"],
  ["az", "ltr"],
  ["az-Arab", "rtl"],
  ["pa", "ltr"],
  ["pa-Arab", "rtl"],
  ["ja", "ltr"],
] as const)("%s is written %s", (language, expected) => {
  expect(direction(language)).toBe(expected);
});
