import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { CORRECTION_KINDS, correctionKind, does, kindsThat, replaces } from "../../src/model/correctionKinds.ts";

describe.each(CORRECTION_KINDS)("the kind %s", (kind) => {
  const row = correctionKind(kind);

  test("has words for readers, for editors and for whoever chooses it, each as long as its place", () => {
    for (const sentence of [row.meaning, row.inSchema, row.whyNot]) expect(sentence).toMatch(/^\S.*\.$/);
    expect(row.hint).toMatch(/^[a-z].*[^.]$/);
    expect([row.name, row.done].join(" ")).toMatch(/^[A-Z][\w -]* [A-Z]\w*$/);
  });

  test("is told from every other by its name and its sign", () => {
    const others = CORRECTION_KINDS.filter((other) => other !== kind).map(correctionKind);
    expect(others.map(({ name }) => name)).not.toContain(row.name);
    expect(others.map(({ glyph }) => glyph.drawn)).not.toContain(row.glyph.drawn);
  });
});

// Common practice, no source: on-air errors, clarifications and updates leave the words; a withdrawal takes all away.
test.each([
  ["on-air", false],
  ["transcript", true],
  ["page", true],
  ["clarification", false],
  ["update", false],
  ["withdrawal", false],
] as const)("whether %s puts something else in the place of what stood there: %s", (kind, expected) => {
  expect(replaces({ kind })).toBe(expected);
});

test("only a withdrawal takes anything away", () => {
  expect(kindsThat("takes-away")).toEqual(["withdrawal"]);
  expect(CORRECTION_KINDS.filter((kind) => does({ kind }, "takes-away"))).toEqual(["withdrawal"]);
});

const ROOT = join(import.meta.dirname, "../..");
const sources = ["src", "templates"].flatMap((folder) =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((file) => /\.tsx?$/.test(file))
    .map((file) => `${folder}/${file}`),
);
const NAMES = CORRECTION_KINDS.join("|");
/** Code that asks for a kind by its name, and would have to be found when another is added. */
const BY_NAME = new RegExp(
  `\\bkind\\)? [!=]== "(?:${NAMES})"|case "(?:${NAMES})":|\\bkind: "(?:${NAMES})"|"(?:${NAMES})": `,
);

test("code asks what a correction does, and never which kind it is", () => {
  const asking = sources.filter((file) => BY_NAME.test(readFileSync(join(ROOT, file), "utf8")));
  expect(asking).toEqual(["src/model/correctionKinds.ts"]);
});
