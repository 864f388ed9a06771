import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve, sep } from "node:path";
import { describe, expect, test } from "vitest";

const UP_TO_WRITE = [
  "model",
  "webvtt",
  "read",
  "derive",
  "listen",
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
  // What a recording sounds like: hears, and knows nothing of the record.
  listen: ["model", "webvtt", "derive"],
  record: ["model", "derive"],
  scan: ["model"],
  checks: ["model", "derive", "record"],
  pages: ["model", "webvtt", "derive", "record"],
  feeds: ["model", "webvtt", "derive", "record"],
  search: ["model", "webvtt", "derive", "record"],
  // Pure helpers that pages and scripts must share: two ways to write a time would drift apart.
  browser: ["model"],
  write: ["model"],
  // The site engine, and the templates of a station's own.
  station: ["model", "read", "write"],
  // The engine of a build: knows no command.
  build: ["model", "webvtt", "read", "derive", "record", "scan", "pages", "feeds", "search", "write", "station"],
  // What a person does: nothing in it prints, asks or ends.
  actions: [...UP_TO_WRITE, "station", "build"],
  desk: [...UP_TO_WRITE, "station", "build", "actions"],
  cli: [...UP_TO_WRITE, "station", "build", "actions", "desk"],
};
/** Folders whose types alone may be imported. */
const TYPES_OF: Readonly<Record<string, readonly string[]>> = {
  browser: ["pages", "search"],
  write: ["pages", "search", "record"],
  station: ["pages"],
};
/** What leaves the house is made from these alone: they hold nothing that may not be given. */
const GIVEN = ["../record/given.ts", "../record/shown.ts", "../record/captionWords.ts"];
const LEAVES_THE_HOUSE = new Set(["pages", "feeds", "search"]);
/** Only these may touch the disk, the network or the process. */
const TOUCHES_THE_WORLD = new Set(["read", "write", "station", "build", "actions", "desk", "cli"]);
/** Pure parts of Node, for all. */
const PURE = new Set(["node:crypto", "node:path"]);

/** Where a process begins: only here it is ended, and its streams and arguments are read and written. */
const ENTRIES = new Set([
  "cli/main.ts",
  "cli/afterair.mjs",
  "cli/schemas.ts",
  "build/jobProcess.ts",
  "build/ready.mjs",
]);
/** What else is asked of the process, and by whom. */
const ASKS_THE_PROCESS: Readonly<Record<string, readonly string[]>> = {
  // Git must not take its settings from the environment of whoever called.
  "actions/git.ts": ["env"],
  // A process of a build gets the programme's zone, and a note for the site engine.
  "build/jobWorker.ts": ["env"],
  // No site may take the place of the folder that the command stands in.
  "write/outFolder.ts": ["cwd"],
  // A lock names its owner, and whether that one still lives.
  "write/owner.ts": ["pid", "kill"],
  // Where compiled programs are kept, and for which Node; the last stands in what they begin with.
  "write/compile.mjs": ["version", "env", "getBuiltinModule"],
};

const SRC = resolve(import.meta.dirname, "../src");
const TEMPLATES = resolve(import.meta.dirname, "../templates");
const programsIn = (folder: string): readonly string[] =>
  readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((file) => /\.(tsx?|mjs)$/.test(file));
const files = programsIn(SRC);
const IMPORT = /^(?:import|export)\s+(type\s)?[^;]*?from\s+"([^"]+)"|import\("([^"]+)"\)|^import\s+"([^"]+)"/gm;
/** What a file imports, types too. */
const importsOf = (path: string): readonly { readonly isType: boolean; readonly target: string }[] =>
  [...readFileSync(path, "utf8").matchAll(IMPORT)].map(([, type, from, lazy, bare]) => ({
    isType: type !== undefined,
    target: from ?? lazy ?? bare ?? "",
  }));

describe("imports point up the map", () => {
  test.each(files)("%s", (file) => {
    const own = file.split(sep)[0] ?? "";
    for (const { isType, target } of importsOf(join(SRC, file))) {
      if (target.startsWith(".")) {
        const folder = relative(SRC, resolve(dirname(join(SRC, file)), target)).split(sep)[0] ?? "";
        const allowed = [own, ...(MAY_IMPORT[own] ?? []), ...(isType ? (TYPES_OF[own] ?? []) : [])];
        expect(allowed, `${file} imports ${target}`).toContain(folder);
        if (LEAVES_THE_HOUSE.has(own) && folder === "record")
          expect(GIVEN, `${file} imports ${target}`).toContain(target);
      } else if (target.startsWith("node:") && !PURE.has(target)) {
        expect(TOUCHES_THE_WORLD.has(own), `${file} imports ${target}`).toBe(true);
      }
    }
  });
});

test("no file of src imports itself by way of others", () => {
  const near = new Map(
    files.map((file) => {
      const path = join(SRC, file);
      const own = importsOf(path).filter(({ target }) => target.startsWith("."));
      return [file, own.map(({ target }) => relative(SRC, resolve(dirname(path), target)))];
    }),
  );
  expect(circlesIn(near)).toEqual([]);
});

/** Every way that leads back to where it began, as `a > b > a`; of ways that meet, one. Depth first. */
function circlesIn(near: ReadonlyMap<string, readonly string[]>): readonly string[] {
  const [circles, done]: [string[], Set<string>] = [[], new Set()];
  const visit = (file: string, way: readonly string[]): void => {
    const since = way.indexOf(file);
    if (since !== -1) circles.push([...way.slice(since), file].join(" > "));
    if (since !== -1 || done.has(file)) return;
    for (const next of near.get(file) ?? []) visit(next, [...way, file]);
    done.add(file);
  };
  for (const file of near.keys()) visit(file, []);
  return circles;
}

describe("templates import Preact, each other, the types of pages, and what is one for all of us", () => {
  test.each(programsIn(TEMPLATES))("%s", (file) => {
    for (const { isType, target } of importsOf(join(TEMPLATES, file))) {
      const path = resolve(dirname(join(TEMPLATES, file)), target);
      const isOurs = target.startsWith(".") && !relative(TEMPLATES, path).startsWith("..");
      const isPreact = /^preact(?:\/|-render-to-string$|$)/.test(target);
      const isPage = isType && path === join(SRC, "pages/types.ts");
      // Tables and ways to write a time or a share are in one place, for pages and templates.
      const isShared = relative(SRC, path).startsWith(`model${sep}`);
      expect(isOurs || isPreact || isPage || isShared, `${file} imports ${target}`).toBe(true);
    }
  });
});

test("only where a process begins it is ended, written to and asked for its arguments", () => {
  const asked = files
    // Scripts of pages run in a browser, which has no process.
    .filter((file) => !ENTRIES.has(file) && !file.startsWith(`browser${sep}`))
    .flatMap((file) => {
      const text = readFileSync(join(SRC, file), "utf8");
      const names = [...text.matchAll(/\bprocess\??\.(\w+)|=\s*(process)\b(?!\??\.)|(node:process)|\b(console)\./g)];
      return names.map((found) => [file, found.slice(1).find((name) => name !== undefined)] as const);
    });
  for (const [file, name] of asked) expect(ASKS_THE_PROCESS[file] ?? [], `${file}: ${name}`).toContain(name);
  for (const [file, names] of Object.entries(ASKS_THE_PROCESS))
    expect(new Set(asked.flatMap(([own, name]) => (own === file ? [name] : [])))).toEqual(new Set(names));
});
