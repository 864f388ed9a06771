import { expect, test } from "vitest";
import { edgesOf, gramsOf, isComposed } from "../../src/scan/composed.ts";
import { findRuns } from "../../src/scan/find.ts";

const OWN = gramsOf(["Error in", "Corrections of the year", "is about"]);
const EDGES = edgesOf(["The Long Evening", "Osric Tarrick", "ferries"]);

test.each([
  ["a sentence of the program", "of the year", true],
  ["its end and the beginning of a title", "in the long", true],
  ["its end, two words of it, and the beginning of a title", "error in the", true],
  ["the end of a title and a sentence", "long evening is", true],
  ["two names, one after the other", "osric tarrick the", true],
  ["a word on its own within a sentence", "in ferries is", true],
  ["the middle of a title", "in long evening", false],
  ["words of which the program says none", "sore knee first", false],
  ["a title's beginning after any word", "knee the long", false],
])("%s: %s", (_why, run, composed) => {
  expect(isComposed(run, OWN, EDGES)).toBe(composed);
});

test("a piece in which something was found is read again in the next file", () => {
  const clean = new Set<string>();
  const isSought = (run: string) => run === "sore knee first";
  const page = (...paragraphs: readonly string[]) => paragraphs.map((own) => `<p>${own}</p>`).join("");
  expect(
    findRuns("a.html", page("so sore knee first", "sore knee first", "nothing of it"), isSought, clean),
  ).toHaveLength(1);
  expect(findRuns("b.html", page("sore knee first"), isSought, clean)).toHaveLength(1);
  expect(findRuns("c.html", page("nothing of it"), isSought, clean)).toEqual([]);
  expect(findRuns("d.html", '<p title="<p>">so sore <b>knee</b> first</p>', isSought, clean)).toHaveLength(1);
});
