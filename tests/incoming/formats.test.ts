import { readFileSync } from "node:fs";
import { join } from "node:path";
import Parser from "srt-parser-2";
import { describe, expect, test } from "vitest";
import { rawFrom, rulesOf } from "./raw.ts";

const FOLDER = join(import.meta.dirname, "../fixtures/raw/evening");
const read = (name: string) => rawFrom(new Uint8Array(readFileSync(join(FOLDER, name))), name);
const wordsIn = (name: string) =>
  read(name).rawBlocks.flatMap(({ text }) => text.toLowerCase().replace(/[.,]/g, "").split(" "));

describe("one broadcast in every format", () => {
  test.each([
    ["raw.vtt", "WebVTT", 22],
    ["raw.srt", "SubRip", 22],
    ["raw.txt", "timed text", 22],
    ["raw.words.json", "word list", 1338],
  ])("%s is %s with %d blocks, and nothing to say", (name, format, rawBlocks) => {
    const raw = read(name);
    expect(raw.format).toBe(format);
    expect(raw.rawBlocks).toHaveLength(rawBlocks);
    expect(raw.findings).toEqual([]);
    expect(raw.unplaced).toEqual([]);
  });

  test("the words are the same in all of them", () => {
    const words = wordsIn("raw.words.json");
    for (const name of ["raw.vtt", "raw.srt", "raw.txt"]) expect(wordsIn(name)).toEqual(words);
  });
});

// Outside check: the package srt-parser-2.
test("SubRip as an independent package reads it", () => {
  const text = readFileSync(join(FOLDER, "raw.srt"), "utf8");
  const ours = read("raw.srt").rawBlocks.map(({ start, end, text: words }) => [start, end, words]);
  const theirs = new Parser()
    .fromSrt(text)
    .map((cue) => [
      Math.round(cue.startSeconds * 1000),
      Math.round(cue.endSeconds * 1000),
      cue.text.replace(/\s+/g, " "),
    ]);
  expect(ours).toEqual(theirs);
});

describe("SubRip as it is found", () => {
  test.each([
    ["a decimal or two", "1\n00:00:01,5 --> 00:00:02,25\nGood evening\n", [[1500, 2250, "Good evening"]]],
    ["full stops in the times", "1\n00:00:01.000 --> 00:00:02.500\nGood evening\n", [[1000, 2500, "Good evening"]]],
    [
      "CRLF, a byte order mark, tags",
      "\uFEFF1\r\n00:00:01,000 --> 00:00:02,500\r\n<i>Good</i> {\\an8}evening\r\n",
      [[1000, 2500, "Good evening"]],
    ],
    [
      "no numbers",
      "00:00:01,000 --> 00:00:02,000\nOne\n\n00:00:03,000 --> 00:00:04,000\nTwo\n",
      [
        [1000, 2000, "One"],
        [3000, 4000, "Two"],
      ],
    ],
    [
      "a blank line inside a cue",
      "1\n00:00:01,000 --> 00:00:02,000\nOne\n\nmore\n\n2\n00:00:03,000 --> 00:00:04,000\nTwo",
      [
        [1000, 2000, "One more"],
        [3000, 4000, "Two"],
      ],
    ],
    [
      "a cue that is a number",
      "1\n00:00:01,000 --> 00:00:02,000\n1987\n\n2\n00:00:03,000 --> 00:00:04,000\nTwo",
      [
        [1000, 2000, "1987"],
        [3000, 4000, "Two"],
      ],
    ],
  ])("%s", (_why, text, wanted) => {
    const raw = rawFrom(text);
    expect(raw.format).toBe("SubRip");
    expect(raw.rawBlocks.map(({ start, end, text: words }) => [start, end, words])).toEqual(wanted);
  });

  test("words whose times can't be read are kept, with their line", () => {
    const raw = rawFrom("1\n00:00:01,000 --> 00:00:02,000\nOne\n\n2\n00:00:xx,000 --> 00:00:04,000\nTwo words\n");
    expect(raw.rawBlocks.map(({ text }) => text)).toEqual(["One"]);
    expect(raw.unplaced).toEqual([
      { text: "00:00:xx,000 --> 00:00:04,000 Two words", at: { file: "raw.txt", line: 6, column: 1 } },
    ]);
    expect(rulesOf(raw.findings)).toEqual(["raw-times-unreadable"]);
  });
});

describe("timed text", () => {
  test("paragraphs, hours, lines that go on", () => {
    const raw = rawFrom("[0:21] The former\ntreasurer.\n[1:02:03] Later.\n\nNo time here.\n");
    expect(raw.rawBlocks.map(({ start, text, at }) => [start, text, at.line])).toEqual([
      [21_000, "The former treasurer.", 1],
      [3_723_000, "Later.", 3],
      [null, "No time here.", 5],
    ]);
  });

  test("a time that is none is a finding, and its words stay", () => {
    const raw = rawFrom("[0:21] One.\n\n[0:75] Two.\n");
    expect(raw.rawBlocks.map(({ start, text }) => [start, text])).toEqual([
      [21_000, "One."],
      [null, "Two."],
    ]);
    expect(raw.findings.map(({ rule, at }) => [rule, at.line, at.column])).toEqual([["raw-times-unreadable", 3, 2]]);
  });
});

describe("word lists", () => {
  const list = (entries: readonly object[]) => rawFrom(JSON.stringify(entries), "raw.json");
  const paced = (step: number) =>
    Array.from({ length: 60 }, (_, n) => ({ start: n * step, end: n * step + step, word: `w${n}` }));

  test.each([
    ["seconds", paced(0.4), 400, []],
    ["milliseconds", paced(400), 400, []],
    ["whole seconds at the pace of speech", paced(1), 1000, []],
    ["slower than speech, or faster: unsure", paced(5), 5000, ["raw-unit-unsure"]],
  ])("%s", (_why, entries, second, rules) => {
    const raw = list(entries);
    expect(raw.rawBlocks[1]?.start).toBe(second);
    expect(rulesOf(raw.findings)).toEqual(rules);
  });

  test("inside an object, in segments, with speakers", () => {
    const words = [
      { start: 0.2, end: 0.5, text: "Good", speaker: "A" },
      { start: 0.5, end: 0.9, text: "evening", speaker: "A" },
    ];
    for (const data of [{ words }, { segments: [{ words }] }]) {
      expect(rawFrom(JSON.stringify(data)).rawBlocks.map(({ text, voice }) => [text, voice])).toEqual([
        ["Good", "A"],
        ["evening", "A"],
      ]);
    }
  });

  test("an entry without a word is kept and told, at its place", () => {
    const raw = rawFrom('[\n{"start": 0.1, "end": 0.4, "word": "one"},\n{"start": 0.4, "end": 0.8}\n]', "raw.json");
    expect(raw.unplaced.map(({ text }) => text)).toEqual(['{"start":0.4,"end":0.8}']);
    expect(raw.findings.find(({ rule }) => rule === "raw-word-unreadable")?.at).toEqual({
      file: "raw.json",
      line: 3,
      column: 1,
    });
  });

  test("what is not JSON blocks, with its line", () => {
    const raw = rawFrom('[\n{"start": 0.1, "end": 0.4, "word": "one"},\n{"start": }\n]', "raw.json");
    expect(raw.findings.map(({ rule, level, at }) => [rule, level, at.line])).toEqual([["raw-not-json", "blocks", 3]]);
  });
});

describe("bytes", () => {
  test.each([
    ["an empty file", new Uint8Array(), ["raw-empty"]],
    ["blanks", new TextEncoder().encode(" \n\n"), ["raw-empty"]],
    ["a WebVTT file with no cues", new TextEncoder().encode("WEBVTT\n"), ["raw-empty"]],
  ])("%s blocks", (_why, bytes, rules) => {
    const raw = rawFrom(bytes);
    expect(rulesOf(raw.findings)).toEqual(rules);
    expect(raw.findings[0]?.level).toBe("blocks");
  });

  test("UTF-16 by its mark", () => {
    const bytes = new Uint8Array(Buffer.from("\uFEFF[0:05] Café\n", "utf16le"));
    expect(rawFrom(bytes).rawBlocks.map(({ start, text }) => [start, text])).toEqual([[5000, "Café"]]);
  });

  test("a file that changes its encoding half way", () => {
    const bytes = new Uint8Array([
      ...Buffer.from("[0:05] Café\n\n[0:09] "),
      ...Buffer.from("Caf\xe9 \x93so\x94\n", "latin1"),
    ]);
    const raw = rawFrom(bytes);
    expect(raw.rawBlocks.map(({ text }) => text)).toEqual(["Café", "Café “so”"]);
    expect(raw.findings.map(({ rule, at }) => [rule, at.line])).toEqual([["text-encoding", 3]]);
  });
});
