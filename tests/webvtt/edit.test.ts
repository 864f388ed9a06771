import { describe, expect, test } from "vitest";
import { decodeVtt, editBytes, editVtt, parseVtt, type VttChange, writeVtt } from "../../src/webvtt/index.ts";
import { C, D, faults, H } from "./show.ts";

const part = (voice: string | null, words: string) => ({ voice, language: null, words });

/** The text after the changes, or the rules of the findings that refuse them. */
function edited(text: string, ...changes: readonly VttChange[]): string | readonly string[] {
  const made = editVtt(parseVtt(text), changes, "a.vtt");
  return made.ok ? writeVtt(made.value) : made.findings.map((finding) => `${finding.at.line} ${finding.rule}`);
}

describe("new words", () => {
  const words = (cue: number, ...lines: readonly string[]): VttChange => ({
    kind: "text",
    cue,
    parts: [part(null, lines.join("\n"))],
  });
  test.each([
    ["in the place of the old", `${H}1\n${C}\nx\ny\n\n${D}\nz`, words(0, "a<"), `${H}1\n${C}\na&lt;\n\n${D}\nz`],
    [
      "with the line ends of the file",
      `WEBVTT\r\n\r\n${C}\r\nx\r\n`,
      words(0, "a", "b"),
      `WEBVTT\r\n\r\n${C}\r\na\r\nb\r\n`,
    ],
    ["where there were none", `${H}${C}\n\n${D}\nz`, words(0, "a", "b"), `${H}${C}\na\nb\n\n${D}\nz`],
    ["where there were none, with CR", `WEBVTT\r\r${C}\r\r${D}\rz`, words(0, "a"), `WEBVTT\r\r${C}\ra\r\r${D}\rz`],
    ["where the next cue follows at once", `${H}${C}\n${D}\nz`, words(0, "a"), `${H}${C}\na\n\n${D}\nz`],
    ["at the end of the file", `${H}${C}\n`, words(0, "a"), `${H}${C}\na\n`],
    ["after a last line without an end", `${H}${C}`, words(0, "a"), `${H}${C}\na\n`],
    ["none", `${H}${C}\nx\n\n${D}\nz`, words(0, ""), `${H}${C}\n\n\n${D}\nz`],
    ["none where there were none", `${H}${C}\n\n`, words(0, ""), `${H}${C}\n\n`],
  ])("%s", (_why, text, change, expected) => {
    expect(edited(text, change)).toBe(expected);
    expect(parseVtt(expected).cues.length).toBe(parseVtt(text).cues.length);
  });
});

describe("new times", () => {
  const two = `${H}${C} line:0\nx<00:01.500>\n\n  0:00:02.000-->00:03.000align:end\nz\n`;
  test("are written in full, and nothing else changes", () => {
    expect(edited(two, { kind: "times", cue: 1, start: 3_600_000, end: 360_000_000 })).toBe(
      two.replace("0:00:02.000", "01:00:00.000").replace("00:03.000", "100:00:00.000"),
    );
  });
  test("a shift takes the times inside along", () => {
    expect(edited(two, { kind: "shift", from: 0, to: 2, by: 500 })).toBe(
      `${H}00:00:01.500 --> 00:00:02.500 line:0\nx<00:00:02.000>\n\n  00:00:02.500-->00:00:03.500align:end\nz\n`,
    );
  });
  test.each([
    ["before zero", { kind: "shift", from: 0, to: 1, by: -1500 }, ["3 edit-time"]],
    ["a start before the cue above", { kind: "shift", from: 1, to: 2, by: -1500 }, ["6 edit-time"]],
    ["a start after the cue below", { kind: "times", cue: 0, start: 2500, end: 2600 }, ["3 edit-time", "6 edit-time"]],
    ["an end at the start", { kind: "times", cue: 1, start: 2000, end: 2000 }, ["6 edit-time"]],
    ["parts of a millisecond", { kind: "times", cue: 1, start: 2000.5, end: 3000 }, ["6 edit-time"]],
    ["a time inside left outside", { kind: "times", cue: 0, start: 1000, end: 1500 }, ["3 edit-time"]],
  ] as const)("refused: %s", (_why, change, rules) => expect(edited(two, change)).toEqual(rules));
  test("a cue that was out of order before may stay so", () => {
    const late = `${H}${D}\nx\n\n${C}\ny\n`;
    expect(edited(late, { kind: "shift", from: 0, to: 2, by: 1000 })).toContain("00:00:03.000 --> 00:00:04.000");
  });
});

describe("a voice", () => {
  const cue = (text: string): string => `${H}${C}\n${text}\n`;
  test.each([
    ["where none is", "Good evening.", "Ilse", "<v Ilse>Good evening."],
    ["in the place of the one", "<v.loud Tom>Hi</v>", "A & B", "<v.loud A &amp; B>Hi</v>"],
    ["in both tags of one voice", "<v Tom>a</v>\n<v Tom>b</v>", "Ilse", "<v Ilse>a</v>\n<v Ilse>b</v>"],
    ["in a tag without a name", "<v>a", "Ilse", "<v Ilse>a"],
  ])("%s", (_why, text, voice, expected) => {
    expect(edited(cue(text), { kind: "voice", cue: 0, voice })).toBe(cue(expected));
    expect(faults(cue(expected))).toEqual([]);
  });
  test("one of two, by its old name", () => {
    const text = cue("<v Ilse Marane>a</v>\n<v Tom>b</v>");
    const change = { kind: "voice", cue: 0, voice: "Ilse Marrane", was: "Ilse Marane" } as const;
    expect(edited(text, change)).toBe(cue("<v Ilse Marrane>a</v>\n<v Tom>b</v>"));
  });
  test.each([
    ["several voices", "<v Ilse>a</v> <v Tom>b</v>", { voice: "x" }],
    ["words without a voice beside it", "<v Ilse>a</v> b", { voice: "x" }],
    ["no words", "", { voice: "x" }],
    ["no name", "a", { voice: " \n" }],
    ["an old name that is not there", "<v Ilse>a", { voice: "x", was: "Tom" }],
  ])("refused: %s", (_why, text, change) => {
    expect(edited(cue(text), { kind: "voice", cue: 0, ...change })).toEqual(["3 edit-voice"]);
  });
});

describe("several changes", () => {
  test("are made together", () => {
    const text = `${H}${C}\nx\n\n${D}\ny\n`;
    const made = edited(
      text,
      { kind: "voice", cue: 1, voice: "Ilse" },
      { kind: "shift", from: 0, to: 2, by: 1 },
      { kind: "text", cue: 0, parts: [part("Tom", "z")] },
    );
    expect(made).toBe(`${H}00:00:01.001 --> 00:00:02.001\n<v Tom>z</v>\n\n00:00:02.001 --> 00:00:03.001\n<v Ilse>y\n`);
  });
  test("of one place are refused", () => {
    const changes = [
      { kind: "voice", cue: 0, voice: "Ilse" },
      { kind: "text", cue: 0, parts: [] },
    ] as const;
    expect(edited(`${H}${C}\nx\n`, ...changes)).toEqual(["3 edit-clash"]);
  });
  test("none leave the file", () => expect(edited(`${H}${C}\nx`)).toBe(`${H}${C}\nx`));
  test("a cue that is not there is a mistake of the caller", () => {
    expect(() => edited(H, { kind: "voice", cue: 0, voice: "x" })).toThrow(RangeError);
    expect(() => edited(`${H}${C}\nx`, { kind: "shift", from: 0, to: 2, by: 1 })).toThrow(RangeError);
  });
});

test("bytes that are not UTF-8 stay as they are (Encoding standard §8.1.1)", () => {
  const bytes = (text: string): number[] => [...new TextEncoder().encode(text)];
  const bad = [0xff, 0x61, 0xf0, 0x9f, 0x98, 0xe2, 0x82, 0xc0, 0x80];
  const whole = Uint8Array.from([...bytes(`\uFEFF${H}é`), ...bad, ...bytes(`\n${C}\nx😀\n\nNOTE `), ...bad]);
  const made = editBytes(whole, [{ kind: "text", cue: 0, parts: [part(null, "ÿ")] }], "a.vtt");
  const expected = [...bytes(`\uFEFF${H}é`), ...bad, ...bytes(`\n${C}\nÿ\n\nNOTE `), ...bad];
  expect(made).toEqual({ ok: true, findings: [], value: Uint8Array.from(expected) });
  expect(decodeVtt(whole).text).toContain("é\uFFFDa\uFFFD\uFFFD\uFFFD\uFFFD\n");
});
