import { expect, test } from "vitest";
import { markedIn, shortened } from "../../src/model/excerpt.ts";

test.each([
  ["ferry", 5, "ferry"],
  ["ferries", 5, "ferr…"],
  ["", 5, ""],
])("%j in at most %i is %j", (text, longest, expected) => {
  expect(shortened(text, longest)).toBe(expected);
});

test("words are marked where they stand", () => {
  expect(markedIn({ before: "the ", words: "last", after: " ferry" })).toBe("the ‹last› ferry");
});
