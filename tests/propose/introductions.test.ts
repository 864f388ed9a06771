import { describe, expect, test } from "vitest";
import { introductionsIn, withHeardNames } from "../../src/derive/propose/introductions.ts";
import type { Recording } from "../../src/derive/propose/recording.ts";
import { castOf } from "../../src/derive/propose/speakers.ts";
import { withNames } from "../../src/listen/recordingHeard.ts";
import type { SpokenWord } from "../../src/model/spoken.ts";
import { clockMs } from "../../src/model/units.ts";

/** Sentences of two words, four seconds apart. */
const said = (count: number): readonly SpokenWord[] =>
  Array.from({ length: count }, (_, n) =>
    ["So", "what."].map((text, k) => ({
      text,
      start: n * 4000 + k * 1000,
      end: n * 4000 + k * 1000 + 900,
      voice: null,
    })),
  ).flat();
const recordingOf = (voices: readonly (number | null)[]): Recording => ({
  tellApart: (pieces) => ({
    of: pieces.map((_, n) => voices[n] ?? null),
    unspoken: pieces.map(() => false),
    alike: () => false,
  }),
  quiets: [],
  names: [],
});
const sentenceAt = (n: number, last = n) => ({ start: Math.max(0, n * 4000 - 150), end: last * 4000 + 1900 + 150 });

describe("where somebody may be introduced", () => {
  test("is before a voice is first heard, and after its last words", () => {
    const voices = [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 0, 0, 0, 0, 0];
    expect(introductionsIn(said(15), recordingOf(voices))).toEqual([sentenceAt(4, 5), sentenceAt(10)]);
  });

  test("is nowhere, where no voice can be told", () => {
    expect(introductionsIn(said(5), recordingOf([]))).toEqual([]);
    expect(introductionsIn([], recordingOf([]))).toEqual([]);
  });

  test("is asked of the recording by its own clock, and answered by the transcript's", async () => {
    const timed = {
      clock: "aired" as const,
      cuts: [{ from: clockMs(2000), to: clockMs(12_000), why: "break" as const, proposed: false }],
    };
    const voices = [0, null, null, null, null, 1];
    const asked: unknown[] = [];
    const recording = await withNames(
      recordingOf(voices),
      said(6),
      async (stretches) => {
        asked.push(...stretches);
        return stretches.map(({ end }) => [{ name: "Ruan Skelland", start: end - 1000, end, fit: 1 }]);
      },
      timed,
    );
    // The sentence after the first voice is not in the recording, and the one before the second in part.
    expect(asked).toEqual([{ start: 2000, end: 8050 }]);
    expect(recording.names.map(({ start, end }) => [start, end])).toEqual([[17_050, 18_050]]);
  });
});

describe("names that are heard", () => {
  const words = "Now here is rowing skill and, our reporter."
    .split(" ")
    .map((text, n) => ({ text, start: n * 500, end: n * 500 + 450, voice: null }));
  const people = [
    { name: "Ruan Skelland", kind: "person" as const, role: null },
    { name: "Rowena Skill", kind: "person" as const, role: null },
  ];

  test("stand at the words that were written there, in place of what is only like them", () => {
    const echoes = [
      { name: "Rowena Skill", from: 3, to: 5, likeness: 0.8 },
      { name: "Rowena Skill", from: 6, to: 8, likeness: 0.75 },
    ];
    const heard = [{ name: "Ruan Skelland", start: 1480, end: 2980, fit: 0.9 }];
    expect(withHeardNames(echoes, words, heard)).toEqual([
      { name: "Ruan Skelland", from: 3, to: 6, likeness: 1 },
      { name: "Rowena Skill", from: 6, to: 8, likeness: 0.75 },
    ]);
    expect(withHeardNames(echoes, words, [])).toEqual(echoes);
  });

  test("are left out where no word stands", () => {
    expect(withHeardNames([], words, [{ name: "Ruan Skelland", start: 60_000, end: 61_000, fit: 2 }])).toEqual([]);
  });

  test("are in the cast of a recording that is listened to", () => {
    const recording = { ...recordingOf([]), names: [{ name: "Ruan Skelland", start: 1480, end: 2980, fit: 0.9 }] };
    const names = people.map((one) => ({ ...one, say: null, aliases: [] })) as unknown as Parameters<typeof castOf>[1];
    expect(castOf(words, names, recording).echoes).toContainEqual({
      name: "Ruan Skelland",
      from: 3,
      to: 6,
      likeness: 1,
    });
  });
});
