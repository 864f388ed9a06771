import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { makeCues } from "../../src/derive/captioning/cues.ts";
import { lendTime } from "../../src/derive/captioning/lending.ts";
import { CAPTION_FIGURES } from "../../src/model/captions.ts";

const cue = (start: number, end: number, last: number, words = 4) => ({ start, end, last, words });
const lent = (cues: readonly ReturnType<typeof cue>[], edges: readonly number[] = []) =>
  lendTime(cues, CAPTION_FIGURES, edges).map(({ start, end }) => [start, end]);

describe("a short cue begins in the pause before it", () => {
  test.each([
    [
      "what it lacks",
      [cue(0, 3000, 2500), cue(3000, 4290, 4290)],
      [],
      [
        [0, 2957],
        [2957, 4290],
      ],
    ],
    [
      "no more than so much before its voice",
      [cue(0, 3000, 2500), cue(3000, 4100, 4100)],
      [],
      [
        [0, 2940],
        [2940, 4100],
      ],
    ],
    [
      "no more than the pause",
      [cue(0, 3000, 2950), cue(3000, 4100, 4100)],
      [],
      [
        [0, 2950],
        [2950, 4100],
      ],
    ],
    [
      "nothing from a cue that needs it itself",
      [cue(0, 1370, 900), cue(1370, 2500, 2500)],
      [],
      [
        [0, 1333],
        [1333, 2500],
      ],
    ],
    [
      "nothing across a cut",
      [cue(0, 3000, 2500), cue(3000, 4100, 4100)],
      [3000],
      [
        [0, 3000],
        [3000, 4100],
      ],
    ],
    [
      "nothing where it is long enough",
      [cue(0, 3000, 2500), cue(3000, 4500, 4500)],
      [],
      [
        [0, 3000],
        [3000, 4500],
      ],
    ],
    [
      "a fast one too",
      [cue(0, 3000, 2000), cue(3000, 5000, 5000, 9)],
      [],
      [
        [0, 2940],
        [2940, 5000],
      ],
    ],
    [
      "a gap too short for the guidelines is closed",
      [cue(0, 3000, 3000), cue(3400, 6000, 6000)],
      [],
      [
        [0, 3000],
        [3000, 6000],
      ],
    ],
    [
      "a gap that is long enough stays",
      [cue(0, 3000, 3000), cue(4000, 6000, 6000)],
      [],
      [
        [0, 3000],
        [4000, 6000],
      ],
    ],
  ])("%s", (_why, cues, edges, wanted) => expect(lent(cues, edges)).toEqual(wanted));
});

describe("a short cue stands into the next one's time", () => {
  test.each([
    [
      "what it lacks",
      [cue(0, 1000, 1000), cue(1000, 4000, 4000)],
      [],
      [
        [0, 1333],
        [1333, 4000],
      ],
    ],
    [
      "no more than the next can spare",
      [cue(0, 1000, 1000), cue(1000, 2500, 2500)],
      [],
      [
        [0, 1167],
        [1167, 2500],
      ],
    ],
    [
      "no more than a second",
      [cue(0, 1000, 1000, 9), cue(1000, 6000, 6000)],
      [],
      [
        [0, 2000],
        [2000, 6000],
      ],
    ],
    [
      "nothing across a cut",
      [cue(0, 1000, 1000), cue(1000, 4000, 4000)],
      [1000],
      [
        [0, 1000],
        [1000, 4000],
      ],
    ],
    [
      "more than the next can spare, where the one after that can",
      [cue(0, 1000, 1000), cue(1000, 2333, 2333), cue(2333, 6000, 6000)],
      [],
      [
        [0, 1333],
        [1333, 2666],
        [2666, 6000],
      ],
    ],
    [
      "nothing that would be lost at a cut after the next",
      [cue(0, 1000, 1000), cue(1000, 2333, 2333), cue(2333, 6000, 6000)],
      [2333],
      [
        [0, 1000],
        [1000, 2333],
        [2333, 6000],
      ],
    ],
    [
      "nothing over a gap",
      [cue(0, 1000, 1000), cue(2000, 4000, 4000)],
      [],
      [
        [0, 1000],
        [2000, 4000],
      ],
    ],
  ])("%s", (_why, cues, edges, wanted) => expect(lent(cues, edges)).toEqual(wanted));
});

test("with many cues: touching ones still touch, none is cut shorter than it was where it lacked, none falls behind by more than a second", () => {
  const span = fc.record({
    ms: fc.integer({ min: 300, max: 4000 }),
    pause: fc.constantFrom(0, 0, 0, 1500),
    words: fc.integer({ min: 1, max: 12 }),
  });
  fc.assert(
    fc.property(fc.array(span, { minLength: 1, maxLength: 12 }), (spans) => {
      let at = 0;
      const cues = spans.map(({ ms, pause, words }) => {
        const start = at + pause;
        at = start + ms;
        return cue(start, at, at, words);
      });
      const given = lendTime(cues, CAPTION_FIGURES, []);
      const least = (words: number) => Math.max(CAPTION_FIGURES.shortest, (words * 60_000) / CAPTION_FIGURES.fastest);
      given.forEach(({ start, end }, n) => {
        const own = cues[n] ?? cue(0, 0, 0);
        expect(start - own.start).toBeGreaterThanOrEqual(-80);
        expect(start - own.start).toBeLessThanOrEqual(1000);
        expect(end - start).toBeGreaterThanOrEqual(Math.min(own.end - own.start, Math.floor(least(own.words))) - 1);
        if (cues[n + 1]?.start === own.end) expect(given[n + 1]?.start).toBe(end);
      });
    }),
  );
});

test("no cue stands across a cut", () => {
  const words = Array.from({ length: 24 }, (_, n) => ({
    text: "word",
    start: n * 400,
    end: n * 400 + 400,
    voice: null,
  }));
  const cues = makeCues(words, { edges: [4100, 6200] });
  for (const edge of [4100, 6200]) expect(cues.filter(({ start, end }) => start < edge && end > edge)).toEqual([]);
  const counts = cues.map(({ pieces }) => pieces[0]?.words.split(/\s/).length ?? 0);
  const before = (edge: number) =>
    counts.reduce((sum, count, n) => sum + ((cues[n]?.start ?? 0) < edge ? count : 0), 0);
  expect([before(4100), before(6200), before(99_999)]).toEqual([11, 16, 24]);
});
