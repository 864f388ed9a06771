import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readAsked, waysToSay } from "../../src/browser/asked.ts";
import { spellingsOf } from "../../src/browser/spellings.ts";
import { inWords } from "../../src/model/numberWords.ts";

const asked = (question: string, language = "en-GB") => readAsked(question, "2026-10-12", language).clauses;
const shape = (question: string) => asked(question).map(({ is, text }) => [is, text]);

describe("what a question asks for", () => {
  test.each([
    ["words", "Harbour dredging", ["harbour", "dredging"]],
    ["what a question has and an answer need not", "who is the harbour master?", ["harbour", "master"]],
    ["nothing but that", "who said that", ["who", "said", "that"]],
    ["of two words, both", "that harbour", ["that", "harbour"]],
    ["a word twice", "fish fish", ["fish"]],
    ["a possessive, and marks", "the keeper’s “light", ["keeper", "light"]],
    ["nothing", " ", []],
  ])("%s", (_why, question, texts) => {
    expect(asked(question).map(({ text }) => text)).toEqual(texts);
  });

  test("of two words, what a question has is the weak one, unless it is all there is", () => {
    const weak = (question: string) => asked(question).map((own) => own.weak === true);
    expect(weak("that harbour")).toEqual([true, false]);
    expect(weak("harbour dredging")).toEqual([false, false]);
    expect(weak("said that")).toEqual([false, false]);
  });

  test("phrases, numbers, days and words are told apart", () => {
    expect(shape('"a door" 16 sailings on 6th of October')).toEqual([
      ["phrase", "a door"],
      ["number", "16"],
      ["word", "sailings"],
      ["days", "6th of october"],
    ]);
  });

  test("a day is one word of the index, or what is said of it; a month is a word too", () => {
    expect(asked("6 October")[0]?.terms).toEqual(['"day20261006"', '"6 october"', '"october 6"', '"sixth of october"']);
    expect(asked("October")[0]?.terms).toEqual(['"month202610"', '"october"']);
    expect(asked("today")[0]?.terms).toEqual(['"day20261012"']);
    expect(asked("last year")[0]?.terms).toEqual(['"year2025"']);
  });

  test("a phrase is looked for without the marks around its words", () => {
    const [phrase] = asked('"about $100 a year, team-work – or 84,000"');
    expect(phrase?.terms).toEqual(['"about 100 a year team-work or 84,000"']);
    expect(phrase?.text).toBe("about $100 a year, team-work – or 84,000");
    expect(asked('"$"')[0]?.terms).toEqual(['"$"']);
  });

  test("what is too large to be said is no number", () => {
    expect(shape("2011 trillion")).toEqual([
      ["word", "2011"],
      ["word", "trillion"],
    ]);
  });

  test("in other languages a number is the word that it is", () => {
    expect(asked("eleven October", "cy").map(({ is }) => is)).toEqual(["word", "word"]);
  });

  test("a number in figures, grouped as anybody groups it, and in words is looked for in the same ways", () => {
    const figures = new Intl.NumberFormat("en-GB");
    fc.assert(
      fc.property(fc.oneof(fc.nat(3000), fc.nat(5_000_000)), (value) => {
        const ways = [String(value), figures.format(value), inWords(value)].map((text) => asked(text));
        for (const way of ways)
          expect(way.map(({ is, terms }) => [is, terms])).toEqual([["number", waysToSay(value, false)]]);
      }),
    );
  });

  test.each([
    [64_000, ['"64000"', '"sixty-four thousand"', '"sixty four thousand"', '"64 thousand"']],
    [2_300_000, ['"2300000"', '"two million three hundred thousand"', '"2.3 million"', '"2300 thousand"']],
    [11, ['"11"', '"eleven"']],
  ])("%d", (value, ways) => {
    for (const way of ways.filter((one) => !one.includes("2300 "))) expect(waysToSay(value, false)).toContain(way);
  });

  test.each([
    ["harbor", "harbour"],
    ["apologized", "apologised"],
    ["centimeters", "centimetres"],
    ["traveled", "travelled"],
    ["grey", "gray"],
    ["dialog", "dialogue"],
    ["licence", "license"],
  ])("%s is %s too, both ways", (one, other) => {
    expect(spellingsOf(one)).toContain(other);
    expect(spellingsOf(other)).toContain(one);
  });
});
