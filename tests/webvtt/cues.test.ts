import { describe, expect, test } from "vitest";
import { type CuesOptions, cues } from "../../src/cli/cues.ts";
import { C, H } from "./show.ts";

/** Runs the command over files in memory: the exit code and what was written. */
async function run(
  files: Readonly<Record<string, string>>,
  paths: readonly string[],
  options: CuesOptions = { json: true },
): Promise<{ readonly code: number; readonly out: string; readonly err: readonly string[] }> {
  let out = "";
  const err: string[] = [];
  const code = await cues(paths, options, {
    read: async (path) => {
      const text = files[path];
      if (text === undefined) throw new Error("no such file");
      return new TextEncoder().encode(text);
    },
    write: (text) => {
      out += text;
    },
    err: (line) => err.push(line),
  });
  return { code, out, err };
}

const parsed = (out: string): readonly unknown[] =>
  out
    .trimEnd()
    .split("\n")
    .map((line) => JSON.parse(line));

describe("afterair cues --json", () => {
  test("gives one object a line, with the names, values and defaults of VTTCue and VTTRegion (WebVTT §9)", async () => {
    const full = `${H}REGION\nid:r lines:2 scroll:up\n\nSTYLE\n::cue{}\n\n1\n${C} region:r\n<b>a</b>\nb\n`;
    const placed = `${H}${C} line:50%,end position:10%,line-left size:50% align:left vertical:lr\nx\n`;
    const { code, out, err } = await run({ a: full, b: placed }, ["a", "b"]);
    expect([code, err]).toEqual([0, []]);
    expect(parsed(out)).toEqual([
      {
        file: "a",
        regions: [
          {
            id: "r",
            width: 100,
            lines: 2,
            regionAnchorX: 0,
            regionAnchorY: 100,
            viewportAnchorX: 0,
            viewportAnchorY: 100,
            scroll: "up",
          },
        ],
        styles: ["::cue{}"],
        cues: [
          {
            id: "1",
            startTime: 1,
            endTime: 2,
            text: "<b>a</b>\nb",
            vertical: "",
            snapToLines: true,
            line: "auto",
            lineAlign: "start",
            position: "auto",
            positionAlign: "auto",
            size: 100,
            align: "center",
            region: "r",
            line_number: 10,
          },
        ],
        problems: [],
      },
      {
        file: "b",
        regions: [],
        styles: [],
        cues: [
          {
            id: "",
            startTime: 1,
            endTime: 2,
            text: "x",
            vertical: "lr",
            snapToLines: false,
            line: 50,
            lineAlign: "end",
            position: 10,
            positionAlign: "line-left",
            size: 50,
            align: "left",
            region: null,
            line_number: 3,
          },
        ],
        problems: [],
      },
    ]);
  });

  test("keeps the order of keys", async () => {
    const { out } = await run({ a: `${H}${C}\nx\n` }, ["a"]);
    expect(out).toMatch(
      /^\{"file":.*,"regions":.*,"styles":.*,"cues":\[\{"id":.*,"line_number":3\}\],"problems":\[\]\}\n$/,
    );
  });

  test("a file that a parser must reject has no cues, a problem, and exit code 1", async () => {
    const { code, out } = await run({ a: `${H}${C}\nx\n`, b: `WEBVTTx\n\n${C}\nx\n` }, ["b", "a"]);
    expect(code).toBe(1);
    const problem = { line: 1, column: 1, severity: "blocks", rule: "signature", message: expect.any(String) };
    expect(parsed(out)).toMatchObject([
      { file: "b", cues: [], problems: [problem] },
      { file: "a", problems: [] },
    ]);
  });

  test("words that a parser drops have exit code 1", async () => {
    const { code, out } = await run({ a: `${H}${C}\n5 < 6\n` }, ["a"]);
    expect(code).toBe(1);
    expect(parsed(out)).toMatchObject([{ problems: [{ line: 4, column: 3, severity: "blocks", rule: "tag-open" }] }]);
  });

  test("faults that a parser forgives leave exit code 0", async () => {
    const { code, out } = await run({ a: `${H}${C}\n5 & 6\n` }, ["a"]);
    expect(code).toBe(0);
    expect(parsed(out)).toMatchObject([
      { problems: [{ line: 4, column: 3, severity: "warns", rule: "reference-bare" }] },
    ]);
  });

  test("a file that can't be read has exit code 2, and the others are still done", async () => {
    const { code, out, err } = await run({ a: `${H}${C}\nx\n`, b: "x" }, ["none", "a", "b"]);
    expect([code, err]).toEqual([2, ["none: can't be read: no such file"]]);
    expect(parsed(out)).toMatchObject([{ file: "a" }, { file: "b" }]);
  });

  test("a file of metadata may hold anything", async () => {
    const { out } = await run({ a: `${H}${C}\n{"a":"<"}\n` }, ["a"], { json: true, kind: "metadata" });
    expect(parsed(out)).toMatchObject([{ problems: [] }]);
  });

  test("a long list is written in pieces", async () => {
    const many = H + `${C}\n${"x".repeat(100)}\n\n`.repeat(2000);
    const { out } = await run({ a: many }, ["a"]);
    expect(parsed(out)).toMatchObject([{ cues: { length: 2000 } }]);
  });
});

test("afterair cues without --json is a table", async () => {
  const { code, out } = await run({ a: `${H}1\n${C}\nx\ny\n\nlost\n`, b: "x" }, ["a", "b"], { json: false });
  expect(code).toBe(1);
  expect(out.split("\n").slice(0, 5)).toEqual([
    "a: 1 cue, 1 problem",
    "      4  00:00:01.000 00:00:02.000  [1] x / y",
    expect.stringMatching(/^a:8:1: blocks words-outside-cue: These words .* "lost"\. Put /),
    "b: not a WebVTT file, 1 problem",
    expect.stringMatching(/^b:1:1: blocks signature: /),
  ]);
});

test("a time past all counting is shown in seconds", async () => {
  const { out } = await run({ a: `${H}${"9".repeat(400)}:00:00.000 --> 00:01.000\nx\n` }, ["a"], { json: false });
  expect(out).toContain(`${Number.MAX_VALUE} s`);
});
