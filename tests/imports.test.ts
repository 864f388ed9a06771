import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve, sep } from "node:path";
import { describe, expect, test } from "vitest";

const UP_TO_WRITE = [
  "model",
  "webvtt",
  "read",
  "derive",
  "record",
  "scan",
  "checks",
  "pages",
  "feeds",
  "search",
  "write",
];
/** The one way of flow: what each folder of `src` may import of ours. DEVELOPERS.md draws the map. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  model: [],
  webvtt: ["model"],
  read: ["model", "webvtt"],
  derive: ["model", "webvtt"],
  record: ["model", "derive"],
  scan: ["model"],
  checks: ["model", "derive", "record"],
  pages: ["model", "webvtt", "derive", "record"],
  feeds: ["model", "webvtt", "derive", "record"],
  search: ["model", "webvtt", "derive", "record"],
  // Pure helpers that pages and scripts must share: two ways to write a time would drift apart.
  browser: ["model"],
  write: ["model"],
  // The engine of a build: knows no command.
  build: ["model", "webvtt", "read", "derive", "record", "scan", "pages", "feeds", "search", "write"],
  // What a person does: nothing in it prints, asks or ends.
  actions: [...UP_TO_WRITE, "build"],
  desk: [...UP_TO_WRITE, "build", "actions"],
  cli: [...UP_TO_WRITE, "build", "actions", "desk"],
};
/** Folders whose types alone may be imported. */
const TYPES_OF: Readonly<Record<string, readonly string[]>> = {
  browser: ["pages", "search"],
  write: ["pages", "search", "record"],
};
/** What leaves the house is made from these alone: they hold nothing that may not be given. */
const GIVEN = ["../record/given.ts", "../record/shown.ts", "../record/captionWords.ts"];
const LEAVES_THE_HOUSE = new Set(["pages", "feeds", "search"]);
/** Only these may touch the disk, the network or the process. */
const TOUCHES_THE_WORLD = new Set(["read", "write", "build", "actions", "desk", "cli"]);
/** Pure parts of Node, for all. */
const PURE = new Set(["node:crypto", "node:path"]);

const SRC = resolve(import.meta.dirname, "../src");
const files = readdirSync(SRC, { recursive: true, encoding: "utf8" }).filter((file) => /\.(tsx?|mjs)$/.test(file));
const IMPORT = /^(?:import|export)\s+(type\s)?[^;]*?from\s+"([^"]+)"|import\("([^"]+)"\)/gm;

describe("imports point up the map", () => {
  test.each(files)("%s", (file) => {
    const own = file.split(sep)[0] ?? "";
    const text = readFileSync(join(SRC, file), "utf8");
    for (const [, type, from, lazy] of text.matchAll(IMPORT)) {
      const target = from ?? lazy ?? "";
      if (target.startsWith(".")) {
        const folder = relative(SRC, resolve(dirname(join(SRC, file)), target)).split(sep)[0] ?? "";
        const allowed = [own, ...(MAY_IMPORT[own] ?? []), ...(type === undefined ? [] : (TYPES_OF[own] ?? []))];
        expect(allowed, `${file} imports ${target}`).toContain(folder);
        if (LEAVES_THE_HOUSE.has(own) && folder === "record")
          expect(GIVEN, `${file} imports ${target}`).toContain(target);
      } else if (target.startsWith("node:") && !PURE.has(target)) {
        expect(TOUCHES_THE_WORLD.has(own), `${file} imports ${target}`).toBe(true);
      }
    }
  });
});
