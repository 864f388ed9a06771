import { describe, expect, test } from "vitest";
import { checkEpisode } from "../../src/checks/index.ts";
import type { CuePiece, TranscriptCue } from "../../src/model/episode.ts";
import { cue, cutsOf, segment } from "../support/episodes.ts";
import { subjectWith } from "./support.ts";

const FIGURES = { line: 37, lines: 2, rate: 180, fastest: 225, shortest: 1000, longest: 6000, gap: 1000, hang: 1500 };
const pieces = (...own: [string | null, string][]): CuePiece[] =>
  own.map(([voice, words]) => ({ voice, language: null, words }));

async function told(rule: string, cues: readonly TranscriptCue[], cuts: readonly (readonly [number, number])[] = []) {
  const episode = { cues, cuts: cutsOf(cuts), segments: [segment("a", "0:00", "9:00")] };
  return checkEpisode(await subjectWith([], { episode, programme: { captions: FIGURES } }))
    .filter((finding) => finding.rule === rule)
    .map(({ says }) => says);
}

describe("captions against the figures", () => {
  // The rates are those of the digest of the standards: 12 words in 4 s are 180 words a minute, 4 in 1.2 s are 200.
  test.each([
    ["caption-rate", "12 words in 4 s", [cue("0:00", "0:04", null, "a b c d e f g h i j k l")], []],
    ["caption-rate", "4 words in 1.2 s", [cue("0:00", "0:01.2", null, "a b c d")], []],
    [
      "caption-rate",
      "12 words in 3 s",
      [cue("0:00", "0:03", null, "a b c d e f g h i j k l")],
      ["12 words in 3 s are 240 words a minute."],
    ],
    ["caption-rate", "three words say nothing", [cue("0:00", "0:00.5", null, "a b c")], []],
    ["caption-rate", "no time is no rate", [cue("0:01", "0:01", null, "a b c d e f")], []],
    ["caption-rate", "a sound has none", [cue("0:00", "0:01", null, "[a b c d e f g h i j k l]")], []],
    ["caption-line-length", "37 characters", [cue("0:00", "0:04", null, "x".repeat(37))], []],
    [
      "caption-line-length",
      "the second line",
      [cue("0:00", "0:04", null, `short\n${"x".repeat(38)}`)],
      ["A line of 38 characters, over 37."],
    ],
    ["caption-lines", "two", [cue("0:00", "0:04", null, "a\nb")], []],
    ["caption-lines", "three", [cue("0:00", "0:04", null, "a\nb\nc")], ["3 lines, over 2."]],
    ["caption-too-short", "a second", [cue("0:00", "0:01", null, "a")], []],
    ["caption-too-short", "less", [cue("0:00", "0:00.9", null, "a")], ["It stands for 0.9 s, under 1 s."]],
    ["caption-too-long", "six seconds", [cue("0:00", "0:06", null, "a")], []],
    ["caption-too-long", "more", [cue("0:00", "0:06.5", null, "a")], ["It stands for 6.5 s, over 6 s."]],
    ["caption-gap", "none", [cue("0:00", "0:02", null, "a"), cue("0:02", "0:04", null, "b")], []],
    ["caption-gap", "a second", [cue("0:00", "0:02", null, "a"), cue("0:03", "0:04", null, "b")], []],
    [
      "caption-gap",
      "less",
      [cue("0:00", "0:02", null, "a"), cue("0:02.3", "0:04", null, "b")],
      ["A gap of 0.3 s to the next caption."],
    ],
  ])("%s: %s", async (rule, _why, cues, says) => {
    expect(await told(rule, cues)).toEqual(says);
  });

  test.each([
    ["over its beginning", "0:08", "0:11", ["It lies over the cut at 0:10."]],
    ["over its end", "0:19", "0:21", ["It lies over the cut at 0:20."]],
    ["up to it, and a frame", "0:08", "0:10.040", []],
    ["inside it", "0:12", "0:14", []],
  ])("caption-over-cut: %s", async (_why, from, to, says) => {
    expect(await told("caption-over-cut", [cue(from, to, null, "a")], [[10_000, 20_000]])).toEqual(says);
  });

  test.each([
    [
      "two",
      pieces(["Ilse Marrane", "Was it?\n"], ["Jonty Brask", "It was."]),
      ["Ilse Marrane and Jonty Brask speak in one caption."],
    ],
    ["one twice", pieces(["Ilse Marrane", "Was it?\n"], ["Ilse Marrane", "It was."]), []],
    ["an empty piece is nobody", pieces(["Ilse Marrane", "Was it?"], [null, " "]), []],
  ])("caption-speakers: %s", async (_why, own, says) => {
    expect(await told("caption-speakers", [{ ...cue("0:00", "0:03", null, ""), pieces: own }])).toEqual(says);
  });

  test("many are told as one, with how many there are", async () => {
    const cues = Array.from({ length: 9 }, (_, n) => cue(`0:0${n}`, `0:0${n}.500`, null, "a"));
    expect(await told("caption-too-short", cues)).toEqual([
      "9 of 9 captions stand too short (check --all lists them); the first: It stands for 0.5 s, under 1 s.",
    ]);
  });
});
