import { describe, expect, test } from "vitest";
import {
  composeCaptions,
  composeChapters,
  composeVtt,
  cuePieces,
  cueText,
  parseCueText,
  parseVtt,
  plainText,
  voicePieces,
} from "../../src/webvtt/index.ts";
import { faults, showTree } from "./show.ts";

const piece = (voice: string | null, words: string, language: string | null = null) => ({ voice, language, words });

describe("captions", () => {
  const text = composeCaptions({
    header: "The Evening Tide",
    notes: ["Made from the record.\n\nWith --> an arrow."],
    cues: [
      {
        id: "1",
        start: 0,
        end: 1500,
        settings: "align:start line:0",
        pieces: [piece("Ilse Marrane", "Good evening.")],
      },
      { start: 3_723_004, end: 360_000_000, pieces: [piece("Ilse", "Bore da\n", "cy"), piece("Tom", "R&D <now>")] },
      { start: 360_000_000, end: 360_000_001, pieces: [] },
    ],
  });
  test("are written so (WebVTT §4.1, §4.2.2)", () => {
    expect(text).toBe(
      [
        "WEBVTT The Evening Tide",
        "",
        "NOTE",
        "Made from the record.",
        "With -- > an arrow.",
        "",
        "1",
        "00:00:00.000 --> 00:00:01.500 align:start line:0",
        "<v Ilse Marrane>Good evening.</v>",
        "",
        "01:02:03.004 --> 100:00:00.000",
        "<v Ilse><lang cy>Bore da</lang></v>",
        "<v Tom>R&amp;D &lt;now&gt;</v>",
        "",
        "100:00:00.000 --> 100:00:00.001",
        "",
        "",
      ].join("\n"),
    );
    expect(faults(text)).toEqual([]);
  });
  test("read back as the same pieces", () => {
    const file = parseVtt(text);
    expect(file.cues.map((cue) => cuePieces(file, cue))).toEqual([
      [piece("Ilse Marrane", "Good evening.")],
      [piece("Ilse", "Bore da\n", "cy"), piece("Tom", "R&D <now>")],
      [],
    ]);
  });
  test("without cues are a signature and a blank line", () => expect(composeVtt({ cues: [] })).toBe("WEBVTT\n\n"));
  test.each([
    ["a setting that may not be written", "line:1.5 align:end", "align:end"],
    ["a region, since the file has none", "region:r size:50%", "size:50%"],
    ["the earlier of two", "align:left align:right", "align:right"],
    ["an arrow", "--> align:end", "align:end"],
  ])("leave out %s", (_why, settings, kept) => {
    expect(composeVtt({ cues: [{ start: 0, end: 1, settings, payload: "x" }] })).toBe(
      `WEBVTT\n\n00:00:00.000 --> 00:00:00.001 ${kept}\nx\n`,
    );
  });
  test("an id stays on its line", () => {
    expect(composeVtt({ cues: [{ id: "a\nb --> c", start: 0, end: 1, payload: "x" }] })).toContain("\na b -- > c\n");
  });
});

describe("cue text that reads back (WebVTT §4.2.2)", () => {
  test.each([
    ["blank lines", [piece(null, "\na\n\n\nb\n")], "&#10;a\n&#10;&#10;b&#10;"],
    ["CRLF becomes LF", [piece(null, "a\r\nb\rc")], "a\nb\nc"],
    ["an arrow", [piece(null, "a --> b")], "a --&gt; b"],
    ["a name that ends in two hyphens", [piece("a--", "x")], "<v a-&#45;>x</v>"],
    ["a name with marks", [piece("A & <B>", "x")], "<v A &amp; &lt;B&gt;>x</v>"],
    ["a name with spaces and lines", [piece(" A \n B ", "x")], "<v A B>x</v>"],
    ["a name of space is none", [piece(" ", "x")], "x"],
    ["U+0000 and a lone surrogate become U+FFFD", [piece(null, "a\0b\uD800c😀")], "a\uFFFDb\uFFFDc😀"],
    ["no words, no tag", [piece("A", "")], ""],
    ["a line end between voices", [piece("A", "x\n"), piece("B", "y")], "<v A>x</v>\n<v B>y</v>"],
    ["a line end before words without a voice", [piece("A", "x\n"), piece(null, "y")], "<v A>x&#10;</v>y"],
    ["languages within one voice", [piece("A", "x "), piece("A", "y", "cy")], "<v A>x <lang cy>y</lang></v>"],
  ])("%s", (_why, pieces, text) => {
    expect(cueText(pieces)).toBe(text);
  });
  test("two line ends between pieces", () => {
    const pieces = [piece("A", "x\n\n"), piece("B", "\ny")];
    expect(voicePieces(parseCueText(cueText(pieces)))).toEqual(pieces);
  });
});

test("chapters have titles without tags (WebVTT §4.2.3)", () => {
  const text = composeChapters({ cues: [{ id: "ferry", start: 41_000, end: 200_000, title: "R&D <b>--></b>" }] });
  expect(faults(text, "chapters")).toEqual([]);
  const [cue] = parseVtt(text).cues;
  expect(cue).toMatchObject({ id: "ferry", startTime: 41, endTime: 200 });
  expect(showTree(parseCueText(cue?.text ?? ""))).toBe('"R&D <b>--></b>"');
});

test("plain text has a paragraph for each turn", () => {
  const cues = [
    { pieces: [piece("Ilse Marrane", "Good\nevening.")] },
    { pieces: [piece("Ilse Marrane", "Nine sailings."), piece("Tom", " Eleven? ")] },
    { pieces: [piece(null, "[Music]")] },
    { pieces: [piece("Tom", " ")] },
  ];
  expect(plainText(cues)).toBe("Ilse Marrane: Good evening. Nine sailings.\n\nTom: Eleven?\n\n[Music]\n");
  expect(plainText([])).toBe("");
});
