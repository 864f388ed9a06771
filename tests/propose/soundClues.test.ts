import { expect, test } from "vitest";
import type { Recording } from "../../src/derive/propose/recording.ts";
import { findSegments } from "../../src/derive/propose/segments.ts";
import { soundClues } from "../../src/derive/propose/soundClues.ts";
import type { PlannedSegment, SpokenWord } from "../../src/model/spoken.ts";

/** Sentences of three words in three seconds, each with its voice; "music": nobody's. */
function sayings(voices: readonly (number | null | "music")[]) {
  const words = voices.flatMap((_, n): readonly SpokenWord[] =>
    ["So", "it", "goes."].map((text, k) => {
      const start = n * 4000 + k * 1000;
      return { text, start, end: start + 900, voice: null };
    }),
  );
  const recording: Recording = {
    tellApart: (pieces) => ({
      of: pieces.map((_, n) => (typeof voices[n] === "number" ? voices[n] : null)),
      unspoken: pieces.map((_, n) => voices[n] === "music"),
      alike: (a, b) => a === b,
    }),
    quiets: [],
    names: [],
  };
  return { words, recording };
}

test("a segment hardly begins in a voice that does not open the programme, or where nobody speaks", () => {
  const { words, recording } = sayings(["music", 0, 0, 1, 0, 0, 0, 0, 1, 0, 2, null, "music", 0, 2]);
  const { noBeginning, unspoken } = soundClues(words, recording);
  // The first eight told are by 0 and 1; 2 comes later.
  expect([...noBeginning].map((word) => word / 3)).toEqual([0, 10, 12, 14]);
  expect([unspoken[3], unspoken[36], unspoken[39], unspoken[45]]).toEqual([3, 3, 6, 6]);
});

test("where nobody listens, the sound says nothing", () => {
  const { words } = sayings([0, 0, 1]);
  const { noBeginning, unspoken } = soundClues(words, null);
  expect([...noBeginning]).toEqual([]);
  expect(unspoken[words.length]).toBe(0);
});

const planned = (slug: string, kind: PlannedSegment["kind"], seconds: number): PlannedSegment => ({
  slug,
  kind,
  title: slug,
  by: [],
  planned: seconds * 1000,
  in: null,
  at: { file: "order.csv", line: 1, column: 1 },
});

test("segments are found where the presenter speaks, and a break where nobody does", () => {
  const presenter = Array.from({ length: 9 }, () => 0);
  const voices = [...presenter, 1, 1, 1, 1, 1, "music", "music", "music", "music", 0, 0, 0, 0] as const;
  const { words, recording } = sayings([...voices]);
  // The plan has the break begin in the middle of the report.
  const order = [planned("opening", "headlines", 52), planned("break", "break", 18), planned("close", "close", 22)];
  const found = (listens: boolean) =>
    findSegments({ words, order, echoes: [], end: voices.length * 4000, recording: listens ? recording : null });
  const starts = (listens: boolean) => found(listens).map(({ word }) => word / 3);
  expect(starts(true)).toEqual([0, 14, 18]);
  expect(starts(false)).not.toEqual([0, 14, 18]);
});
