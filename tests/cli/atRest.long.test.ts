import { mkdir, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test, vi } from "vitest";
import { type Built, buildSite } from "../../src/build/build.ts";
import { readSharedInputs, TEMPLATES } from "../../src/build/sharedInputs.ts";
import { survey } from "../../src/build/survey.ts";
import { SEARCH_INDEX } from "../../src/model/address.ts";
import { makeCache } from "../../src/write/mark.ts";
import { addEpisode, correctEpisode, generateArchive, retitleEpisode, SHORT_MS } from "../bench/generate.ts";
import { digestOf, markAsDrafts, newFolder, readTree, removeFolder } from "../support/site.ts";

/** Evenings over the turn of two years, and one a month later. */
const EPISODES = 7;
const LATEST = "2026-02-07";
const SHORT = { segmentMs: SHORT_MS };

vi.setConfig({ testTimeout: 120_000 });

let top: string;
let content = "";
let site = "";
const NOW = new Date("2027-03-01T12:00:00Z");

/** An hour later than it is: what was written just now was written long ago, and can be relied on. */
beforeEach(() => void vi.useFakeTimers({ toFake: ["Date"], now: Date.now() + 3_600_000 }));
afterEach(() => void vi.useRealTimers());

beforeAll(async () => {
  top = await newFolder();
  [content, site] = [join(top, "content"), join(top, "site")];
  await generateArchive(content, EPISODES - 1, "2026-01-03", SHORT_MS);
  await addEpisode(content, LATEST, SHORT);
}, 60_000);
afterAll(() => removeFolder(top));

const build = (out = site, on = "2027-03-01", drafts = false): Promise<Built> =>
  buildSite({ content, out, on, now: NOW, drafts });

async function digests(folder: string): Promise<Readonly<Record<string, string>>> {
  return Object.fromEntries([...(await readTree(folder))].map(([path, bytes]) => [path, digestOf(bytes)]));
}

/** Builds, and compares with a build that knows nothing. */
async function checked(on?: string, drafts?: boolean): Promise<void> {
  if (drafts === true) await markAsDrafts(site);
  const built = await build(site, on, drafts);
  await rm(join(top, "cold"), { recursive: true, force: true });
  await mkdir(join(top, "cold"));
  const cold = join(top, "cold/site");
  const { findings } = await build(cold, on, drafts);
  expect(await digests(site)).toEqual(await digests(cold));
  expect(built.findings).toEqual(findings);
}

/** The years that nothing happened to since the last build. */
async function atRest(on = "2027-03-01", drafts = false): Promise<readonly string[]> {
  const kept = join(top, ".site.cache");
  makeCache(kept);
  const { sharedInputs } = await readSharedInputs(content, TEMPLATES, kept, null);
  if (sharedInputs === null) throw new Error("the programme can't be read");
  const day = { date: on, until: `${on}T23:59:59.999+00:00` };
  const purpose = { content, inputDigests: sharedInputs.inputDigests, day, drafts };
  const { years } = await survey(purpose, site, kept);
  return years.filter((year) => year.isAtRest).map(({ year }) => year);
}

async function edit(id: string, name: string, from: string, to: string): Promise<void> {
  const file = join(content, "episodes", id.slice(0, 4), id, name);
  const text = await readFile(file, "utf8");
  expect(text).toContain(from);
  await writeFile(file, text.replace(from, to));
}

/** One after the other: each begins with what the one before left. */
describe("years at rest", () => {
  test("are all of them when nothing changed", async () => {
    expect(await atRest()).toEqual([]);
    await checked();
    expect(await atRest()).toEqual(["2025", "2026"]);
    expect((await build()).site).toMatchObject({ episodes: EPISODES, made: 0 });
  });

  test("a correction wakes its own year alone, for one build", async () => {
    await correctEpisode(content, "2025-12-30");
    expect(await atRest()).toEqual(["2026"]);
    await checked();
    expect(await atRest()).toEqual(["2025", "2026"]);
  });

  test("a doubt about an episode of one is told in every build", async () => {
    await edit("2025-12-29", "episode.md", "evening of 2025-12-29\n", "evening of 2025-12-29 #3\n");
    await checked();
    expect(await atRest()).toEqual(["2025", "2026"]);
    const told = (await build()).findings.map(({ rule, at }) => [rule, at.file]);
    expect(told).toEqual([["yaml-hash", "episodes/2025/2025-12-29/episode.md"]]);
    await checked();
  });

  test("a title at the end of a year reaches the next year's first edition", async () => {
    await retitleEpisode(content, "2025-12-31", "The last evening of the year");
    expect(await atRest()).toEqual(["2026"]);
    await checked();
    expect(await readFile(join(site, "2026-01-01/index.html"), "utf8")).toContain("The last evening of the year");
    expect(await atRest()).toEqual(["2025", "2026"]);
  });

  test("a first edition that goes is missed by the year before", async () => {
    const draft = join(content, "episodes/2026/2026-01-01-early");
    await addEpisode(content, "2026-01-01-early", SHORT);
    await edit("2026-01-01-early", "episode.md", "T18:30:00", "T06:30:00");
    await rm(join(draft, "record.jsonl"));
    await checked(undefined, true);
    expect(await readFile(join(site, "2025-12-31/index.html"), "utf8")).toContain("2026-01-01-early");
    await rm(draft, { recursive: true });
    expect(await atRest("2027-03-01", true)).toEqual(["2025"]);
    await checked();
    expect(await readFile(join(site, "2025-12-31/index.html"), "utf8")).not.toContain("2026-01-01-early");
  });

  test("a day before something dated wakes the years that it concerns", async () => {
    expect(await atRest("2026-02-06")).toEqual(["2025"]);
    await checked("2026-02-06");
    expect(await atRest("2026-02-06")).toEqual(["2025", "2026"]);
    await checked();
  });

  test("a draft does not wake its year, unless drafts are asked for", async () => {
    await addEpisode(content, "2026-02-08", SHORT);
    await rm(join(content, "episodes/2026/2026-02-08/record.jsonl"));
    await checked();
    expect(await atRest()).toEqual(["2025", "2026"]);
    expect(await atRest("2027-03-01", true)).toEqual(["2025"]);
    await checked(undefined, true);
    await checked();
    expect(await atRest()).toEqual(["2025", "2026"]);
  });

  test("a year that is over loses its months in the search, and no words", async () => {
    await addEpisode(content, "2027-01-01", SHORT);
    await checked();
    const tiers = (await readdir(join(site, SEARCH_INDEX))).filter((name) => /^\d/.test(name)).sort();
    expect(tiers).toEqual(["2025-11-to-12", "2026-01-to-02", "2027-01"]);
  });
});
