import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { CORRECTION_KINDS, kindsThat } from "../../src/model/correctionKinds.ts";
import { ALL } from "./setting.ts";

const FOLDER = join(import.meta.dirname, "../../templates");
const files = readdirSync(join(FOLDER, "style")).sort();
const style = files.map((file) => readFileSync(join(FOLDER, "style", file), "utf8")).join("\n");
const pages = ALL.map(([, html]) => html).join("\n");

/** Classes that only tell scripts or readers of the markup what a thing is. */
const UNSTYLED = ["correction-page", "share-who"];
/** Classes that scripts give to what they add to a page. */
const OF_DECK = [
  "clock",
  "hint",
  "level",
  "more",
  "next",
  "play",
  "previous",
  "runs",
  "seek",
  "speed",
  "tools",
  "volume",
];
const OF_SEARCH = ["hot", "k-bar", "needle", "r-body", "r-meta", "r-more", "r-side", "r-words", "result"];
const OF_QUOTE = ["close", "done", "field", "source", "this", "ways", "words"];
const BY_SCRIPT = [
  ...OF_SEARCH,
  "deck-help",
  "quote",
  ...OF_QUOTE.map((name) => `quote-${name}`),
  ...OF_DECK.map((name) => `d-${name}`),
];

const styled = new Set([...style.matchAll(/\.([a-z][\w-]*)/g)].map(([, name]) => name));
const used = new Set([...pages.matchAll(/\sclass="([^"]+)"/g)].flatMap(([, names = ""]) => names.split(" ")));

test("the style sheet begins with the order of its layers, and names every layer there", () => {
  expect(files[0]).toBe("00-faces.css");
  const [order, ...named] = [...style.matchAll(/@layer ([\w, -]+?)\s*[;{]/g)].map(([, names = ""]) => names);
  expect(order).toBe("reset, tokens, base, layout, parts, pages, forced, print, hidden");
  expect(order?.split(", ").filter((layer) => !named.includes(layer))).toEqual([]);
  expect(named.filter((layer) => !order?.split(", ").includes(layer))).toEqual([]);
});

/** Kinds that stand in words; what takes words away has none to mark. */
const MARKING = CORRECTION_KINDS.filter((kind) => !kindsThat("takes-away").includes(kind));
test.each(MARKING)("the words of a correction of kind %s have an underline of their own", (kind) => {
  expect(style).toMatch(new RegExp(`\\.mark\\[data-kind="${kind}"\\][^{}]*\\{[^}]*text-decoration-style`));
});

test("what a page names is styled", () => {
  expect([...used].filter((name) => !styled.has(name) && !UNSTYLED.includes(name))).toEqual([]);
});

test("what is styled is named by a page or a script", () => {
  const classes = [...style.replace(/\/\*.*?\*\/|url\([^)]*\)|"[^"]*"/gs, "").matchAll(/\.([a-z][\w-]*)(?=[^{}]*\{)/g)];
  const names = new Set(classes.map(([, name = ""]) => name));
  expect([...names].filter((name) => !used.has(name) && !BY_SCRIPT.includes(name))).toEqual([]);
});

describe("addresses in the style sheet", () => {
  const addresses = [...style.matchAll(/url\("?([^")]+)"?\)/g)].map(([, address = ""]) => address);

  test("are fonts beside it, every one of them there", () => {
    expect(addresses.length).toBeGreaterThan(0);
    for (const address of addresses) {
      expect(address).toMatch(/^fonts\/[\w-]+\.woff2$/);
      expect(existsSync(join(FOLDER, address))).toBe(true);
    }
  });

  test("no other sheet is drawn in", () => {
    expect(style).not.toContain("@import");
  });
});

test("each font has its licence beside it", () => {
  const fonts = readdirSync(join(FOLDER, "fonts"));
  for (const font of fonts.filter((file) => file.endsWith(".woff2"))) {
    expect(fonts.some((file) => file.startsWith("LICENSE-") && font.startsWith(file.slice(8, -4)))).toBe(true);
  }
});
