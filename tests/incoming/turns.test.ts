import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { decodeForeign } from "../../src/read/incoming/decode.ts";
import { notTextFault } from "../../src/read/incoming/notText.ts";
import { parseRawTranscript } from "../../src/read/incoming/transcript.ts";
import { rawFrom, rulesOf } from "./raw.ts";

const NAMES = ["Ilse Marrane", "Joss Tolvey", "Edda Vantrell"];
const turns = (text: string) => {
  const bytes = new TextEncoder().encode(text);
  return parseRawTranscript({ file: "raw.txt", bytes }, { names: NAMES }).rawBlocks.map(({ voice, text: words }) => [
    voice,
    words,
  ]);
};

describe("who speaks", () => {
  test.each([
    [
      "a known name, whatever its case; it lasts",
      "ilse marrane: Good evening.\n\nThe ferry.",
      [
        ["Ilse Marrane", "Good evening."],
        ["Ilse Marrane", "The ferry."],
      ],
    ],
    ["a surname that one person has", "TOLVEY: Good evening.", [["Joss Tolvey", "Good evening."]]],
    ["a stranger in capitals", "FERRY PASSENGER: Late again.", [["Ferry Passenger", "Late again."]]],
    [
      "numbered, however it is written",
      "Speaker 1: Good.\nSPEAKER_02: Evening.",
      [
        ["Speaker 1", "Good."],
        ["Speaker 2", "Evening."],
      ],
    ],
    ["a name alone above its words", "ILSE MARRANE:\nGood evening.", [["Ilse Marrane", "Good evening."]]],
    [
      "not every colon",
      "After the break: football. At 10:30: rain.",
      [[null, "After the break: football. At 10:30: rain."]],
    ],
    [
      "a name that nobody knows, twice",
      "Osric Hand: One.\n\nOsric Hand: Two.",
      [
        ["Osric Hand", "One."],
        ["Osric Hand", "Two."],
      ],
    ],
    ["the same, once: words", "New Harbour: the ferry.", [[null, "New Harbour: the ferry."]]],
    [
      "chevrons with and without names",
      ">> JOSS TOLVEY: Good.\n>> And you?",
      [
        ["Joss Tolvey", "Good."],
        ["Unnamed voice", "And you?"],
      ],
    ],
    [
      "dashes",
      "- Good evening.\n- And to you.",
      [
        ["Unnamed voice", "Good evening."],
        ["Another unnamed voice", "And to you."],
      ],
    ],
    ["a minus is none", "-5 degrees tonight.", [[null, "-5 degrees tonight."]]],
    [
      "what is heard has no voice",
      "ILSE MARRANE: Good.\n[applause]\nThanks.",
      [
        ["Ilse Marrane", "Good."],
        [null, "[applause]"],
        ["Ilse Marrane", "Thanks."],
      ],
    ],
  ])("%s", (_why, text, wanted) => {
    expect(turns(text)).toEqual(wanted);
  });
});

/** Captions of these lines, one after another, without a pause. */
const srt = (cues: readonly string[], gap = 0) =>
  cues
    .map(
      (words, n) =>
        `00:00:${String(n * 2).padStart(2, "0")},000 --> 00:00:${String(n * 2 + 1).padStart(2, "0")},${gap > 0 ? "100" : "999"}\n${words}\n`,
    )
    .join("\n");
const said = (text: string) => {
  const { rawBlocks, joined } = rawFrom(text);
  return { words: rawBlocks.map(({ text: words }) => words).join(" "), joined };
};

describe("captions that roll", () => {
  test.each([
    ["the last line again", ["a b", "a b\nc d", "c d\ne f", "e f\ng h"], { words: "a b c d e f g h", joined: 3 }],
    ["word by word", ["a", "a b", "a b c", "a b c d", "e"], { words: "a b c d e", joined: 3 }],
    [
      "two lines, then one",
      ["a b\nc", "c", "c\nd e", "d e", "d e\nf", "f", "f\ng"],
      { words: "a b c d e f g", joined: 6 },
    ],
    [
      "said twice is said twice",
      ["No.", "No.", "Go!\nGo!", "Go!", "Home."],
      { words: "No. No. Go! Go! Go! Home.", joined: 0 },
    ],
    [
      "said twice among rolling ones",
      ["a\nGo!", "Go!\nGo!", "Go!\nb", "b\nc", "c\nd"],
      { words: "a Go! Go! b c d", joined: 4 },
    ],
  ])("%s", (_why, cues, wanted) => {
    expect(said(srt(cues))).toEqual(wanted);
  });

  test("whatever lines roll by, each word comes once", () => {
    const line = fc.array(
      fc.integer({ min: 0, max: 999 }).map((n) => `w${n}`),
      { minLength: 1, maxLength: 4 },
    );
    fc.assert(
      fc.property(
        fc.uniqueArray(
          line.map((words) => words.join(" ")),
          { minLength: 5, maxLength: 20 },
        ),
        (lines) => {
          const cues = lines.map((own, n) => (n === 0 ? own : `${lines[n - 1]}\n${own}`));
          expect(said(srt(cues)).words).toBe(lines.join(" "));
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe("times that can't be", () => {
  test.each([
    [
      "past a hundred hours",
      "1\n00:00:01,000 --> 00:00:02,000\nOne\n\n2\n200:00:00,000 --> 200:00:01,000\nTwo\n",
      "raw-time-past-all",
      [1000, null],
    ],
    [
      "timecode from ten o'clock",
      "1\n10:00:01,000 --> 10:00:02,000\nOne\n\n2\n10:00:03,000 --> 10:00:04,000\nTwo\n",
      "raw-times-offset",
      [1000, 3000],
    ],
  ])("%s: told, and no word lost", (_why, text, rule, starts) => {
    const raw = rawFrom(text);
    expect(rulesOf(raw.findings)).toContain(rule);
    expect(raw.rawBlocks.map(({ start, text: words }) => [start, words])).toEqual([
      [starts[0], "One"],
      [starts[1], "Two"],
    ]);
  });
});

describe("encodings", () => {
  const decoded = (bytes: readonly number[] | Buffer, encoding: string | null = null) =>
    decodeForeign({ file: "raw.txt", bytes: new Uint8Array(bytes) }, encoding);
  test("UTF-16 without its mark", () => {
    expect(decoded(Buffer.from("Good evening, café", "utf16le")).text.text).toBe("Good evening, café");
  });
  test("Windows-1251 by its letters, with the doubtful words and their lines", () => {
    // "Добрый вечер, говорит остров. Паром уходит утром." in Windows-1251.
    const cp1251 = [..."Добрый вечер, говорит остров.\nПаром уходит утром, и это последний паром."].map((letter) => {
      const code = letter.charCodeAt(0);
      return code < 0x80 ? code : code - 0x410 + 0xc0;
    });
    const { text, encoding, findings } = decoded(cp1251);
    expect(encoding).toBe("windows-1251");
    expect(text.text).toContain("Паром уходит");
    expect(findings[0]?.says).toContain("“Добрый” (line 1)");
  });
  test("what somebody said it is, and what can't be read so", () => {
    expect(decoded([0x63, 0x61, 0x66, 0xa4], "iso-8859-15").text.text).toBe("caf€");
    expect(rulesOf(decoded([0x63, 0xe9, 0x0a], "utf-8").findings)).toEqual(["text-undecodable"]);
    expect(rulesOf(decoded(Buffer.from("one\ncafÃ©\n")).findings)).toEqual(["text-encoded-twice"]);
  });
});

describe("what is no text", () => {
  const bytes = (...head: readonly (string | number)[]) =>
    new Uint8Array(
      Buffer.concat(head.map((part) => (typeof part === "string" ? Buffer.from(part, "latin1") : Buffer.from([part])))),
    );
  test.each([
    ["a PDF", bytes("%PDF-1.7\n%\xe2\xe3\xcf\xd3"), "This is a PDF."],
    ["a web page", bytes("<!DOCTYPE html><html>"), "This is a web page (HTML)."],
    ["rich text", bytes("{\\rtf1\\ansi hello}"), "This is a rich text file (RTF)."],
    ["sound", bytes("ID3\x03\0\0\0\0\0\0\xff\xfb\x90\0", "\0".repeat(200)), "This is sound (MP3)."],
    [
      "a picture",
      bytes("\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x01\0\0\0\x01\x08\0\0\0\0IDAT"),
      "This is a picture (PNG).",
    ],
    ["bytes of no kind", new Uint8Array(Array.from({ length: 2000 }, (_, n) => (n * 7) % 32)), "This is no text"],
  ])("%s is refused by name", async (_why, given, says) => {
    expect(await notTextFault(given, false)).toContain(says);
  });
  test.each([
    ["a text that begins like a picture", "BM: Good evening."],
    ["WebVTT", "WEBVTT\n\n00:01.000 --> 00:02.000\nHi"],
    ["Windows-1252", "Caf\xe9 \x93so\x94"],
    ["nothing", ""],
  ])("%s is not", async (_why, text) => {
    expect(await notTextFault(bytes(text), false)).toBeNull();
  });
});

test("what was recognised counts captions, not the turns in them", () => {
  const raw = rawFrom("WEBVTT\n\n00:00:01.000 --> 00:00:03.000\n>> One two.\n>> Three.\n");
  expect([raw.format, raw.encoding, raw.words, raw.timed, raw.ended, raw.unnamedTurns]).toEqual([
    "WebVTT",
    "UTF-8",
    3,
    1,
    1,
    2,
  ]);
});

test("a word that never ends blocks", () => {
  expect(rawFrom("x".repeat(20_001)).findings.map(({ rule, level }) => [rule, level])).toEqual([
    ["raw-word-endless", "blocks"],
  ]);
});
