import { describe, expect, test } from "vitest";
import { timesInCuts } from "../../src/derive/timesInCuts.ts";
import type { Correction, Episode } from "../../src/model/episode.ts";
import { clockMs, mediaMs } from "../../src/model/units.ts";

const at = { file: "episode.md", line: 9, column: 3 };
const segment = (start: number, out: number): Episode["segments"][number] => ({
  slug: `s${start}`,
  kind: "reader",
  title: "Reader",
  in: clockMs(start),
  out: clockMs(out),
  by: [],
  topics: [],
  places: [],
  summary: null,
  rights: null,
  cautions: [],
  planned: null,
  at,
});
const correction = (ms: number): Correction => ({
  id: "2026-10-06-1",
  kind: "update",
  dated: "2026-10-06T09:40:00+01:00",
  segment: null,
  at: clockMs(ms),
  signed: "Standards editor",
  supersedes: null,
  note: "Later.",
  said: null,
  every: false,
  place: at,
});
const episode = (segments: Episode["segments"], corrections: readonly Correction[] = []): Episode => ({
  id: "2026-10-05",
  title: "Evening",
  summary: null,
  aired: "2026-10-05T18:30:00+01:00",
  duration: mediaMs(100_000),
  media: [],
  clock: "aired",
  cuts: [{ from: clockMs(10_000), to: clockMs(20_000), why: "break", at }],
  segments,
  cues: [],
  notes: "",
  corrections,
  folder: "episodes/2026/2026-10-05",
  at,
});

describe("a cut from 10 s to 20 s", () => {
  test.each([
    ["segments that touch its edges", [segment(0, 10_000), segment(10_000, 20_000), segment(20_000, 30_000)], [], []],
    ["an out point inside", [segment(0, 12_000)], [], [12]],
    ["an in point inside", [segment(15_000, 30_000)], [], [15]],
    ["a correction's moment inside", [segment(0, 10_000)], [correction(19_999)], [19.999]],
  ])("%s", (_why, segments, corrections, seconds) => {
    const found = timesInCuts(episode(segments, corrections));
    expect(found.map((finding) => finding.seconds)).toEqual(seconds);
    expect(found.every(({ rule, level }) => rule === "time-in-cut" && level === "warns")).toBe(true);
  });
});
