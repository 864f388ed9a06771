import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { distance, likeness, soundOf } from "../../src/browser/likeness.ts";
import { suggest } from "../../src/browser/suggest.ts";
import { MISSPELT_MARK } from "../../src/model/searchMarks.ts";

const FILE = {
  names: ["Osmund Tarrick", "Jonty Brask", "Leva Corrisk", "Skerrow Bank", "Ilse Marrane", "Dask"],
  words: ["timetable", "harbour", "lighthouse", "quotas", "ferries", "task"],
};
const meant = (question: string, unknown: readonly string[]) =>
  suggest(question.split(" "), new Set(unknown), FILE).map(({ typed, meant }) => [typed, meant]);

describe("what was probably meant", () => {
  test.each([
    ["a name misspelt", "osmond tarick", "osmond tarick", [["osmond tarick", "Osmund Tarrick"]]],
    ["a name misheard", "jaunty brask", "jaunty", [["jaunty brask", "Jonty Brask"]]],
    ["a name in more words than it has", "leave a corrisk", "leave", [["leave a corrisk", "Leva Corrisk"]]],
    ["a last name alone", "tarick", "tarick", [["tarick", "Tarrick"]]],
    ["a word", "timetabel", "timetabel", [["timetabel", "timetable"]]],
    [
      "a name and a word",
      "skerow bank timetabel",
      "skerow timetabel",
      [
        ["skerow bank", "Skerrow Bank"],
        ["timetabel", "timetable"],
      ],
    ],
    ["what is like nothing", "qwertyuiop", "qwertyuiop", []],
    ["a short word", "cuts", "cuts", []],
    ["a word that was said, where nothing has all that was asked for", "harbour brisk", "harbour", []],
    ["a word that was said, though a name sounds like it", "task", "task", []],
    ["a name that is written so but for its capital", "tarrick keeper", "tarrick keeper", []],
  ])("%s", (_why, question, unknown, all) => {
    expect(meant(question, unknown.split(" "))).toEqual(all);
  });
  test.each([
    ["as the register gives it", "grand attic", [["grand attic", "Osmund Tarrick"]]],
    ["nearly so", "grant attic", [["grant attic", "Osmund Tarrick"]]],
    ["with more words", "grand attic lighthouse", [["grand attic", "Osmund Tarrick"]]],
  ])("a misspelling that is like nothing of its name: %s", (_why, question, all) => {
    const names = [`Osmund Tarrick${MISSPELT_MARK}grand attic${MISSPELT_MARK}oz`, "Jonty Brask"];
    const typed = question.split(" ");
    const found = suggest(typed, new Set(["attic"]), { names, words: ["lighthouse"] });
    expect(found.map(({ typed, meant }) => [typed, meant])).toEqual(all);
  });
  test("a word that was said is never taken for another", () => {
    expect(meant("harbor timetabel", ["timetabel"])).toEqual([["timetabel", "timetable"]]);
    expect(meant("timetabel", [])).toEqual([]);
  });
  test("only words and names that the file has, or words of these, are ever suggested", () => {
    const known = new Set([...FILE.names, ...FILE.names.flatMap((name) => name.split(" ")), ...FILE.words]);
    fc.assert(
      fc.property(
        fc.array(fc.string({ minLength: 1, unit: fc.constantFrom(..."aeioukrstmnlb") }), { maxLength: 6 }),
        (typed) => {
          for (const own of suggest(typed, new Set(typed), FILE)) {
            expect(known.has(own.meant)).toBe(true);
            expect(typed.join(" ")).toContain(own.typed);
          }
        },
      ),
    );
  });
});

describe("how like two words are", () => {
  const word = fc.string({ unit: fc.constantFrom(..."abcdeghkst"), maxLength: 8 });
  test("letters put in, taken out, changed or swapped are counted", () => {
    expect(distance("skerow", "skerrow")).toBe(1);
    expect(distance("timetabel", "timetable")).toBe(1);
    expect(distance("", "abc")).toBe(3);
  });
  test("the same both ways, and nothing for the same", () => {
    fc.assert(
      fc.property(word, word, (one, other) => {
        expect(distance(one, other)).toBe(distance(other, one));
        expect(distance(one, one)).toBe(0);
        expect(distance(one, other)).toBeLessThanOrEqual(Math.max(one.length, other.length));
        expect(likeness(one, other)).toBeCloseTo(likeness(other, one));
        expect(likeness(one, other)).toBeLessThanOrEqual(1);
      }),
    );
  });
  test.each([
    ["phillip", "filip"],
    ["wrenn", "ren"],
    ["kelly", "kelley"],
    ["Tarrick", "tarick"],
  ])("%s sounds like %s", (one, other) => {
    expect(soundOf(one)).toBe(soundOf(other));
  });
});
