import { isUtf8 } from "node:buffer";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { splitFront } from "../../src/read/frontMatter.ts";
import { firstBadByte } from "../../src/read/text.ts";
import { brief, source } from "./support.ts";

const split = (text: string) => splitFront(source("a.md", text));

/** The data of front matter that must be good. */
function dataOf(yaml: string): unknown {
  const read = split(`---\n${yaml}\n---\n`);
  expect(brief(read.findings)).toEqual([]);
  return read.ok ? read.value.data : null;
}

describe("YAML 1.2, not 1.1", () => {
  test.each([
    ["a time whose first digit made it sixty times as much", "a: 13:20", "13:20"],
    ["a duration", "a: 27:52", "27:52"],
    ["a time that begins with nought", "a: 0:41", "0:41"],
    ["hours", "a: 1:02:03", "1:02:03"],
    ["a decimal", "a: 3:41.5", "3:41.5"],
    ["below nought", "a: -1:30", "-1:30"],
    ["sixty seconds", "a: 12:60", "12:60"],
    ["a date", "a: 2026-10-05", "2026-10-05"],
    ["a date and time", "a: 2026-10-05T18:30:00", "2026-10-05T18:30:00"],
    ["a date and time with its offset", "a: 2026-10-05T18:30:00+01:00", "2026-10-05T18:30:00+01:00"],
    ["a date that never was", "a: 2026-13-45", "2026-13-45"],
    ["an episode's id", "a: 2026-10-05-late", "2026-10-05-late"],
    ["no is a word", "a: no", "no"],
    ["off is a word", "a: off", "off"],
    ["yes is a word", "a: yes", "yes"],
    ["a digit group", "a: 1_000", "1_000"],
    ["base two", "a: 0b101", "0b101"],
    ["a leading nought is lost", "a: 012", 12],
    ["base eight", "a: 0o12", 10],
    ["a version number loses its end", "a: 1.10", 1.1],
    ["quoted, a number stays text", 'a: "012"', "012"],
  ])("%s: %s", (_why, yaml, value) => {
    expect(dataOf(yaml)).toEqual({ a: value });
  });

  test("a key that looks like a time, and a merge key, are plain keys", () => {
    expect(dataOf("13:20: x\n<<: y")).toEqual({ "13:20": "x", "<<": "y" });
  });

  test("the schema comment for editors is accepted in the first line", () => {
    expect(dataOf("# yaml-language-server: $schema=../../../.schemas/episode.schema.json\na: 1")).toEqual({ a: 1 });
  });
});

describe("faults of the front matter", () => {
  test.each([
    ["JavaScript", "---js\n({ a: 1 })\n---\n", ["front-matter-language 1:4"]],
    ["JavaScript, spelled out", "---javascript\nprocess.exit(3)\n---\n", ["front-matter-language 1:4"]],
    ["JavaScript behind a blank", "--- js\n({})\n---\n", ["front-matter-language 1:4"]],
    ["JSON", '---json\n{"a": 1}\n---\n', ["front-matter-language 1:4"]],
    ["CoffeeScript", "---coffee\na: 1\n---\n", ["front-matter-language 1:4"]],
    ["a name of the prototype", "---constructor\na: 1\n---\n", ["front-matter-language 1:4"]],
    ["none", "Words.\n", ["front-matter-missing 1:1"]],
    ["an empty file", "", ["front-matter-missing 1:1"]],
    ["four hyphens", "----\na: 1\n----\n", ["front-matter-missing 1:1"]],
    ["never closed", "---\na: 1\nWords.\n", ["front-matter-unterminated 1:1"]],
    ["a closing line that goes on", "---\na: 1\n--- b\n---\n", ["front-matter-closing-line 3:1"]],
    ["nothing in it", "---\n---\nWords.\n", ["front-matter-empty 2:1"]],
    ["a comment alone", "---\n# a\n---\n", ["front-matter-empty 2:1"]],
    ["a list", "---\n- a\n---\n", ["front-matter-not-a-map 2:1"]],
    ["a word", "---\nwords\n---\n", ["front-matter-not-a-map 2:1"]],
    ["a key twice", "---\na: 1\nb: 2\na: 3\n---\n", ["yaml-key-twice 4:1"]],
    ["a tab", "---\na:\n\tb: 1\n---\n", ["yaml-tab 3:1"]],
    ["a second colon", "---\nb: 1\na: x: y\n---\n", ["yaml-colon 3:4"]],
    ["a reserved first character", "---\na: @x\n---\n", ["yaml-first-character 2:4"]],
    ["an open quote", "---\na: 'x\nb: 1\n---\n", ["yaml-unreadable 3:5"]],
    ["an open bracket", "---\na: [1, 2\n---\n", ["yaml-unreadable 2:9"]],
    ["a second document", "---\na: 1\n...\nb: 1\n---\n", ["yaml-second-document 4:1"]],
    ["YAML 1.1 asked for", "---\n%YAML 1.1\na: 13:20\n---\n", ["yaml-unreadable 3:1", "yaml-directive 2:1"]],
    ["an alias", "---\na: &x 1\nb: *x\n---\n", ["yaml-alias 3:4"]],
    ["an alias of nothing", "---\nb: *x\n---\n", ["yaml-alias 2:4"]],
    ["an unknown tag", "---\na: !foo 1\n---\n", ["yaml-tag 2:4"]],
    ["bytes by a tag", "---\na: !!binary aGk=\n---\n", ["yaml-tag 2:13"]],
    ["the prototype as a key", "---\n__proto__: { a: 1 }\nb: 1\n---\n", ["key-unknown 2:1"]],
    ["a number as a key", "---\n1: x\n---\n", ["key-unknown 2:1"]],
    ["a list as a key", "---\n? [a]\n: x\n---\n", ["key-unknown 2:3"]],
    ["a hash that cuts a title", "---\na: Route #9\n---\n", ["yaml-hash 2:10"]],
    ["a control character", "---\na: x\u0007\n---\n", ["text-control 2:5"]],
    ["a trace of another encoding", "---\na: x\n---\nIt\u0092s\n", ["text-control 4:3"]],
    ["a line of 400,000 characters", `---\na: ${"x".repeat(400_000)}\n---\n`, ["front-matter-too-long 1:1"]],
    ["the most that may stand below", `---\na: 1\n---\n${"x".repeat(500_000)}`, []],
    ["one character more", `---\na: 1\n---\n${"x".repeat(500_001)}`, ["body-too-long 4:1"]],
    ["far too many lines", `---\n${"\n".repeat(100_000)}a: 1\n---\n`, ["front-matter-too-long 1:1"]],
    ["nested past all sense", `---\na: ${"[".repeat(60_000)}\n---\n`, ["yaml-too-deep 2:54"]],
  ])("%s", (_why, text, expected) => {
    expect(brief(split(text).findings)).toEqual(expected);
  });

  test("aliases that would grow past memory are refused before they grow", () => {
    const level = (n: number) => `k${n}: &k${n} [${Array.from({ length: 9 }, () => `*k${n - 1}`).join(", ")}]`;
    const bomb = ["k0: &k0 [x, x]", ...Array.from({ length: 12 }, (_, i) => level(i + 1))].join("\n");
    const rules = new Set(split(`---\n${bomb}\n---\n`).findings.map(({ rule }) => rule));
    expect([...rules]).toEqual(["yaml-alias"]);
  });

  test("code is not run", () => {
    const globals = globalThis as { ran?: boolean };
    split("---js\n(globalThis.ran = true, {})\n---\n");
    split("---javascript\nglobalThis.ran = true\n---\n");
    expect(globals.ran).toBeUndefined();
  });

  test.each([
    ["a byte of another encoding", [0x61, 0x0a, 0x62, 0x92], "text-not-utf8 2:2", "byte 4 of it (0x92, in line 2)"],
    ["UTF-16", [0xff, 0xfe, 0x2d, 0x00], "text-not-utf8 1:1", "UTF-16"],
    ["half a surrogate pair", [0xed, 0xa0, 0x80], "text-not-utf8 1:1", "0xed"],
    ["an overlong slash", [0xc0, 0xaf], "text-not-utf8 1:1", "0xc0"],
    ["a character cut off", [0x61, 0xe2, 0x82], "text-not-utf8 1:2", "0xe2"],
    ["past the last character", [0xf4, 0x90, 0x80, 0x80], "text-not-utf8 1:1", "0xf4"],
  ])("not UTF-8: %s", (_why, bytes, expected, says) => {
    const { findings } = splitFront({ file: "a.md", bytes: Uint8Array.from(bytes) });
    expect(brief(findings)).toEqual([expected]);
    expect(findings[0]?.says).toContain(says);
  });
});

describe("places", () => {
  test("keys and values, in nested lists and maps", () => {
    const read = split("---\n# first\na: 1\nlist:\n  - { x: 1, y: [p, q] }\n  - x: 2\n---\nBody.\n");
    if (!read.ok) throw new Error("this is good front matter");
    const { placeOf, keyPlaceOf, written, bodyAt, body } = read.value;
    expect(keyPlaceOf(["a"])).toEqual({ file: "a.md", line: 3, column: 1 });
    expect(placeOf(["list", 0, "y", 1])).toEqual({ file: "a.md", line: 5, column: 20 });
    expect(keyPlaceOf(["list", 0, "y"])).toMatchObject({ line: 5, column: 13 });
    expect(placeOf(["list", 1, "x"])).toMatchObject({ line: 6, column: 8 });
    expect(placeOf(["list", 1, "missing"])).toMatchObject({ line: 6, column: 5 });
    expect(written(["list", 0, "y"])).toBe("[p, q]");
    expect(body).toBe("Body.\n");
    expect(bodyAt).toMatchObject({ line: 8, column: 1 });
  });

  test.each([
    ["a byte order mark", "\uFEFF---\na: 1\nb: 2\n---\nWords.\n"],
    ["line ends of Windows", "---\r\na: 1\r\nb: 2\r\n---\r\nWords.\n"],
    ["blanks behind the hyphens", "---  \na: 1\nb: 2\n---  \nWords.\n"],
    ["the language named", "---yaml\na: 1\nb: 2\n---\nWords.\n"],
  ])("%s moves no column", (_why, text) => {
    const read = split(text);
    if (!read.ok) throw new Error("this is good front matter");
    expect(read.value.data).toEqual({ a: 1, b: 2 });
    expect(read.value.placeOf(["b"])).toMatchObject({ line: 3, column: 4 });
  });

  test("columns count as editors count: an astral character is two", () => {
    const read = split("---\na: { x: 🌊, y: 1 }\n---\n");
    expect(read.ok && read.value.placeOf(["a", "y"])).toMatchObject({ line: 2, column: 16 });
  });

  test("a body may be one line of 400,000 characters", () => {
    const read = split(`---\na: 1\n---\n${"x".repeat(400_000)}`);
    expect(read.ok && read.value.body.length).toBe(400_000);
  });
});

test("the first byte that is not UTF-8 is the first, by the system's own test", () => {
  const units = fc.oneof(
    fc.constantFrom(0x61, 0x80, 0xbf, 0xc2, 0xe0, 0xed, 0xef, 0xf0, 0xf4, 0xa0, 0x90),
    fc.nat(255),
  );
  fc.assert(
    fc.property(fc.array(units, { maxLength: 12 }), (units) => {
      const bytes = Uint8Array.from(units);
      const bad = firstBadByte(bytes);
      expect(bad === null).toBe(isUtf8(bytes));
      expect(isUtf8(bytes.subarray(0, bad ?? bytes.length))).toBe(true);
    }),
    { numRuns: 2000 },
  );
});

describe("whatever the bytes", () => {
  const wellPlaced = (bytes: Uint8Array) => {
    const { findings } = splitFront({ file: "a.md", bytes });
    const lines = new TextDecoder().decode(bytes).split("\n");
    for (const { at, mend, says } of findings) {
      expect(at.line).toBeGreaterThanOrEqual(1);
      expect(at.line).toBeLessThanOrEqual(lines.length);
      expect(at.column).toBeGreaterThanOrEqual(1);
      expect(at.column).toBeLessThanOrEqual((lines[at.line - 1] ?? "").length + 1);
      expect(mend).not.toBe("");
      expect(says).not.toBe("");
    }
  };

  test("random bytes never throw, and findings stand inside the file", () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 200 }), wellPlaced));
  });

  test("nor do random bytes between the hyphens", () => {
    const framed = fc
      .string({ unit: "binary", maxLength: 80 })
      .map((yaml) => new TextEncoder().encode(`---\n${yaml}\n---\n`));
    fc.assert(fc.property(framed, wellPlaced));
  });

  test("nor what looks like YAML", () => {
    const tokens = [
      "a",
      ":",
      " ",
      "\n",
      "- ",
      "[",
      "]",
      "{",
      "}",
      "&x",
      "*x",
      "!t",
      "#",
      "'",
      '"',
      "|",
      ">",
      "?",
      "%",
      "---",
      "\t",
      "~",
      "1",
      ",",
    ];
    const yaml = fc
      .array(fc.constantFrom(...tokens), { maxLength: 60 })
      .map((parts) => new TextEncoder().encode(`---\n${parts.join("")}\n---\n`));
    fc.assert(fc.property(yaml, wellPlaced), { numRuns: 1000 });
  });
});
