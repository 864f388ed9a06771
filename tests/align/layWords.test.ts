import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { layWords } from "../../src/derive/align/layWords.ts";
import type { Span } from "../../src/derive/captioning/lending.ts";
import { ALWAYS, joinSpans, roomBefore, roomOutside } from "../../src/derive/captioning/room.ts";
import { spread } from "../../src/derive/captioning/wordTimes.ts";

const span = (start: number, end: number): Span => ({ start, end });
const said = (text: string, start: number, end: number) =>
  spread(
    text.split(" ").map((word) => ({ text: word, voice: null })),
    start,
    end,
  );

describe("room", () => {
  test.each([
    ["nothing taken", [], [], [span(0, 100)]],
    ["a break", [span(20, 40)], [], [span(0, 20), span(40, 100)]],
    ["breaks that overlap", [span(20, 40), span(30, 50)], [], [span(0, 20), span(50, 100)]],
    ["a cut that is no break: two edges", [], [20, 40], [span(0, 20), span(20, 40), span(40, 100)]],
    ["a cut beside a break: one edge more", [span(20, 40)], [20, 40, 60], [span(0, 20), span(40, 60), span(60, 100)]],
    ["a break at the beginning, one at the end", [span(0, 10), span(90, 100)], [], [span(10, 90)]],
    ["all of it a break", [span(0, 200)], [], []],
  ])("%s", (_why, silent, edges, room) => expect(roomOutside(silent, edges, span(0, 100))).toEqual(room));

  test("what lies before a moment", () => {
    const room = [span(0, 20), span(40, 100)];
    expect([10, 20, 30, 40, 50].map((at) => roomBefore(at, room))).toEqual([10, 20, 20, 20, 30]);
  });
  test("stretches that touch are joined", () => {
    expect(joinSpans([span(20, 30), span(10, 20), span(40, 40)])).toEqual([span(10, 30)]);
  });
});

/** A report that ends at 20 s, a break up to 40 s, and sport after it; both times estimated wrong. */
const words = [
  ...said("The ferries sail. They sail on nine days.", 8000, 22_500),
  ...said("Sport now. Sollen won again, by two goals.", 37_000, 50_000),
];
const FIRST = 8;

describe("a break from 20 s to 40 s", () => {
  const room = roomOutside([span(20_000, 40_000)], [], ALWAYS);
  const laid = layWords(words, words, { room }) ?? [];
  test("what was said before it ends by then, what was said after begins after", () => {
    expect(laid.map(({ text }) => text)).toEqual(words.map(({ text }) => text));
    expect(laid[FIRST - 1]?.end).toBeLessThanOrEqual(20_000);
    expect(laid[FIRST]?.start).toBeGreaterThanOrEqual(40_000);
  });
  test("what was far from it stays", () => {
    expect(laid[0]?.start).toBe(8000);
    expect(laid.at(-1)?.end).toBe(50_000);
  });
  test("laid again, nothing moves", () => expect(layWords(laid, laid, { room })).toEqual(laid));
  test("words whose time nobody knows go to a sentence's end, and not into it", () => {
    const unknown = words.map((word, n) => (n > 5 && n < 12 ? null : word));
    const again = layWords(words, unknown, { room }) ?? [];
    for (const { start, end } of again) expect(end <= 20_000 || start >= 40_000).toBe(true);
    expect(again[FIRST]?.start).toBeGreaterThanOrEqual(40_000);
    expect(again[FIRST - 1]?.end).toBeLessThanOrEqual(20_000);
  });
  test("a clue moves the seam to another sentence", () => {
    const clue = (_seam: number, n: number) => (n === 3 ? -20 : 0);
    const moved = layWords(words, words, { room, clue }) ?? [];
    expect(moved[2]?.end).toBeLessThanOrEqual(20_000);
    expect(moved[3]?.start).toBeGreaterThanOrEqual(40_000);
  });
});

test("no room at all: nothing is laid", () => {
  expect(layWords(words, words, { room: [span(0, 300)] })).toBeNull();
  expect(layWords(words, words, { room: [] })).toBeNull();
  expect(layWords([], [], { room: [] })).toEqual([]);
});

const aSpan = fc.tuple(fc.nat(60_000), fc.nat(20_000)).map(([start, length]) => span(start, start + length));

test("whatever is written, all of it is laid in order, in the room, and no two words at once", () => {
  const word = fc.record({
    text: fc.constantFrom("the", "nine", "Sollen.", "ferry,", "2,600", "–", "and", "a-very-long-word-indeed"),
    voice: fc.constantFrom(null, "A", "B"),
  });
  const known = fc.option(aSpan, { freq: 3, nil: null });
  fc.assert(
    fc.property(
      fc.array(fc.tuple(word, known), { maxLength: 60 }),
      fc.array(aSpan, { maxLength: 3 }),
      fc.array(fc.nat(80_000), { maxLength: 3 }),
      (written, silent, edges) => {
        const room = roomOutside(silent, edges, ALWAYS);
        let last = 0;
        const spans = written.map(([, own]) => {
          if (own === null) return null;
          last = Math.max(last, own.start);
          return span(last, last + own.end - own.start);
        });
        const laid = layWords(
          written.map(([one]) => one),
          spans,
          { room },
        );
        expect(laid?.map(({ text }) => text)).toEqual(written.map(([{ text }]) => text));
        laid?.forEach(({ start, end }, n) => {
          expect(Number.isInteger(start) && Number.isInteger(end)).toBe(true);
          expect(end).toBeGreaterThan(start);
          expect(start).toBeGreaterThanOrEqual(laid[n - 1]?.end ?? 0);
          expect(room.some((stretch) => stretch.start <= start && end <= stretch.end)).toBe(true);
        });
      },
    ),
  );
});
