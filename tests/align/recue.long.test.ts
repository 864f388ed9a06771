import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { align } from "../../src/derive/align/align.ts";
import { type ExistingCue, recue, wordsIn } from "../../src/derive/align/recue.ts";
import { ALWAYS } from "../../src/derive/captioning/room.ts";
import { timedWords } from "../../src/derive/propose/again.ts";

const cue = (start: number, end: number, words: string, voice: string | null = "A"): ExistingCue => ({
  start,
  end,
  pieces: [{ voice, language: null, words }],
});
const written = (text: string, voice: string | null = "A") => text.split(" ").map((word) => ({ text: word, voice }));

function recued(cues: readonly ExistingCue[], words: ReturnType<typeof written>, more: object = {}) {
  const { spans, same } = align(timedWords(cues), words);
  return recue({ cues, written: words, spans, same, silent: [], edges: [], whole: ALWAYS, captioning: {}, ...more });
}
const textOf = (cues: readonly ExistingCue[]) => cues.flatMap(wordsIn).map(({ text }) => text);

const CUES = [
  cue(0, 2000, "Good evening.\nThis is the news."),
  cue(2500, 5000, "The ferries sail on nine days."),
  cue(6000, 8000, "Nobody sails on Sunday."),
  cue(9000, 12_000, "Sport now.", "B"),
];
const WORDS = [...written(textOf(CUES.slice(0, 3)).join(" ")), ...written("Sport now.", "B")];

describe("cues whose words nobody touched stay", () => {
  test("the same words again change nothing", () => {
    expect(recued(CUES, WORDS)).toEqual({ kept: new Set([0, 1, 2, 3]), cues: [], crowded: false });
  });
  test.each([
    ["a word that was misheard", (text: string) => text.replace("nine", "five"), [0, 2, 3]],
    ["a stop put in", (text: string) => text.replace("sail on", "sail, on"), [0, 2, 3]],
    ["a word left out", (text: string) => text.replace("Nobody ", ""), [0, 1, 3]],
    ["a cue left out", (text: string) => text.replace(" Nobody sails on Sunday.", ""), [0, 1, 3]],
    ["words put in between two", (text: string) => text.replace("Nobody", "So it is. Nobody"), [0, 1, 2, 3]],
  ])("%s", (_why, edit, kept) => {
    const text = edit(
      WORDS.slice(0, -2)
        .map((word) => word.text)
        .join(" "),
    );
    const done = recued(CUES, [...written(text), ...written("Sport now.", "B")]);
    expect([...(done?.kept ?? [])]).toEqual(kept);
  });
  test("another voice is another word", () => {
    const done = recued(CUES, [...WORDS.slice(0, -2), ...written("Sport now.", "A")]);
    expect([...(done?.kept ?? [])]).toEqual([0, 1, 2]);
  });
  test("a cue in a break moves out of it, and so does one that lies across a cut's edge", () => {
    const inBreak = recued(CUES, WORDS, { silent: [{ start: 5500, end: 7500 }] });
    expect([...(inBreak?.kept ?? [])]).toEqual([0, 1, 3]);
    expect(inBreak?.cues.every(({ start, end }) => end <= 5500 || start >= 7500)).toBe(true);
    const across = recued(CUES, WORDS, { edges: [7000] });
    expect([...(across?.kept ?? [])]).toEqual([0, 1, 3]);
    expect(across?.cues.every(({ start, end }) => end <= 7000 || start >= 7000)).toBe(true);
  });
  test("all of it a break: the words stand there all the same, and it is told", () => {
    const done = recued(CUES, WORDS, { silent: [{ start: 0, end: Number.POSITIVE_INFINITY }] });
    expect(done?.crowded).toBe(true);
    expect(textOf(done?.cues ?? [])).toEqual(WORDS.map(({ text }) => text));
  });
  test("a stretch too short for the words: nothing", () => {
    expect(recued(CUES, [...written("So,"), ...WORDS], { whole: { start: 0, end: 500 } })).toBeNull();
  });
});

/** Cues in order with random words, times and gaps. */
const word = fc.constantFrom("the", "nine", "Sollen.", "ferry,", "2,600", "–", "and", "Good", "night.", "wind");
const aCue = fc.record({
  words: fc.array(word, { minLength: 1, maxLength: 12 }),
  gap: fc.nat(4000),
  length: fc.integer({ min: 300, max: 6000 }),
  voice: fc.constantFrom(null, "A", "B"),
});
const cues = fc.array(aCue, { minLength: 1, maxLength: 12 }).map((all) => {
  let at = 0;
  return all.map(({ words, gap, length, voice }): ExistingCue => {
    const start = at + gap;
    at = start + length;
    return cue(start, at, words.join(" "), voice);
  });
});
const aSpan = fc
  .tuple(fc.nat(60_000), fc.integer({ min: 1, max: 20_000 }))
  .map(([start, length]) => ({ start, end: start + length }));
/** What an editor does to a word: leave it, change it, leave it out, put others before it. */
const edit = fc.constantFrom("same", "same", "same", "same", "other", "none", "more");

test("every word stands in exactly one cue, in order; none in a break; cues rise and are apart; again, all stay", () => {
  fc.assert(
    fc.property(
      cues,
      fc.array(edit, { minLength: 40, maxLength: 40 }),
      fc.array(aSpan, { maxLength: 2 }),
      fc.array(fc.nat(60_000), { maxLength: 2 }),
      (old, edits, silent, edges) => {
        const now = old.flatMap(wordsIn).flatMap((one, n) => {
          const how = edits[n % edits.length];
          if (how === "none") return [];
          if (how === "other") return [{ ...one, text: "other" }];
          return how === "more" ? [{ ...one, text: "quite" }, { ...one, text: "so" }, one] : [one];
        });
        const done = recued(old, now, { silent, edges });
        expect(done?.crowded).toBe(false);
        const all = [...old.filter((_, n) => done?.kept.has(n)), ...(done?.cues ?? [])].sort(
          (a, b) => a.start - b.start,
        );
        expect(all.flatMap(wordsIn)).toEqual(now);
        all.forEach(({ start, end }, n) => {
          expect(end).toBeGreaterThan(start);
          expect(start).toBeGreaterThanOrEqual(all[n - 1]?.end ?? 0);
          expect(silent.some((span) => span.start < end && start < span.end)).toBe(false);
          expect(edges.some((edge) => start < edge && edge < end)).toBe(false);
        });
        const again = recued(all, now, { silent, edges });
        expect(again?.kept.size).toBe(all.length);
        expect(again?.cues).toEqual([]);
      },
    ),
  );
});
