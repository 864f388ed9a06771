import { describe, expect, test } from "vitest";
import { edgesOf, fitToCuts, isSilent, quietBreaks } from "../../src/derive/propose/cutEdges.ts";
import type { FoundSegment } from "../../src/derive/propose/segments.ts";
import type { SegmentKind } from "../../src/model/episode.ts";
import { clockMs } from "../../src/model/units.ts";

const cut = (from: number, to: number, why = "rights") => ({ from: clockMs(from), to: clockMs(to), why });
/** A report that ends at 20 s, a break up to 40 s, and sport after it; both times estimated wrong. */
const found: readonly FoundSegment[] = [
  { in: 0, out: 22_900, word: 0, edgeState: "clear" },
  { in: 22_900, out: 36_600, word: 8, edgeState: "doubtful" },
  { in: 36_600, out: 60_000, word: 8, edgeState: "clear" },
];
const kinds: readonly SegmentKind[] = ["package", "break", "sport"];
const edgeStates = (fitted: typeof found) => fitted.map(({ edgeState }) => edgeState);
const points = (fitted: typeof found) => fitted.map(({ in: start, out }) => [start, out]);

describe("a break cut from 20 s to 40 s", () => {
  test("the in points next to it stand on its edges", () => {
    const fitted = fitToCuts(found, kinds, [cut(20_000, 40_000)]);
    expect(points(fitted)).toEqual([
      [0, 20_000],
      [20_000, 40_000],
      [40_000, 60_000],
    ]);
    expect(edgeStates(fitted)).toEqual(["clear", "at a cut", "at a cut"]);
  });
  test("where the cut is only proposed, they stand there, and nothing is surer for it", () => {
    const fitted = fitToCuts(found, kinds, [{ ...cut(20_000, 40_000), proposed: true }]);
    expect(points(fitted)).toEqual(points(fitToCuts(found, kinds, [cut(20_000, 40_000)])));
    expect(edgeStates(fitted)).toEqual(["clear", "doubtful", "doubtful"]);
  });
  test("called a break, it is the break, however far off that was found", () => {
    expect(points(fitToCuts(found, kinds, [cut(2000, 14_000, "break")]))).toEqual([
      [0, 2000],
      [2000, 14_000],
      [14_000, 60_000],
    ]);
  });
});

test("in points far from a cut stay", () => {
  const fitted = fitToCuts(found, kinds, [cut(55_000, 58_000)]);
  expect(points(fitted)).toEqual(points(found));
  // The words beside the music of a break have no times to be relied on.
  expect(edgeStates(fitted)).toEqual(["clear", "doubtful", "doubtful"]);
  expect(edgeStates(fitToCuts(found, ["package", "reader", "sport"], []))).toEqual(["clear", "doubtful", "clear"]);
});

test("cuts that touch have one edge between them", () => {
  expect(edgesOf([cut(10, 20), cut(20, 30)])).toEqual([10, 20, 30]);
});

test.each([
  ["called a break", cut(0, 10, "break"), true],
  ["called so among other words", cut(0, 10, "the first break"), true],
  ["in a break", cut(22_900, 36_000), true],
  ["mostly in one", cut(22_000, 36_600), true],
  ["half in one", cut(16_000, 30_000), false],
  ["in a report", cut(1000, 2000, "breakdancing, rights"), false],
])("nobody speaks in a cut %s: %j %s", (_why, one, silent) => {
  expect(
    isSilent(
      one,
      found.map((segment, k) => ({ ...segment, kind: kinds[k] ?? "reader" })),
    ),
  ).toBe(silent);
});

describe("a break where nobody speaks", () => {
  const cues = [
    { start: 1000, end: 19_000, first: 0 },
    { start: 19_000, end: 22_000, first: 5 },
    { start: 37_000, end: 39_000, first: 8 },
    { start: 39_100, end: 42_000, first: 12 },
  ];
  const quiet = (more: ReadonlyMap<number, number> = new Map(), own = cues) =>
    quietBreaks(
      found.map((one, k) => ({ ...one, word: [0, 5, 12][k] ?? 0 })),
      kinds,
      own,
      more,
    );
  test("stands in the longest pause of those it was found at, and what follows begins before its first cue", () => {
    expect(points(quiet().found)).toEqual([
      [0, 22_000],
      [22_000, 36_600],
      [36_600, 60_000],
    ]);
    expect(quiet().isQuiet).toBe(true);
  });
  test("accepted points stay", () => {
    expect(points(quiet(new Map([[1, 23_000]])).found)).toEqual([
      [0, 23_000],
      [23_000, 36_600],
      [36_600, 60_000],
    ]);
  });
  test("no pause: it is told, and the points are as they were found", () => {
    const close = cues.map((one) => ({ ...one, end: one.first === 5 ? 36_500 : one.end }));
    expect(quiet(new Map(), close).isQuiet).toBe(false);
    expect(points(quiet(new Map(), close).found)).toEqual(points(found));
  });
});
