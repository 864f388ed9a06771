import { expect, test } from "vitest";
import { foldText } from "../../src/record/fold.ts";

test.each([
  ["case", "Osric TARRICK", "osric tarrick"],
  ["quotes and dashes", "“Don’t – go!”", "'don't' - GO"],
  ["white space of any kind", "a\u00a0b\n c\u2009d", "a b c d"],
  ["composed and decomposed letters", "caf\u00e9", "cafe\u0301"],
  ["a sharp s", "Straße", "STRASSE"],
  ["a final sigma", "ΟΔΟΣ", "οδος"],
  ["a ligature and full width", "ﬁ Ａ", "fi a"],
  ["a soft hyphen and a joiner", "har\u00adbour\u200d", "harbour"],
  ["letters of a script without spaces", "東京、湾", "東 京湾"],
])("the same: %s", (_why, a, b) => expect(foldText(a)).toBe(foldText(b)));

test.each([
  ["a point in a number", "3.2 million", "32 million"],
  ["an accent", "Skéan", "Skean"],
  ["a sign of money", "£50", "50"],
  ["a degree", "5°", "5"],
  ["word borders", "not able", "notable"],
])("not the same: %s", (_why, a, b) => expect(foldText(a)).not.toBe(foldText(b)));

test.each([
  ["nothing", "", ""],
  ["only punctuation", "… — !", ""],
  ["a lone surrogate", "a\ud800b", "a b"],
  ["a long line", "word ".repeat(80_000), "word ".repeat(80_000).trim()],
])("hostile: %s", (_why, text, folded) => expect(foldText(text)).toBe(folded));
