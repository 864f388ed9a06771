import { describe, expect, test } from "vitest";
import { sharesOf } from "../../src/derive/shares.ts";
import { countWords, type Speech, soundIn, turnsOf } from "../../src/derive/turns.ts";
import type { TranscriptCue } from "../../src/model/episode.ts";
import { cue } from "../support/episodes.ts";

/** Turns in short: the voice, then each paragraph's words. */
const outline = (speech: readonly Speech[]) =>
  speech.map((turn) =>
    turn.is === "sound"
      ? `[${turn.text}]`
      : [turn.voice, ...turn.paragraphs.map(({ pieces }) => pieces.map(({ piece }) => piece.words).join(" "))],
  );

const many = (words: number) => `${Array.from({ length: words - 1 }, () => "word").join(" ")} end`;

describe("turns and paragraphs", () => {
  test("a change of voice begins a turn, and the same voice goes on in it", () => {
    expect(
      outline(
        turnsOf([
          cue("0:01", "0:02", "Ilse", "One."),
          cue("0:02", "0:03", "Ilse", "Two."),
          cue("0:03", "0:04", "Joss", "Three."),
        ]),
      ),
    ).toEqual([
      ["Ilse", "One. Two."],
      ["Joss", "Three."],
    ]);
  });

  test.each([
    ["over two seconds", "0:04.001", ["One.", "Two."]],
    ["two seconds exactly", "0:04", ["One. Two."]],
  ])("a pause of %s", (_why, start, expected) => {
    const speech = turnsOf([cue("0:01", "0:02", "Ilse", "One."), cue(start, "0:06", "Ilse", "Two.")]);
    expect(outline(speech)).toEqual([["Ilse", ...expected]]);
  });

  test.each([
    ["past sixty words, at a sentence's end", `${many(60)}.`, 2],
    ["not before sixty", `${many(59)}.`, 1],
    ["not within a sentence", many(80), 1],
    ["a closing quotation mark is still a sentence's end", `${many(60)}.”`, 2],
  ])("a new paragraph %s", (_why, words, paragraphs) => {
    const [turn] = turnsOf([cue("0:01", "0:20", "Ilse", words), cue("0:20", "0:21", "Ilse", "And on.")]);
    expect(turn?.is === "turn" && turn.paragraphs).toHaveLength(paragraphs);
  });

  test("a cue in square brackets is a sound, and ends the turn", () => {
    const speech = turnsOf([
      cue("0:00", "0:01", null, "[Opening music]"),
      cue("0:01", "0:02", "Ilse", "One."),
      cue("0:02", "0:03", null, "[Sting]"),
      cue("0:03", "0:04", "Ilse", "Two."),
    ]);
    expect(outline(speech)).toEqual(["[Opening music]", ["Ilse", "One."], "[Sting]", ["Ilse", "Two."]]);
  });

  test.each([
    ["[Sting]", null, "Sting"],
    ["[Sting] and words", null, null],
    ["[laughs]", "Ilse", null],
    ["[]", null, null],
  ])("%s by %s", (words, voice, expected) => {
    expect(soundIn(cue("0:00", "0:01", voice, words))).toBe(expected);
  });

  test("two voices in one cue are two turns; a piece without words is none", () => {
    const both: TranscriptCue = {
      ...cue("0:01", "0:02", null, ""),
      pieces: [
        { voice: "Ilse", language: null, words: "Yes." },
        { voice: null, language: null, words: "\n" },
        { voice: "Joss", language: null, words: "No." },
      ],
    };
    expect(outline(turnsOf([both]))).toEqual([
      ["Ilse", "Yes."],
      ["Joss", "No."],
    ]);
  });

  test("no word is lost or doubled, whatever is said", () => {
    const cues = Array.from({ length: 50 }, (_, n) =>
      cue(
        `0:${String(n).padStart(2, "0")}`,
        `0:${String(n).padStart(2, "0")}.900`,
        ["A", "B", null][n % 3] ?? null,
        `w${n}.`,
      ),
    );
    const said = turnsOf(cues).flatMap((turn) =>
      turn.is === "turn" ? turn.paragraphs.flatMap(({ pieces }) => pieces) : [],
    );
    expect(said.map(({ piece }) => piece.words)).toEqual(cues.map(({ pieces }) => pieces[0]?.words));
  });
});

describe("speaking time", () => {
  test("the longest first, in parts of all named speech", () => {
    const speech = turnsOf([
      cue("0:00", "0:10", "Ilse", "One."),
      cue("0:10", "0:40", "Joss", "Two."),
      cue("0:40", "1:00", null, "Nobody knows who."),
    ]);
    expect(sharesOf(speech)).toEqual([
      { voice: "Joss", ms: 30_000, fraction: 0.75 },
      { voice: "Ilse", ms: 10_000, fraction: 0.25 },
    ]);
  });

  test("two voices in a cue share its time by the length of their words", () => {
    const both: TranscriptCue = {
      ...cue("0:00", "0:08", null, ""),
      pieces: [
        { voice: "Ilse", language: null, words: "aaa" },
        { voice: "Joss", language: null, words: "b" },
      ],
    };
    expect(sharesOf(turnsOf([both])).map(({ voice, ms }) => [voice, ms])).toEqual([
      ["Ilse", 6000],
      ["Joss", 2000],
    ]);
  });

  test("silence has no shares", () => expect(sharesOf([])).toEqual([]));
});

test.each([
  ["Nine sailings a week from Sollen", 6],
  ["2–1 — that was it", 4],
  ["", 0],
  ["…", 0],
])("%s has %i words", (text, count) => expect(countWords(text)).toBe(count));
