import { expect, test } from "vitest";
import { readAsked } from "../../src/browser/asked.ts";
import { hasAll } from "../../src/browser/having.ts";

test.each([
  ["the word", "Nine sailings a week.", "sailings", true],
  ["another case, and accents", "Café Ostrey", "cafe OSTREY", true],
  ["a plural", "The ferries brought boxes of boats.", "ferry box boat", true],
  ["a singular", "The ferry brought a box.", "ferries boxes", true],
  ["another form of the word", "They sail at dawn.", "sailings", false],
  ["a word that begins alike", "The police came.", "policy", false],
  ["a name spelt otherwise", "The Skerrow Bank", "Skerow Bank", false],
  ["a beginning alone", "The timetable is out.", "timet", false],
  ["what it begins with", "The light went out.", "lightness", false],
  ["a short word in a longer one", "Clean cups.", "cup lea", false],
  ["one word of two", "Nine sailings a week.", "eleven sailings", false],
  ["a number that begins with it", "64,000 crowns", "640", false],
  ["a phrase", "“So,” she said.", '"so she"', true],
  ["a phrase in another order", "“So,” she said.", '"she so"', false],
  ["a number in words", "Eleven sailings a week.", "11 sailings", true],
  ["a number in figures", "It cost 64,000 crowns.", "sixty-four thousand crowns", true],
  ["words that a question has and an answer need not", "He turned it by hand.", "something about a hand", true],
  ["the other spelling", "The harbour, dredged.", "harbor", true],
  ["words of a script without blanks", "何か", "島の", true],
  ["nothing", "Anything.", "", true],
])("whether all that is looked for is in a text: %s", (_why, text, words, is) => {
  expect(hasAll(text, readAsked(words, "2026-10-12", "en-GB").clauses)).toBe(is);
});
