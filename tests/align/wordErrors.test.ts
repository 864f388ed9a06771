import fc from "fast-check";
import { distance } from "fastest-levenshtein";
import { describe, expect, test } from "vitest";
import { saidWords } from "../../src/derive/align/said.ts";
import { wordErrors } from "../../src/derive/align/wordErrors.ts";
import { EVENING, rawWords, truthOf } from "../support/evening.ts";

const folded = (text: string) => saidWords(text.split(" ")).map(({ said }) => said);

describe("word error rate", () => {
  // Worked examples of the standards folder, captions.md §3. Of several alignments only the sum is tested.
  test.each([
    ["nine sailings a week from Sollen", "nine sailings a week from Sollen", 6, 0, 0],
    ["nine sailings a week from Sollen", "eleven sailings a week from Sullen", 6, 2, 0.3333],
    ["the ferry will not sail on Sunday", "the ferry will sail on Sunday", 7, 1, 0.1429],
    ["good evening from Sollen", "good good evening from uh Sollen", 4, 2, 0.5],
    ["the council voted on the new pier", "council voted in a new pier today", 7, 4, 0.5714],
    ["it is nine", "it isn't nine at all no it is not", 3, 7, 2.3333],
  ])("%s / %s", (reference, transcript, words, edits, rate) => {
    const errors = wordErrors(folded(reference), folded(transcript));
    expect(errors.words).toBe(words);
    expect(errors.substitutions + errors.deletions + errors.insertions).toBe(edits);
    expect(errors.rate).toBeCloseTo(rate, 4);
  });

  test("not defined without a reference", () => {
    expect(wordErrors([], ["a", "b"])).toEqual({ words: 0, substitutions: 0, deletions: 0, insertions: 2, rate: null });
  });

  // Outside check: the figure that came with the broadcast, counted by those who made it.
  test("the demo's broadcast: 20.1 % of 1,292 words", () => {
    const spoken = truthOf(EVENING).sentences.flatMap((sentence) => sentence.spoken.split(" "));
    const heard = rawWords(EVENING, "raw.words.json", null).map(({ text }) => text);
    const errors = wordErrors(spoken, heard);
    expect(errors.words).toBe(1292);
    expect(((errors.rate ?? 0) * 100).toFixed(1)).toBe("20.1");
  });

  // Outside check: the package fastest-levenshtein, each word as a letter of its own.
  test("as many edits as an independent package finds", () => {
    const word = fc.constantFrom("a", "b", "c", "d", "e", "f");
    fc.assert(
      fc.property(fc.array(word, { maxLength: 300 }), fc.array(word, { maxLength: 300 }), (one, other) => {
        const { substitutions, deletions, insertions } = wordErrors(one, other);
        expect(substitutions + deletions + insertions).toBe(distance(one.join(""), other.join("")));
        expect(insertions - deletions).toBe(other.length - one.length);
      }),
    );
  });
});
