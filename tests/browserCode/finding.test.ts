import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { passageOf } from "../../src/browser/passage.ts";
import { isEmpty, readQuery, termsOf, writeQuery } from "../../src/browser/query.ts";

describe("what is looked for", () => {
  test("the address says it, and is written the same", () => {
    const address =
      "?q=eleven+sailings&year=2025&year=2026&speaker=Ilse+Marrane&topic=transport&place=Sollen&kind=package&corrected=1";
    expect(writeQuery(readQuery(new URLSearchParams(address)))).toBe(address);
    expect(writeQuery(readQuery(new URLSearchParams(`${address}&order=newest`)))).toBe(`${address}&order=newest`);
  });
  test("what is empty or not known is passed over", () => {
    const query = readQuery(new URLSearchParams("?q=++&year=&speaker=&order=sideways&utm=1"));
    expect(isEmpty(query)).toBe(true);
    expect(writeQuery(query)).toBe("");
  });
  test("a filter alone is something to look for", () => {
    expect(isEmpty(readQuery(new URLSearchParams("?topic=transport")))).toBe(false);
  });
  test.each([
    ["words", "eleven sailings", ["eleven sailings"]],
    ["a phrase", '"eleven sailings"', ['"eleven sailings"']],
    ["a phrase in a phone's quotation marks", "“eleven sailings”", ['"eleven sailings"']],
    ["a phrase and words", 'school "eleven sailings" north', ['"eleven sailings"', "school north"]],
    ["two phrases", '"eleven sailings" "the bread"', ['"eleven sailings"', '"the bread"']],
    ["a quotation mark that is never closed", 'eleven "sailings', ["eleven sailings"]],
    ["quotation marks round nothing", '"" ""', []],
    ["nothing", "", []],
  ])("%s", (_why, words, terms) => {
    expect(termsOf(words)).toEqual(terms);
  });
});

describe("the paragraph that a result shows", () => {
  const first = "Put the two sheets side by side.".split(" ");
  const second = "This winter eleven sailings, a week; eleven!".split(" ");
  const third = "Nobody counts sailings here.".split(" ");
  const words = [...first, ...second, ...third];
  const starts = [0, first.length, first.length + second.length];
  const at = (word: string) => words.flatMap((one, place) => (one.includes(word) ? [place] : []));
  const marked = (runs: readonly { text: string; found: boolean }[]) =>
    runs.filter(({ found }) => found).map(({ text }) => text);
  const any = () => true;

  test("is where the different words stand together, marked without their punctuation", () => {
    const passage = passageOf(words, starts, [...at("sailings"), ...at("eleven")], any);
    expect(passage?.paragraph).toBe(1);
    expect(marked(passage?.runs ?? [])).toEqual(["eleven", "sailings", "eleven"]);
    expect(passage?.runs.map(({ text }) => text).join("")).toBe(second.join(" "));
    expect(passage?.others).toBe(1);
  });
  test("is one of those preferred, if something was found there", () => {
    expect(passageOf(words, starts, at("sailings"), (paragraph) => paragraph === 2)?.paragraph).toBe(2);
    expect(passageOf(words, starts, at("sailings"), (paragraph) => paragraph === 0)?.paragraph).toBe(1);
  });
  test("is the first where nothing was found in the words", () => {
    expect(passageOf(words, starts, [], any)).toMatchObject({ paragraph: 0, others: 0 });
    expect(passageOf([], [], [], any)).toBeNull();
  });
  test("is cut round what was found where it is long, and says so", () => {
    const long = Array.from({ length: 300 }, (_, place) => `w${place}`);
    const text =
      passageOf(long, [0], [200], any)
        ?.runs.map((run) => run.text)
        .join("") ?? "";
    expect(text).toMatch(/^… w175 .* w244 …$/);
    expect(marked(passageOf(long, [0], [200], any)?.runs ?? [])).toEqual(["w200"]);
  });
  test("loses no word and no character of a short paragraph", () => {
    const word = fc.string({ minLength: 1, unit: "grapheme" }).filter((text) => !/\s/.test(text));
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 80 }), fc.array(fc.nat(79)), (some, found) => {
        const passage = passageOf(some, [0], found, any);
        expect(passage?.runs.map(({ text }) => text).join("")).toBe(some.join(" "));
      }),
    );
  });
});
