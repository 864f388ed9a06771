import fc from "fast-check";
import { expect, test } from "vitest";
import { blocksOf } from "../../src/read/incoming/reading.ts";
import { looksTimed } from "../../src/read/incoming/timedText.ts";
import { placesIn } from "../../src/read/text.ts";

/** Texts of blanks, lines and words, as they come from anywhere. */
const texts = fc
  .array(fc.constantFrom("word", " ", "\n", "\t", "\n\n", "[1:05]", "[0:00:01.5] ", "\u00a0", "x["), { maxLength: 16 })
  .map((pieces) => pieces.join(""));
const of = (text: string) => ({ file: "raw.txt", text, place: placesIn("raw.txt", text) });

// Checked against patterns that say the same, and take the square of the time where there are only blanks.
test("blocks are the lines between blank lines", () => {
  fc.assert(
    fc.property(texts, (text) => {
      const tried = [...text.matchAll(/[^\n]*\S[^\n]*(?:\n[^\n]*\S[^\n]*)*/g)];
      expect(blocksOf(of(text))).toEqual(tried.map((found) => ({ from: found.index, lines: found[0].split("\n") })));
    }),
    { numRuns: 1000 },
  );
});

test("a text is timed where a line begins with a time in brackets", () => {
  fc.assert(
    fc.property(texts, (text) => {
      expect(looksTimed(text)).toBe(/^\s*\[\d+:\d\d(?::\d\d)?(?:\.\d+)?\]/m.test(text));
    }),
    { numRuns: 1000 },
  );
});
