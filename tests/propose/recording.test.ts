import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { beginsInRest, piecesOf, type Quiet, quietBefore, type Recording } from "../../src/derive/propose/recording.ts";
import { findSegments } from "../../src/derive/propose/segments.ts";
import { recordingHeard } from "../../src/listen/recordingHeard.ts";
import type { PlannedSegment, SpokenWord } from "../../src/model/spoken.ts";
import { clockMs } from "../../src/model/units.ts";

const tellApart: Recording["tellApart"] = (pieces) => ({
  of: pieces.map(() => null),
  unspoken: pieces.map(() => false),
  alike: () => false,
});
const quiet = (start: number, end: number, music: readonly [number, number] | null = null): Quiet => ({
  start,
  end,
  length: end - start,
  music: music === null ? 0 : music[1] - music[0],
  musicFrom: music?.[0] ?? null,
});
const withQuiets = (...quiets: readonly Quiet[]): Recording => ({ tellApart, quiets, names: [] });
const word = (text: string, start: number, end: number): SpokenWord => ({ text, start, end, voice: null });

describe("voices and quiets of a recording", () => {
  const division = {
    stretches: [
      { kind: "music" as const, start: 0, end: 5000 },
      { kind: "speech" as const, start: 5000, end: 20_000 },
      { kind: "silence" as const, start: 20_000, end: 21_000 },
      { kind: "music" as const, start: 21_000, end: 22_000 },
      { kind: "speech" as const, start: 22_000, end: 60_000 },
    ],
    pauses: [
      { start: 5050, end: 5400 },
      { start: 30_000, end: 30_600 },
    ],
  };

  test("quiets are joined where they touch, and know their music", () => {
    const { quiets } = recordingHeard(tellApart, division, { clock: "media", cuts: [] }, []);
    expect(quiets).toEqual([quiet(0, 5400, [0, 5000]), quiet(20_000, 22_000, [21_000, 22_000]), quiet(30_000, 30_600)]);
  });

  test("voices are heard once, however often the same pieces are asked for", () => {
    const asked: number[] = [];
    const recording = recordingHeard(
      (pieces) => {
        asked.push(pieces.length);
        return tellApart(pieces);
      },
      division,
      { clock: "media", cuts: [] },
      [],
    );
    const pieces = [{ start: 0, end: 1000 }];
    expect(recording.tellApart(pieces)).toEqual(recording.tellApart([...pieces]));
    recording.tellApart([...pieces, { start: 1000, end: 2000 }]);
    expect(asked).toEqual([1, 2]);
  });

  test("quiets stand in the episode's clock, and keep their own length over a cut, where no sting leads to what comes after", () => {
    const cuts = [{ from: clockMs(20_500), to: clockMs(50_500), why: "break" as const, proposed: false }];
    const { quiets } = recordingHeard(tellApart, division, { clock: "aired", cuts }, []);
    expect(quiets[1]).toEqual({ start: 20_000, end: 52_000, length: 2000, music: 1000, musicFrom: null });
    expect(quiets[2]).toEqual(quiet(60_000, 60_600));
  });
});

describe("pieces of speech", () => {
  const words = [
    word("Wall", 300, 700),
    word("it's", 1500, 1700),
    word("your", 1700, 1900),
    word("turn.", 1900, 2300),
    word("Next", 2500, 2900),
  ];

  test("begin after a rest that is heard too, inside what was written as one sentence", () => {
    const pieces = piecesOf(words, withQuiets(quiet(720, 1400), quiet(2300, 2480)));
    expect(pieces).toEqual([
      { from: 0, to: 1 },
      { from: 1, to: 4 },
      { from: 4, to: 5 },
    ]);
  });

  test("are the sentences where nobody listens, where the rest is short, or where no word begins after it", () => {
    const sentences = [
      { from: 0, to: 4 },
      { from: 4, to: 5 },
    ];
    expect(piecesOf(words, null)).toEqual(sentences);
    expect(piecesOf(words, withQuiets(quiet(1000, 1400)))).toEqual(sentences);
    expect(piecesOf(words, withQuiets(quiet(400, 1100)))).toEqual(sentences);
  });

  test("hold every word once, in order, whatever is heard", () => {
    const times = fc.array(fc.nat(3000), { minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(times, times, (gaps, rests) => {
        let at = 0;
        const said = gaps.map((gap, n) => {
          at += gap + 100;
          return word(n % 7 === 6 ? "so." : "so", at, at + 80);
        });
        let from = 0;
        const quiets = rests.map((rest) => {
          from += 1500;
          return quiet(from, from + Math.min(rest, 1400));
        });
        const pieces = piecesOf(said, withQuiets(...quiets));
        expect(pieces.flatMap(({ from, to }) => said.slice(from, to))).toEqual(said);
        expect(pieces.every(({ from, to }) => from < to)).toBe(true);
      }),
    );
  });
});

describe("an in point in a rest", () => {
  const at = (recording: Recording | null, after: PlannedSegment["kind"] | null = "package") =>
    beginsInRest(recording, 10_000, { lead: 400, after });

  test.each([
    ["in the middle of a rest", withQuiets(quiet(9400, 10_000)), "package", 9700],
    ["at most the lead before the word", withQuiets(quiet(8000, 10_050)), "package", 9600],
    ["with its sting", withQuiets(quiet(8500, 9900, [8600, 9700])), "package", 8600],
    ["after the sting of headlines", withQuiets(quiet(8500, 9900, [8600, 9700])), "headlines", 9600],
    ["after the music of a break", withQuiets(quiet(8500, 9900, [8600, 9700])), "break", 9600],
    ["after a piece of music that is no sting", withQuiets(quiet(1000, 9900, [1000, 9900])), "package", 9600],
    ["nowhere, where the rest ended long before", withQuiets(quiet(9000, 9700)), "package", null],
    ["nowhere, where the word is in the rest", withQuiets(quiet(9000, 10_300)), "package", null],
  ] as const)("is %s", (_, recording, after, wanted) => {
    expect(at(recording, after)).toBe(wanted);
  });

  test("isn't known where nobody listens", () => {
    expect(at(null)).toBeNull();
    expect(quietBefore(null, 10_000)).toBeNull();
  });
});

test("of two sentences that might begin a segment, the one after a rest that is heard does", () => {
  const words = Array.from({ length: 40 }, (_, n) =>
    ["So", "it", "goes."].map((text, k) => {
      const start = n * 3000 + k * 1000;
      return word(text, start, start + 950);
    }),
  ).flat();
  const planned = (slug: string): PlannedSegment => ({
    slug,
    kind: "reader",
    title: slug,
    by: [],
    planned: 60_000,
    in: null,
    at: { file: "order.csv", line: 1, column: 1 },
  });
  const found = (recording: Recording | null) =>
    findSegments({ words, order: [planned("one"), planned("two")], echoes: [], end: 120_000, recording })[1];
  expect(found(null)?.word).toBe(60);
  // The plan says 60 seconds, the rest 66.
  const heard = found(withQuiets(quiet(65_050, 66_000)));
  expect(heard?.word).toBe(66);
  expect(heard?.in).toBe(65_600);
});
