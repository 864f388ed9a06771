import { mkdir, rename, rm, symlink, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { lookAtAll, openLooks } from "../../src/cli/looks.ts";
import { lookAtEpisode } from "../../src/read/look.ts";
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
  const first = () => lookAtEpisode(root, FOLDER, null);

  test("names what was looked at, and comes to the same again, whatever is known", () => {
    const { sign, paths } = first();
    expect(paths).toEqual(["", "corrections", "corrections/2026-10-06-1.md", "episode.md", "transcript.vtt"]);
    expect(lookAtEpisode(root, FOLDER, { sign, paths }).sign).toBe(sign);
    expect(first().sign).toBe(sign);
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
    await pause(20); // file systems count time in steps
    await change();
    const now = lookAtEpisode(root, FOLDER, before);
    expect(now.sign).not.toBe(before.sign);
    expect(now).toEqual(first());
  });

  test("another file of the same size and date is seen", async () => {
    const long = new Date("2026-10-05T12:00:00Z");
    await utimes(own("episode.md"), long, long);
    const before = first();
    await writeFile(own("episode.md.new"), "two");
    await rename(own("episode.md.new"), own("episode.md"));
    await utimes(own("episode.md"), long, long);
    expect(lookAtEpisode(root, FOLDER, before).sign).not.toBe(before.sign);
  });

  test("the youngest change is told, also that something was taken away", async () => {
    const past = new Date("2026-10-05T12:00:00Z");
    for (const path of first().paths) await utimes(own(path), past, past);
    const before = Date.now();
    await rm(own("transcript.vtt"));
    expect(first().youngest).toBeGreaterThan(before - 1000);
  });
});

test("two threads see what one sees", async () => {
  const task = { content: root, folders: [{ id: "2026-10-05", year: "2026", ...FOLDER }], before: [null] };
  const missing = { ...task, folders: [{ id: "2026-10-06", year: "2026", folder: "episodes/2026/2026-10-06" }] };
  const looks = openLooks(1_000_000);
  try {
    const seen = await Promise.all([looks.lookAt(task), looks.lookAt(task), looks.lookAt(task)]);
    expect(seen).toEqual([1, 2, 3].map(() => lookAtAll(task)));
    await expect(looks.lookAt(missing)).rejects.toThrow("ENOENT");
  } finally {
    looks.end();
  }
});
