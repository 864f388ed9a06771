import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { splitAtCuts } from "../../src/derive/splitAtCuts.ts";
import { clockMs } from "../../src/model/units.ts";

const at = { file: "episode.md", line: 1, column: 1 };
const cut = (from: number, to: number) => ({ from: clockMs(from), to: clockMs(to), why: "break", at });
const cue = (start: number, end: number, words: string) => ({
  id: "7",
  start,
  end,
  pieces: [{ voice: "Ilse Marrane", language: null, words }],
});
const timed = (...cuts: ReturnType<typeof cut>[]) => ({ clock: "aired" as const, cuts });
const shown = (cues: ReturnType<typeof splitAtCuts>) =>
  cues.map(({ id, start, end, pieces }) => [id, start, end, pieces.map(({ words }) => words).join("|")]);

describe("a cue and a cut from 10 s to 20 s", () => {
  test.each([
    ["before it: untouched", cue(4000, 8000, "one two"), [["7", 4000, 8000, "one two"]]],
    ["ending with it begins: untouched", cue(8000, 10_000, "one two"), [["7", 8000, 10_000, "one two"]]],
    ["after it: moved", cue(24_000, 28_000, "one two"), [["7", 14_000, 18_000, "one two"]]],
    ["inside it: gone", cue(12_000, 18_000, "one two"), []],
    ["running into it: its first words", cue(8000, 12_000, "one two six ten"), [["7", 8000, 10_000, "one two"]]],
    ["coming out of it: its last words", cue(18_000, 22_000, "one two six ten"), [["7", 10_000, 12_000, "six ten"]]],
    [
      "across it: two pieces that meet at the seam",
      cue(5000, 25_000, "aaaa bbbb cccc dddd"),
      [
        ["7", 5000, 10_000, "aaaa"],
        ["7b", 10_000, 15_000, "dddd"],
      ],
    ],
  ])("%s", (_why, one, wanted) => expect(shown(splitAtCuts([one], timed(cut(10_000, 20_000))))).toEqual(wanted));
});

test("cuts that touch are one seam", () => {
  const cues = splitAtCuts(
    [cue(5000, 35_000, "aaaa bbbb cccc dddd eeee ffff")],
    timed(cut(10_000, 20_000), cut(20_000, 30_000)),
  );
  expect(shown(cues)).toEqual([
    ["7", 5000, 10_000, "aaaa"],
    ["7b", 10_000, 15_000, "ffff"],
  ]);
});

test("in the media's own clock nothing is cut", () => {
  expect(shown(splitAtCuts([cue(5000, 25_000, "one")], { clock: "media", cuts: [cut(10_000, 20_000)] }))).toEqual([
    ["7", 5000, 25_000, "one"],
  ]);
});

test("pieces never overlap, and no word comes twice", () => {
  fc.assert(
    fc.property(
      fc.nat(30_000),
      fc.integer({ min: 500, max: 30_000 }),
      fc.nat(30_000),
      fc.nat(20_000),
      (start, length, from, gone) => {
        const words = "a1 b2 c3 d4 e5 f6 g7 h8 i9";
        const pieces = splitAtCuts([cue(start, start + length, words)], timed(cut(from, from + gone + 1)));
        const said = pieces.flatMap(({ pieces }) => pieces.flatMap((piece) => piece.words.split(" ")));
        expect(new Set(said).size).toBe(said.length);
        expect(words).toContain(said.at(0) ?? "");
        for (const [n, piece] of pieces.entries()) expect(piece.start).toBeGreaterThanOrEqual(pieces[n - 1]?.end ?? 0);
      },
    ),
  );
});
