import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { CAPTION_FIGURES } from "../../src/model/captions.ts";
import { parseProgramme } from "../../src/read/index.ts";

const DEMO = readFileSync(join(import.meta.dirname, "../../content/programme.md"), "utf8");
const parse = (captions: string) => {
  const text = DEMO.replace(/\n---\n/, `\n${captions}\n---\n`);
  const programme = { file: "programme.md", bytes: new TextEncoder().encode(text) };
  const files = [{ file: "poster.svg", bytes: 1, modified: 0 }];
  return parseProgramme({ programme, names: [], textPages: [], files });
};

describe("the key captions of programme.md", () => {
  test("left out: the published figures hold", () => {
    expect(parse("").programme).not.toBeNull();
    expect(parse("").programme?.captions).toBeUndefined();
  });

  test("what it gives takes the place of theirs, times in seconds", () => {
    expect(parse("captions: { line: 42, longest: 7.5, gap: 0 }").programme?.captions).toEqual({
      ...CAPTION_FIGURES,
      line: 42,
      longest: 7500,
      gap: 0,
    });
  });

  test.each([
    ["a length in words", "captions: { line: wide }", "number-wanted"],
    ["a time with its unit", "captions: { longest: 7s }", "number-wanted"],
    ["a key that is none", "captions: { width: 42 }", "key-unknown"],
  ])("%s is a fault", (_why, captions, rule) => {
    const { programme, findings } = parse(captions);
    expect(programme).toBeNull();
    expect(findings.map((finding) => finding.rule)).toContain(rule);
  });
});
