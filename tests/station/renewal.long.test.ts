import { existsSync } from "node:fs";
import { cp, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { addEpisode, correctEpisode, generateArchive } from "../bench/generate.ts";
import { newFolder, removeFolder } from "../support/site.ts";
import { type BuiltAnew, buildWith, copyStation, digestsOf, edit } from "../support/station.ts";

/** Three years: two evenings of the newest, one of each before. */
const [NEWEST, MIDDLE, OLDEST] = ["2026-01-02", "2025-06-01", "2024-06-01"] as const;
const EPISODES = [NEWEST, "2026-01-01", MIDDLE, OLDEST] as const;
const FRAMED = "the station's own templates around pages changed";
const OWN = "the station's own pages changed";

let top = "";
const [content, site, own, log] = ["content", "site", "own", "log.txt"].map((name) => () => join(top, name)) as [
  ...(() => string)[],
] as [() => string, () => string, () => string, () => string];

/** Pages that note when they are set, each with what it reads of the archive. */
const PAGES = {
  "first.njk": "{{ collections.episodes[0].title }}",
  "last.njk": "{{ collections.episodes[collections.episodes.length - 1].title }}",
  "whole.njk": "{% for episode in collections.episodes %}{{ episode.title }}, {% endfor %}",
  "first-correction.njk": "{{ collections.corrections[0].title }}",
  "years.njk": "{% for entry in archive.years %}{{ entry.year }}: {{ entry.corrections }}, {% endfor %}",
  "names.njk": "{% for topic in collections.topics %}{{ topic.name }}, {% endfor %}",
  "nothing.njk": "Nothing of it.",
} as const;

beforeAll(async () => {
  top = await newFolder();
  await generateArchive(join(top, "first/content"), 2, NEWEST);
  for (const id of [MIDDLE, OLDEST]) await addEpisode(join(top, "first/content"), id);
  await copyStation(join(top, "first"));
  const folder = join(top, "first/own");
  // What a plugin writes may be made from any page: then all are set.
  await edit(join(folder, "eleventy.config.mjs"), "  config.addPlugin(countsOf);\n", NOTED);
  await edit(join(folder, "eleventy.config.mjs"), /^/, 'import { appendFileSync } from "node:fs";\n');
  for (const [name, body] of Object.entries(PAGES))
    await writeFile(join(folder, name), `---\ntitle: A page\n---\n${body}{{ page.inputPath | noted }}\n`);
  await back("first");
  await build();
  await keep("built");
}, 180_000);
afterAll(() => removeFolder(top));
beforeEach(() => back("built"));

const NOTED =
  '  config.addFilter("noted", (path) => { appendFileSync("../log.txt", path.slice(2) + "\\n"); return ""; });\n';

const KEPT = ["content", "own", "site", ".site.cache", "package-lock.json", "node_modules"];
async function keep(name: string): Promise<void> {
  await mkdir(join(top, name), { recursive: true });
  for (const one of KEPT) await copy(join(top, one), join(top, name, one));
}
async function back(name: string): Promise<void> {
  for (const one of [...KEPT, "log.txt"]) {
    await rm(join(top, one), { recursive: true, force: true });
    await copy(join(top, name, one), join(top, one));
  }
}
async function copy(from: string, to: string): Promise<void> {
  if (existsSync(from)) await cp(from, to, { recursive: true, preserveTimestamps: true, verbatimSymlinks: true });
}

const build = (out = site()): Promise<BuiltAnew> =>
  buildWith({ content: content(), out, own: own(), on: "2026-02-10", now: new Date("2026-02-10T12:00:00Z") });

/** Those of `PAGES` that were set in the last build. */
const set = async (): Promise<readonly string[]> =>
  existsSync(log()) ? (await readFile(log(), "utf8")).trimEnd().split("\n").sort() : [];

/** What is made of episodes, by id, with the reason. */
const episodesIn = ({ why }: BuiltAnew) =>
  Object.fromEntries(
    Object.entries(why).flatMap(([place, reason]) => (place.endsWith("/") ? [[place.slice(0, -1), reason]] : [])),
  );

/** The site is that which a build comes to that knows nothing. */
async function expectAsCold(): Promise<void> {
  await build(join(top, "cold/site"));
  expect(await digestsOf(site())).toEqual(await digestsOf(join(top, "cold/site")));
  await rm(join(top, "cold"), { recursive: true });
}

describe("what is edited in the folder", () => {
  test("nothing: nothing is set", async () => {
    const built = await build();
    expect([built.why, built.built.site?.made, await set()]).toEqual([{}, 0, []]);
  });

  test("a page of its own: no page of ours is made anew, and of its own those that changed", async () => {
    await edit(join(own(), "nothing.njk"), "Nothing of it.", "Nothing of it at all.");
    const built = await build();
    expect(built.why).toEqual({ "nothing/index.html": OWN });
    await expectAsCold();
  });

  test("a new page of its own: it comes, and into the sitemap", async () => {
    await writeFile(join(own(), "another.md"), "---\ntitle: Another\n---\nNew.\n");
    const built = await build();
    expect(built.why).toEqual({ "another/index.html": OWN, "sitemap-site.xml": expect.any(String) });
    await expectAsCold();
  });

  const all = Object.fromEntries(EPISODES.map((id) => [id, FRAMED]));
  test("the frame: all pages are made anew, for that reason", async () => {
    await edit(join(own(), "_includes/frame.njk"), "{{ kind }}.", "{{ kind }}!");
    const built = await build();
    expect(episodesIn(built)).toEqual(all);
    expect(Object.keys(built.why)).toEqual(expect.arrayContaining(["index.html", "404.html", "nothing/index.html"]));
    await expectAsCold();
  });

  test.each([
    ["a module that the configuration imports", "own/lib/spoken.mjs", "You hear", "You are hearing"],
    ["data of the folder's", "own/_data/site.json", "1951", "1952"],
    ["another version of a package beside the folder", "package-lock.json", "{}", '{ "packages": {} }'],
  ])("%s: all episodes are made anew, for that reason", async (_what, file, from, to) => {
    await edit(join(top, file), from, to);
    expect(episodesIn(await build())).toEqual(all);
    expect((await set()).length).toBe(Object.keys(PAGES).length);
    await expectAsCold();
  });

  test("what stands around segments alone: all episodes, for it may be in any of their pages", async () => {
    await edit(join(own(), "_includes/segment.liquid"), 'class="line"', 'class="line of-segment"');
    expect(episodesIn(await build())).toEqual(all);
    await expectAsCold();
  });

  test("a file that is copied: that file", async () => {
    await edit(join(own(), "files/note.txt"), "as it is", "just as it is");
    expect((await build()).why).toEqual({ "files/note.txt": OWN });
    await expectAsCold();
  });
});

describe("what is edited in the archive sets what asked for it, and no other page of the station's", () => {
  test("a correction in the oldest year", async () => {
    await correctEpisode(content(), OLDEST);
    expect(Object.keys(episodesIn(await build()))).toEqual([OLDEST]);
    expect(await set()).toEqual(["first-correction.njk", "last.njk", "whole.njk", "years.njk"]);
    await expectAsCold();
  });

  test("a correction in the newest year", async () => {
    await correctEpisode(content(), NEWEST);
    expect(Object.keys(episodesIn(await build()))).toEqual([NEWEST]);
    expect(await set()).toEqual(["first-correction.njk", "first.njk", "whole.njk", "years.njk"]);
    await expectAsCold();
  });

  test("one evening more", async () => {
    await addEpisode(content(), "2026-01-03");
    const built = await build();
    expect(episodesIn(built)).toEqual({ [NEWEST]: expect.any(String), "2026-01-03": "it is new" });
    expect(await set()).toEqual(["first-correction.njk", "first.njk", "last.njk", "whole.njk", "years.njk"]);
    expect(built.why["evenings/2026-01-03/index.html"]).toBe(OWN);
    await expectAsCold();
  });
});
