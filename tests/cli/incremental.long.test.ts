import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { cp, mkdir, readdir, readFile, rename, rm, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test, vi } from "vitest";
import { type BuildOptions, type Built, buildSite } from "../../src/build/build.ts";
import type { Progress } from "../../src/build/progress.ts";
import {
  addEpisode,
  correctEpisode,
  enterCorrection,
  generateArchive,
  retitleEpisode,
  SHORT_MS,
} from "../bench/generate.ts";
import { AFTERAIR, withAnotherStyle } from "../support/program.ts";
import { digestOf, markAsDrafts, newFolder, readTree, removeFolder } from "../support/site.ts";

/** Ten evenings over the end of a year: two tiers of the search index, and a third with the next month. */
const EPISODES = 10;
const LAST = "2026-01-05";

vi.setConfig({ testTimeout: 60_000 });

let top: string;
let [first, content, site]: string[] = [];
beforeAll(async () => {
  top = await newFolder();
  await generateArchive(join(top, "first"), EPISODES, LAST, SHORT_MS);
  await age(join(top, "first"));
  [first, content, site] = [join(top, "first"), join(top, "content"), join(top, "site")];
  await buildSite(options({ content: first, out: site }));
  await keep("built");
}, 120_000);
afterAll(() => removeFolder(top));
beforeEach(async () => {
  await rm(content ?? "", { recursive: true, force: true });
  await cp(first ?? "", content ?? "", { recursive: true, preserveTimestamps: true });
  await back("built");
});

/** Times of files long enough ago to be relied on. */
async function age(folder: string): Promise<void> {
  const long = new Date("2026-01-06T12:00:00Z");
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    await utimes(join(entry.parentPath, entry.name), long, long);
  }
}

const options = (own: Partial<BuildOptions>): BuildOptions => ({
  content: content ?? "",
  out: site ?? "",
  on: "2026-02-10",
  now: new Date("2026-02-10T12:00:00Z"),
  drafts: false,
  ...own,
});

/** The site with all that is kept of it, as it is now. */
async function keep(name: string): Promise<void> {
  await cp(site ?? "", join(top, `${name}/site`), { recursive: true });
  await cp(join(top, ".site.cache"), join(top, `${name}/.site.cache`), { recursive: true });
}
async function back(name: string): Promise<void> {
  await rm(site ?? "", { recursive: true, force: true });
  await rm(join(top, ".site.cache"), { recursive: true, force: true });
  await cp(join(top, `${name}/site`), site ?? "", { recursive: true });
  await cp(join(top, `${name}/.site.cache`), join(top, ".site.cache"), { recursive: true });
}

/** A build with the reasons it gave, by place. */
async function warm(own: Partial<BuildOptions> = {}): Promise<{ built: Built; why: Readonly<Record<string, string>> }> {
  const why: Record<string, string> = {};
  const progress: Progress = {
    waiting() {},
    begin() {},
    done() {},
    made: (place, _pages, reason) => {
      why[place] = reason;
    },
    end() {},
  };
  return { built: await buildSite(options({ progress, ...own })), why };
}

async function digests(folder: string): Promise<Readonly<Record<string, string>>> {
  return Object.fromEntries([...(await readTree(folder))].map(([path, bytes]) => [path, digestOf(bytes)]));
}

/** The same content built with nothing known: what every other build must come to. */
async function cold(own: Partial<BuildOptions> = {}): Promise<Readonly<Record<string, string>>> {
  const out = join(top, "cold/site");
  await rm(join(top, "cold"), { recursive: true, force: true });
  await mkdir(join(top, "cold"));
  await buildSite(options({ out, ...own }));
  return digests(out);
}

const add = (id: string, change?: (text: string) => string): Promise<void> =>
  addEpisode(content ?? "", id, { segmentMs: SHORT_MS, ...(change === undefined ? {} : { edit: change }) });
const edit = async (id: string, name: string, from: string, to: string): Promise<void> => {
  const file = join(content ?? "", "episodes", id.slice(0, 4), id, name);
  const text = await readFile(file, "utf8");
  expect(text).toContain(from);
  await writeFile(file, text.replace(from, to));
};
const places = (why: Readonly<Record<string, string>>) => Object.keys(why).filter((place) => place.endsWith("/"));

describe("a build makes what changed, and comes to the same as one that knows nothing", () => {
  test("nothing: no page is made, no file replaced", async () => {
    const { built, why } = await warm();
    expect(built.site).toEqual({ episodes: EPISODES, pages: expect.any(Number), made: 0, guests: [] });
    expect(why).toEqual({});
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test("one episode added, on a new month: its pages, its neighbour's, and the lists", async () => {
    await add("2026-02-01");
    const { why } = await warm();
    expect(places(why)).toEqual(["2026-01-05/", "2026-02-01/"]);
    expect(why["2026-01-05/"]).toBe("the edition before or after it changed");
    expect(why["2026-02-01/"]).toBe("it is new");
    expect(Object.keys(why)).toContain("index.html");
    expect(Object.keys(why)).not.toContain("2025/index.html");
    expect(Object.keys(why).filter((place) => /^20..\/\d/.test(place))).toEqual([
      "2026/01/index.html",
      "2026/02/index.html",
    ]);
    expect(Object.keys(why).some((place) => place.startsWith("topics/"))).toBe(true);
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test("a draft between others, in a folder that is not for the public, then taken away again", async () => {
    await markAsDrafts(site ?? "");
    const draft = join(content ?? "", "episodes/2025/2025-12-30-late");
    await add("2025-12-30-late");
    await rm(join(draft, "record.jsonl"));
    const { built, why } = await warm({ drafts: true });
    expect(built.site?.episodes).toBe(EPISODES + 1);
    expect(places(why)).toEqual(["2025-12-30/", "2025-12-30-late/", "2025-12-31/"]);
    expect(await digests(site ?? "")).toEqual(await cold({ drafts: true }));
    await rm(draft, { recursive: true });
    await warm();
    expect(await digests(site ?? "")).toEqual(await digests(join(top, "built/site")));
  });

  test.each([
    ["a folder", "episodes/2025/2025-12-30"],
    ["a whole year", "episodes/2025"],
    ["a record", "episodes/2025/2025-12-30/record.jsonl"],
  ])("what was published and is gone, %s, is refused, with or without what is known", async (_what, path) => {
    await rm(join(content ?? "", path), { recursive: true });
    for (const known of [true, false]) {
      if (!known) await rm(join(top, ".site.cache"), { recursive: true });
      const { built } = await warm();
      expect(built.site).toBeNull();
      expect(built.findings.map(({ rule }) => rule)).toContain("record-missing");
      expect(await digests(site ?? "")).toEqual(await digests(join(top, "built/site")));
    }
  });

  test.each([
    ["edited words", "transcript.vtt", (text: string) => text.replace("the", "no"), "content-changed"],
    ["a record cut short", "record.jsonl", (text: string) => text.slice(0, -9), "record-line-torn"],
    ["an emptied record", "record.jsonl", () => "", "record-cut"],
    ["merge marks", "record.jsonl", (text: string) => `<<<<<<< one\n${text}`, "record-forked"],
  ])("%s: nothing goes out", async (_what, name, change, rule) => {
    const file = join(content ?? "", "episodes/2025/2025-12-31", name);
    await writeFile(file, change(await readFile(file, "utf8")));
    const { built } = await warm();
    expect(built.site).toBeNull();
    expect(built.findings.map((finding) => finding.rule)).toContain(rule);
    expect(await digests(site ?? "")).toEqual(await digests(join(top, "built/site")));
  });

  test("a record that was written anew from end to end is found by the one that the site has", async () => {
    const own = join(content ?? "", "episodes/2025/2025-12-31");
    await rm(own, { recursive: true });
    await add("2025-12-31");
    await edit("2025-12-31", "transcript.vtt", "the", "no");
    await rm(join(own, "record.jsonl"));
    await correctEpisode(content ?? "", "2025-12-31");
    expect((await warm()).built.findings.map(({ rule }) => rule)).toContain("record-rewritten");
  });

  test("a correction: the episode's pages and those of the log; search stays away from the other tiers", async () => {
    await correctEpisode(content ?? "", "2025-12-31");
    const { why } = await warm();
    expect(places(why)).toEqual(["2025-12-31/"]);
    expect(why["2025-12-31/"]).toBe("its files changed");
    expect(Object.keys(why)).toContain("corrections/2026-01-01-1/index.html");
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test("a title: neighbours that name it", async () => {
    await retitleEpisode(content ?? "", "2025-12-31", "The last evening of the year");
    const { why } = await warm();
    expect(places(why)).toEqual(["2025-12-30/", "2025-12-31/", "2026-01-01/"]);
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test("the programme: all pages say why", async () => {
    const file = join(content ?? "", "programme.md");
    await writeFile(file, (await readFile(file, "utf8")).replace("The Long Evening", "The Longer Evening"));
    const { why } = await warm();
    expect(places(why)).toHaveLength(EPISODES);
    expect(why["2026-01-01/"]).toBe("programme.md, the register or the pages written by hand changed");
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test("a misspelling of the register: the words that questions are held against, and no page", async () => {
    const names = join(content ?? "", "names");
    const [name = ""] = await readdir(names);
    const file = join(names, name);
    await writeFile(file, (await readFile(file, "utf8")).replace("\nkind:", "\nmisspelt: [elsa moraine]\nkind:"));
    expect(Object.keys((await warm()).why)).toEqual(["search/index/words.json"]);
    expect(await readFile(join(site ?? "", "search/index/words.json"), "utf8")).toContain("elsa moraine");
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test("another day: only what something dated concerns", async () => {
    expect((await warm({ on: "2026-02-11" })).why).toEqual({});
    const { why } = await warm({ on: "2026-01-05" });
    expect(why).toEqual({});
    await warm({ on: "2026-01-04" });
    expect(await digests(site ?? "")).toEqual(await cold({ on: "2026-01-04" }));
    await warm();
    expect(await digests(site ?? "")).toEqual(await digests(join(top, "built/site")));
  });

  test("a file written anew with the same bytes makes nothing", async () => {
    const file = join(content ?? "", "episodes/2025/2025-12-31/transcript.vtt");
    await writeFile(file, await readFile(file));
    expect((await warm()).why).toEqual({});
  });

  test("a file put in the place of another with its size and its time is found out", async () => {
    const file = join(content ?? "", "episodes/2025/2025-12-31/episode.md");
    const text = await readFile(file, "utf8");
    await writeFile(`${file}.new`, text.replace("bytes: 13440000", "bytes: 13440001"));
    await rename(`${file}.new`, file);
    const long = new Date("2026-01-06T12:00:00Z");
    await utimes(file, long, long);
    expect(places((await warm()).why)).toContain("2025-12-31/");
  });

  test("a change right after a build is not passed over", async () => {
    await edit("2026-01-05", "episode.md", "bytes: 13440000", "bytes: 13440001");
    await warm();
    await edit("2026-01-05", "episode.md", "bytes: 13440001", "bytes: 13440002");
    expect(places((await warm()).why)).toContain("2026-01-05/");
    expect(await digests(site ?? "")).toEqual(await cold());
  });
});

describe("ways along stories", () => {
  const TRIAL = "Treasurer charity ferrymen trial";
  /** An evening whose second item is told in these words. */
  const tell = (id: string, title: string): Promise<void> =>
    add(id, (text) => text.replace(`title: The harbour of ${id}`, `title: ${title}`));
  const pageOf = (id: string): Promise<string> => readFile(join(site ?? "", `${id}/harbour/index.html`), "utf8");
  const harbour = (id: string, more: string): Promise<void> =>
    edit(id, "episode.md", "topics: [harbour] }", `topics: [harbour], ${more} }`);
  const WITHHELD = 'withheld: true, show: nothing, sound: in-file, because: "Agreed."';

  beforeAll(async () => {
    await cp(first ?? "", content ?? "", { recursive: true, preserveTimestamps: true });
    await back("built");
    await tell("2026-01-06", TRIAL);
    await add("2026-01-07");
    await tell("2026-01-08", `${TRIAL} begins`);
    await add("2026-01-09");
    await warm();
    await cp(content ?? "", join(top, "told/content"), { recursive: true });
    await keep("told");
  }, 180_000);
  beforeEach(async () => {
    await rm(content ?? "", { recursive: true, force: true });
    await cp(join(top, "told/content"), content ?? "", { recursive: true, preserveTimestamps: true });
    await back("told");
  });

  test("an evening that joins one: its own page, and that of the segment before it there", async () => {
    expect(await pageOf("2026-01-06")).toContain("2026-01-08/harbour/");
    await tell("2026-01-10", `${TRIAL} ends`);
    const { why } = await warm();
    expect(places(why)).toEqual(["2026-01-09/", "2026-01-10/", "2026-01-08/"]);
    expect(why["2026-01-08/"]).toBe("a story changed");
    for (const id of ["2026-01-06", "2026-01-10"]) expect(await pageOf("2026-01-08")).toContain(`${id}/harbour/`);
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test.each<[string, () => Promise<void>]>([
    ["withheld", () => harbour("2026-01-08", `rights: { ${WITHHELD} }`)],
    ["kept out by an editor", () => harbour("2026-01-08", "story: none")],
    [
      "withdrawn",
      () => enterCorrection(content ?? "", "2026-01-08", 1, ["kind: withdrawal", "segment: harbour"], "It was wrong."),
    ],
    [
      "withdrawn with its episode",
      () => enterCorrection(content ?? "", "2026-01-08", 1, ["kind: withdrawal"], "It was wrong."),
    ],
  ])("one of two segments is %s: the story is over, and the other leads nowhere", async (_what, change) => {
    await change();
    await warm();
    const left = await pageOf("2026-01-06");
    expect(left).not.toContain("2026-01-08/harbour/");
    expect(left).not.toContain("begins");
    expect(left).not.toContain("stories/2026-01-06-harbour/");
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test("a corrected title is what the others call it", async () => {
    const now = ["kind: page", "field: title", "segment: harbour", `said: ${TRIAL}`, `now: ${TRIAL} opens`];
    await enterCorrection(content ?? "", "2026-01-06", 1, now, "It had another title.");
    await warm();
    expect(await pageOf("2026-01-08")).toContain(`${TRIAL} opens, Tuesday 6 January 2026`);
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test("an editor names one later, over the end of the year", async () => {
    for (const id of ["2025-12-29", "2026-01-03"]) await harbour(id, "story: The quay");
    await warm();
    expect(await pageOf("2025-12-29")).toContain("The quay, Saturday 3 January 2026: The harbour of 2026-01-03");
    expect(await digests(site ?? "")).toEqual(await cold());
    await edit("2026-01-03", "episode.md", "story: The quay", "story: The pier");
    await warm();
    expect(await pageOf("2025-12-29")).not.toContain("2026-01-03/harbour/");
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test("what is withheld until a day is on others' pages from that day on, and on no day before", async () => {
    await harbour("2026-01-08", `rights: { ${WITHHELD}, until: 2026-02-12 }`);
    await warm();
    expect(await pageOf("2026-01-06")).not.toContain("2026-01-08/harbour/");
    await warm({ on: "2026-02-12" });
    expect(await pageOf("2026-01-06")).toContain("2026-01-08/harbour/");
    expect(await digests(site ?? "")).toEqual(await cold({ on: "2026-02-12" }));
    await warm({ on: "2026-01-07" });
    expect(await pageOf("2026-01-06")).not.toContain("2026-01-08/harbour/");
    expect(await digests(site ?? "")).toEqual(await cold({ on: "2026-01-07" }));
  });

  test("shares that were built apart know of none, and the build of the rest sets them", async () => {
    const whole = join(top, "told-whole");
    await mkdir(whole);
    for (const year of ["2025", "2026"] as const) {
      const own = join(top, `told-${year}`);
      await mkdir(own);
      await buildSite(options({ out: join(own, "site"), years: [year, year] }));
      await cp(own, whole, { recursive: true });
    }
    const { why } = await warm({ out: join(whole, "site") });
    expect(places(why)).toEqual(["2026-01-06/", "2026-01-08/"]);
    expect(await digests(join(whole, "site"))).toEqual(await digests(join(top, "told/site")));
  });
});

test("another style makes all pages anew, says why, and comes to the same", async () => {
  const another = await withAnotherStyle(join(top, "program"));
  const build = (command: string, out: string): string =>
    spawnSync(
      process.execPath,
      [command, "build", "--content", content ?? "", "--out", out, "--on", "2026-02-10", "--verbose"],
      { encoding: "utf8" },
    ).stderr;
  build(AFTERAIR, site ?? "");
  const told = build(another, site ?? "").split("\n");
  expect(told.filter((line) => line.endsWith("/ (9 pages): the templates changed"))).toHaveLength(EPISODES);
  await mkdir(join(top, "another"));
  build(another, join(top, "another/site"));
  expect(await digests(site ?? "")).toEqual(await digests(join(top, "another/site")));
});

describe("what is kept can be taken away at any time", () => {
  const CACHE = () => join(top, ".site.cache");

  test.each(["", "known", "records", "assets", "behind", "programme"])("all of it, or %j", async (name) => {
    await rm(join(CACHE(), name), { recursive: true, force: true });
    await add("2026-01-06");
    await warm();
    expect(await digests(site ?? "")).toEqual(await cold());
  });

  test("each file of what is known, cut short", async () => {
    for (const name of await readdir(join(CACHE(), "known"))) {
      if (name.endsWith(".listings")) continue;
      await back("built");
      const file = join(CACHE(), "known", name);
      await writeFile(file, (await readFile(file)).subarray(0, 200));
      await warm();
      expect(await digests(site ?? ""), name).toEqual(await digests(join(top, "built/site")));
    }
  });

  test("what another program kept, in whatever shape", async () => {
    const kept = ["programme", "assets", ...(await readdir(join(CACHE(), "known"))).map((name) => `known/${name}`)];
    // Whole by its own digest: what an earlier version of ours wrote.
    const other = Buffer.from(JSON.stringify({ ground: { program: "another" } }));
    const digest = createHash("sha256").update(other).digest("base64url");
    for (const name of kept) await writeFile(join(CACHE(), name), [Buffer.from(`${digest}\n`), other]);
    const { why } = await warm();
    expect(why["2026-01-05/"]).toBe("another program made the last site, or what it kept is gone");
    expect(await digests(site ?? "")).toEqual(await digests(join(top, "built/site")));
  });

  test("listings that are broken are told, with the mend", async () => {
    const known = join(CACHE(), "known");
    for (const name of await readdir(known)) {
      if (name.endsWith(".listings")) await writeFile(join(known, name), "broken");
    }
    await add("2026-01-06");
    await expect(warm()).rejects.toThrow("build again");
    expect(await digests(site ?? "")).toEqual(await digests(join(top, "built/site")));
  });

  test("a site that something else was done to is made anew", async () => {
    await rm(join(site ?? "", "record"), { recursive: true });
    await writeFile(join(site ?? "", "2025-12-31/stray.html"), "not ours");
    await writeFile(join(site ?? "", "CNAME"), "tide.example");
    expect((await warm()).built.site?.guests).toEqual(["CNAME"]);
    await rm(join(site ?? "", "CNAME"));
    expect(await digests(site ?? "")).toEqual(await digests(join(top, "built/site")));
  });
});

describe("shares of a site, built apart", () => {
  test("laid together by copying and ended by a build of the rest, are the whole", async () => {
    const whole = join(top, "whole");
    for (const year of ["2025", "2026"] as const) {
      const own = join(top, `share-${year}`);
      await mkdir(own);
      await buildSite(options({ out: join(own, "site"), years: [year, year] }));
      await cp(own, whole, { recursive: true });
    }
    const before = await readdir(join(whole, "site"));
    expect(before).not.toContain("index.html");
    const { built, why } = await warm({ out: join(whole, "site") });
    expect(places(why)).toEqual([]);
    expect(built.site?.episodes).toBe(EPISODES);
    expect(await digests(join(whole, "site"))).toEqual(await digests(join(top, "built/site")));
  });
});
