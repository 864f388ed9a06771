import { describe, expect, test } from "vitest";
import { parseVtt, type Replacement, replaceCues } from "../../src/webvtt/index.ts";

const FILE = `WEBVTT - a title

STYLE
::cue { color: red }

NOTE Somebody's

1
00:01.000 --> 00:02.000 line:0
<v.loud A>One</v>


NOTE between

00:00:03.000 --> 00:00:04.000
Two

00:05.000 --> 00:06.000
Three
`;
const replaced = (text: string, given: Partial<Omit<Replacement, "out"> & { out: readonly number[] }>) =>
  replaceCues(parseVtt(text), { cues: [], notesOut: [], notes: [], ...given, out: new Set(given.out) });
const cue = (start: number, payload: string) => ({ start, end: start + 500, payload });

describe("cues that come and go", () => {
  test("nothing: not a character changes, whatever the line ends", () => {
    for (const text of [FILE, FILE.trimEnd(), FILE.replaceAll("\n", "\r\n"), "WEBVTT", `\uFEFF${FILE}\n\n\n`])
      expect(replaced(text, {})).toBe(text);
  });
  test("one taken out and two put in stand where it stood", () => {
    expect(replaced(FILE, { out: [1], cues: [cue(3600, "b"), cue(3000, "a")] })).toBe(
      FILE.replace(
        "00:00:03.000 --> 00:00:04.000\nTwo\n",
        "00:00:03.000 --> 00:00:03.500\na\n\n00:00:03.600 --> 00:00:04.100\nb\n",
      ),
    );
  });
  test("put in before the first, and after the last", () => {
    const made = replaced(FILE, { cues: [cue(0, "a"), cue(9000, "z")] });
    expect(made).toContain("NOTE Somebody's\n\n00:00:00.000 --> 00:00:00.500\na\n\n1\n00:01.000");
    expect(made.endsWith("Three\n\n00:00:09.000 --> 00:00:09.500\nz\n")).toBe(true);
  });
  test("all taken out: style, notes and title stay", () => {
    const made = replaced(FILE, { out: [0, 1, 2], cues: [cue(0, "a")] });
    expect(made).toBe(
      "WEBVTT - a title\n\nSTYLE\n::cue { color: red }\n\nNOTE Somebody's\n\n00:00:00.000 --> 00:00:00.500\na\n\nNOTE between\n",
    );
    expect(parseVtt(made).cues).toHaveLength(1);
  });
  test("line ends as the file's; a last line without one gets one", () => {
    const text = FILE.trimEnd().replaceAll("\n", "\r\n");
    const made = replaced(text, { cues: [cue(9000, "x\ny")] });
    expect(made).toBe(`${text}\r\n\r\n00:00:09.000 --> 00:00:09.500\r\nx\r\ny\r\n`);
  });
});

describe("notes that come and go", () => {
  test("new ones stand before the cues, each once", () => {
    const made = replaced(FILE, { notes: ["Lost --> words", "Somebody's"] });
    expect(made).toContain("NOTE Somebody's\n\nNOTE\nLost -- > words\n\n1\n");
    expect(replaced(made, { notes: ["Lost --> words"] })).toBe(made);
  });
  test("one taken out leaves no hole", () => {
    expect(replaced(FILE, { notesOut: ["between"] })).toBe(FILE.replace("NOTE between\n\n", ""));
  });
  test("a file without cues", () => {
    expect(replaced("WEBVTT\n", { notes: ["a"], cues: [cue(0, "b")] })).toBe(
      "WEBVTT\n\nNOTE\na\n\n00:00:00.000 --> 00:00:00.500\nb\n",
    );
  });
});
