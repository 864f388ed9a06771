import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { SpokenWord } from "../../src/model/spoken.ts";
import { EVENING, editedText, quantile, rawWords, retimed, truthOf } from "../support/evening.ts";

/** Words half a second apart, 400 ms each. */
const heard = (text: string): readonly SpokenWord[] =>
  text.split(" ").map((word, n) => ({ text: word, start: n * 500, end: n * 500 + 400, voice: null }));
const written = (text: string) => text.split(" ").map((word) => ({ text: word, voice: "Ilse Marrane" }));
const starts = (old: string, now: string) =>
  retimed(heard(old), written(now)).words.map(({ text, start }) => [text, start]);

describe("times from the old words", () => {
  test("case, stops and mishearings keep their places", () => {
    expect(starts("it goes out to austria", "It goes out to Ostrey.")).toEqual([
      ["It", 0],
      ["goes", 500],
      ["out", 1000],
      ["to", 1500],
      ["Ostrey.", 2000],
    ]);
  });

  test("a numeral takes the time of its number words, and they of it", () => {
    const { words } = retimed(heard("costs two thousand six hundred crowns"), written("costs 2,600 crowns"));
    expect(words.map(({ start, end }) => [start, end])).toEqual([
      [0, 400],
      [500, 2400],
      [2500, 2900],
    ]);
    expect(starts("costs 2,600 crowns", "costs two thousand six hundred crowns").at(-1)).toEqual(["crowns", 1000]);
  });

  test("deleted, inserted and moved passages are told", () => {
    const old = "we begin with the boats then the weather is windy and cold tonight in sollen good night";
    const kinds = (now: string) =>
      retimed(heard(old), written(now)).changes.map(({ kind, text, at }) => [kind, text, at]);
    expect(kinds("we begin with the boats good night")).toEqual([
      ["deleted", "then the weather is windy and cold tonight in sollen", 2500],
    ]);
    expect(kinds(old.replace("good", "and a very good"))).toEqual([["inserted", "and a very", 7000]]);
    const moved = "then the weather is windy and cold tonight in sollen we begin with the boats good night";
    expect(kinds(moved).map(([kind]) => kind)).toEqual(["moved"]);
  });

  test("words put in where there is no room take of their neighbours'", () => {
    const { words } = retimed(heard("the ferry sails"), written("the last early ferry sails"));
    expect(words).toHaveLength(5);
    for (const [n, { start }] of words.entries()) expect(start).toBeGreaterThanOrEqual(words[n - 1]?.end ?? 0);
  });

  test("nothing heard, or nothing written", () => {
    expect(retimed([], written("good evening")).words[0]?.start).toBe(0);
    expect(retimed(heard("good evening"), []).words).toEqual([]);
    expect(retimed(heard("good evening"), []).errors.rate).toBeNull();
  });
});

// Outside check: the true times of the broadcast's sentences.
describe("the demo's corrected text on the times of its raw transcript", () => {
  const { sentences, duration } = truthOf(EVENING);
  const { words: edited } = editedText(EVENING);
  test.each([
    ["raw.words.json", 30, 400],
    ["raw.vtt", 350, 1900],
    ["raw-noisy.txt", 550, 2300],
  ])("%s: sentences begin within %d ms, nineteen in twenty within %d ms", (file, median, most) => {
    const { words } = retimed(rawWords(EVENING, file, duration * 1000), edited);
    let n = 0;
    const errors = sentences.map(({ start, text }) => {
      const error = Math.abs((words[n]?.start ?? 0) - start * 1000);
      n += text.split(" ").length;
      return error;
    });
    expect(n).toBe(words.length);
    expect(quantile(errors, 0.5)).toBeLessThan(median);
    expect(quantile(errors, 0.95)).toBeLessThan(most);
  });
});

test("whatever is written, all of it is timed, in order", () => {
  const word = fc.constantFrom("the", "nine", "9", "Sollen.", "ferry", "2,600", "–", "and");
  fc.assert(
    fc.property(fc.array(word, { maxLength: 40 }), fc.array(word, { maxLength: 40 }), (old, now) => {
      const timed = old.map((text, n) => ({ text, start: n * 300, end: n * 300 + 250, voice: null }));
      const { words } = retimed(
        timed,
        now.map((text) => ({ text, voice: null })),
      );
      expect(words.map(({ text }) => text)).toEqual(now);
      words.forEach(({ start, end }, n) => {
        expect(end).toBeGreaterThanOrEqual(start);
        expect(start).toBeGreaterThanOrEqual(words[n - 1]?.start ?? 0);
      });
    }),
  );
});
