import { mkdir, rename, rm, symlink, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import {
  type FileStats,
  isSameStats,
  signOfYear,
  statsOfEpisode,
  yearStatsOf,
  youngestIn,
} from "../../src/read/fileStats.ts";
import { newFolder, removeFolder } from "../support/site.ts";

let root = "";
const FOLDER = { folder: "episodes/2026/2026-10-05" };
const own = (name: string): string => join(root, FOLDER.folder, name);

beforeEach(async () => {
  root = await newFolder();
  await mkdir(own("corrections"), { recursive: true });
  for (const name of ["episode.md", "transcript.vtt", "corrections/2026-10-06-1.md"]) await writeFile(own(name), "one");
});
afterEach(() => removeFolder(root));

describe("a look at an episode's folder", () => {
  const first = () => statsOfEpisode(root, FOLDER, null);
  const ofYear = (stats: FileStats | null) => yearStatsOf([["2026-10-05", stats]]);

  test("names what was looked at, and comes to the same again, whatever is known", () => {
    const { paths, marks } = first();
    expect(paths).toEqual(["", "corrections", "corrections/2026-10-06-1.md", "episode.md", "transcript.vtt"]);
    expect(isSameStats(statsOfEpisode(root, FOLDER, { paths, marks }), { paths, marks })).toBe(true);
    expect(isSameStats(first(), { paths, marks })).toBe(true);
    expect(isSameStats(null, { paths, marks })).toBe(false);
  });

  test.each<readonly [string, () => Promise<unknown>]>([
    ["written to", () => writeFile(own("episode.md"), "two")],
    ["written to below", () => writeFile(own("corrections/2026-10-06-1.md"), "two")],
    ["added", () => writeFile(own("record.jsonl"), "")],
    ["added below", () => writeFile(own("corrections/2026-10-06-2.md"), "")],
    ["taken away", () => rm(own("transcript.vtt"))],
    ["taken away below", () => rm(own("corrections/2026-10-06-1.md"))],
    ["renamed", () => rename(own("transcript.vtt"), own("transcript.cy.vtt"))],
    ["a folder, added", () => mkdir(own("as-published"))],
    ["a folder, taken away", () => rm(own("corrections"), { recursive: true })],
    [
      "a link, in the place of it",
      () => rm(own("episode.md")).then(() => symlink("transcript.vtt", own("episode.md"))),
    ],
  ])("a file %s is seen, and what is there then is named", async (_what, change) => {
    const before = first();
    const year = ofYear(before);
    expect(signOfYear(own(".."), year)).toBe(year.sign);
    await pause(20); // file systems count time in steps
    await change();
    const now = statsOfEpisode(root, FOLDER, before);
    expect(isSameStats(before, now)).toBe(false);
    expect(now).toEqual(first());
    expect(signOfYear(own(".."), year)).not.toBe(year.sign);
  });

  test("of a year is one sign, and none where an episode's can't be relied on", async () => {
    await mkdir(join(root, "episodes/2026/2026-10-06"));
    const other = statsOfEpisode(root, { folder: "episodes/2026/2026-10-06" }, null);
    const year = yearStatsOf([
      ["2026-10-05", first()],
      ["2026-10-06", other],
    ]);
    expect(year.shapes.map(({ ids }) => ids)).toEqual([["2026-10-05"], ["2026-10-06"]]);
    expect(signOfYear(own(".."), year)).toBe(year.sign);
    expect(ofYear(null)).toEqual({ sign: null, shapes: [{ paths: [], ids: ["2026-10-05"] }] });
  });

  test("another file of the same size and date is seen", async () => {
    const long = new Date("2026-10-05T12:00:00Z");
    await utimes(own("episode.md"), long, long);
    const before = first();
    await writeFile(own("episode.md.new"), "two");
    await rename(own("episode.md.new"), own("episode.md"));
    await utimes(own("episode.md"), long, long);
    expect(isSameStats(statsOfEpisode(root, FOLDER, before), before)).toBe(false);
  });

  test("the youngest change is told, also that something was taken away", async () => {
    const past = new Date("2026-10-05T12:00:00Z");
    for (const path of first().paths) await utimes(own(path), past, past);
    const before = Date.now();
    await rm(own("transcript.vtt"));
    expect(youngestIn(first())).toBeGreaterThan(before - 1000);
  });
});
