import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { forget, isOwn, isThere, keep, keptIn, noteSent, putOver, withKept } from "../../src/browser/desk/kept.ts";
import type { DeskCaption, DeskWords } from "../../src/model/desk.ts";

const ID = "2027-03-01";

describe("what is kept of a caption while it is typed, sent and taken", () => {
  beforeEach(() => {
    const stored = new Map<string, string>();
    vi.stubGlobal("localStorage", {
      getItem: (key: string) => stored.get(key) ?? null,
      setItem: (key: string, value: string) => stored.set(key, value),
      removeItem: (key: string) => stored.delete(key),
    });
  });
  afterEach(() => {
    vi.unstubAllGlobals();
  });
  const typed = (text: string, was = "one") => ({ start: 10, was, text });

  test("what stood there first is remembered, whatever the page showed when more was typed", () => {
    keep(ID, typed("one two"));
    keep(ID, typed("one two three", "one two"));
    expect(keptIn(ID)).toEqual([{ start: 10, was: "one", text: "one two three" }]);
  });

  test("all that was sent is remembered, until the server is known to have it", () => {
    for (const text of ["one two", "one two three", "one two three four"]) {
      keep(ID, typed(text));
      noteSent(ID, typed(text));
    }
    keep(ID, typed("one two three four five"));
    forget(ID, typed("one two three"), "one two three");
    expect(keptIn(ID)).toEqual([
      { start: 10, was: "one two three", text: "one two three four five", sent: ["one two three four"] },
    ]);
  });

  test("what the server has is kept no longer, and other captions are", () => {
    keep(ID, typed("one two"));
    keep(ID, { start: 20, was: "a", text: "b" });
    forget(ID, typed("one two"), "one two");
    expect(keptIn(ID)).toEqual([{ start: 20, was: "a", text: "b" }]);
    forget(ID, { start: 20, was: "a", text: "b" }, "b");
    expect(keptIn(ID)).toEqual([]);
  });

  test("what is put over other words is theirs from then on", () => {
    keep(ID, typed("one two"));
    noteSent(ID, typed("one two"));
    putOver(ID, typed("one two"), "else");
    expect(keptIn(ID)).toEqual([{ start: 10, was: "else", text: "one two", sent: [] }]);
  });
});

const captions = (...texts: readonly string[]) =>
  texts.map((text, n) => ({ n, start: (n + 1) * 10, text }) as DeskCaption);

test.each([
  ["its caption has it", captions("one two"), "one  two ", true],
  ["it was cut into three", captions("one", "two", "three", "four"), "one two three", true],
  ["a part of it", captions("one", "four"), "one two", false],
  ["more than it", captions("one two three"), "one two", false],
  ["the captions end before it does", captions("one"), "one two", false],
  ["no caption begins there", [], "one", false],
  ["all its words were taken out, and the caption with them", [], " ", true],
  ["all its words were taken out, and the caption stands", captions("one"), "", false],
])("whether what was typed stands there: %s", (_why, there, text, is) => {
  expect(isThere(there, { start: 10, was: "", text })).toBe(is);
});

test.each([
  ["what was typed over", "one", true],
  ["what was sent first", "one two", true],
  ["what was sent last, with a blank at its end", "one two three", true],
  ["what was never sent", "one two three four", false],
  ["something else", "else", false],
])("whether nobody else's words stand there: %s", (_why, text, is) => {
  const own = { start: 10, was: "one", text: "one two three four", sent: ["one two", "one two three "] };
  expect(isOwn(captions(text), own)).toBe(is);
});

test("what waits to be sent is shown over the server's words, and never over somebody else's", () => {
  const words = { captions: captions("one", "two", "else") } as unknown as DeskWords;
  const kept = [
    { start: 10, was: "one", text: "one and a half " },
    { start: 30, was: "three", text: "four" },
    { start: 40, was: "x", text: "y" },
  ];
  const shown = withKept(words, kept);
  expect(shown.captions.map(({ text }) => text)).toEqual(["one and a half", "two", "else"]);
  // What is as it was is not drawn anew.
  expect(shown.captions[1]).toBe(words.captions[1]);
  expect(withKept(words, [])).toBe(words);
});
