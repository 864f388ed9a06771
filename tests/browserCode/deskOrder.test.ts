import { describe, expect, test } from "vitest";
import { nearestPause } from "../../src/browser/desk/pause.ts";
import { toClock, toMedia } from "../../src/browser/desk/playback.ts";
import { between } from "../../src/browser/desk/points.ts";
import type { DeskSegment } from "../../src/model/desk.ts";
import { clockMs } from "../../src/model/units.ts";

const WHOLE = { clock: "media", cuts: [] } as const;
/** Six seconds at a level, quiet in some windows of 20 ms. */
const loud = (quiet: Readonly<Record<number, number>>): Uint8Array =>
  Uint8Array.from({ length: 300 }, (_, n) => quiet[n] ?? 200);

describe("the nearest pause", () => {
  test.each([
    ["the quietest, though another is nearer", { 140: 20, 160: 5 }, 3000, 3210],
    ["of equally quiet ones the nearest", { 120: 5, 160: 5 }, 3100, 3210],
    ["none that is further than a second and a half", { 60: 1, 170: 90 }, 3000, 3410],
    ["at the beginning what there is", { 2: 1 }, 0, 50],
  ])("%s", (_why, quiet, at, expected) => {
    expect(nearestPause(loud(quiet), at, WHOLE)).toBe(expected);
  });

  test("where nothing of the recording is known there is none", () => {
    expect(nearestPause(new Uint8Array(), 3000, WHOLE)).toBeNull();
    expect(nearestPause(loud({}), 60_000, WHOLE)).toBeNull();
  });

  test("what is beside a moment in the recording alone, behind a cut, is not near it", () => {
    const timed = { clock: "aired", cuts: [{ from: clockMs(3000), to: clockMs(33_000) }] } as const;
    expect(nearestPause(loud({ 130: 50, 155: 1 }), 2900, timed)).toBe(2610);
    expect(nearestPause(loud({ 130: 1, 155: 50 }), 33_050, timed)).toBe(33_110);
    expect([toMedia(33_110, timed), toClock(3110, timed)]).toEqual([3110, 33_110]);
  });
});

test.each([
  ["b", 5000, 5000],
  ["b", -1, 1],
  ["b", 900, 900],
  ["b", 8000, 7999],
  ["b", 4000.4, 4000],
  ["c", 99_000, 9999],
  ["a", -5, 0],
])("%s may not begin at %i beside those around it: %i", (slug, to, expected) => {
  const segment = (own: string, start: number, out: number): DeskSegment => ({
    slug: own,
    title: own,
    kind: "reader",
    in: start,
    out,
    proposed: false,
  });
  const segments = [segment("a", 0, 1000), segment("b", 1000, 8000), segment("c", 8000, 10_000)];
  expect(between(segments, slug, to)).toBe(expected);
});
