import { readdirSync, readFileSync } from "node:fs";
import { cp, mkdir, mkdtemp, rm, symlink, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { statsOfEpisode } from "../../src/read/fileStats.ts";
import { type ReadArchive, readArchive } from "../support/readArchive.ts";

const FIXTURES = "tests/fixtures/read";
const GOOD = join(FIXTURES, "good/content");

const lines = ({ findings }: ReadArchive): string[] =>
  findings.map(({ at, level, rule }) => `${at.file}:${at.line}:${at.column} ${level} ${rule}`);

describe("folders with a fault, beside a good episode", () => {
  test.each(readdirSync(FIXTURES))("%s", async (name) => {
    const read = readArchive(join(FIXTURES, name, "content"));
    const expected = readFileSync(join(FIXTURES, name, "expected.txt"), "utf8")
      .split("\n")
      .filter((line) => line !== "");
    expect(lines(read)).toEqual(expected);
    expect(read.episodesOk).toContain("2026-10-05");
    const hasProgramme = !name.startsWith("programme-");
    expect(read.archive?.episodes.some(({ title }) => title === "The good one") ?? false).toBe(hasProgramme);
    for (const { at, mend, says } of read.findings) {
      expect(at.line).toBeGreaterThanOrEqual(1);
      expect(at.column).toBeGreaterThanOrEqual(1);
      expect(mend).not.toBe("");
      expect(says).not.toBe("");
    }
  });

  test("the good folder is read whole", async () => {
    const { archive, findings, episodes, episodesOk, episodesFaulty } = readArchive(GOOD);
    expect(findings).toEqual([]);
    expect([episodes, episodesOk, episodesFaulty]).toEqual([
      ["2026-10-05", "2026-10-06"],
      ["2026-10-05", "2026-10-06"],
      [],
    ]);
    expect(archive?.programme).toMatchObject({
      title: "The Evening Tide",
      frameRate: 25,
      poster: { file: "poster.svg", alt: "A lighthouse at dusk" },
      slots: [{ at: "18:30", runs: 60_000, days: "weeknights", edition: null }],
      about: "About the programme.\n",
      names: [
        {
          slug: "tamsin-hathersay",
          name: "Tamsin Hathersay",
          kind: "person",
          role: "presenter",
          say: null,
          misspelt: [],
        },
      ],
    });
    expect(archive?.episodes.map(({ id, folder }) => [id, folder])).toEqual([
      ["2026-10-05", "episodes/2026/2026-10-05"],
      ["2026-10-06", "episodes/2026/2026-10-06"],
    ]);
  });

  test("an episode with a faulty correction stays, without it, and is named as faulty", async () => {
    const read = readArchive(join(FIXTURES, "correction-faulty/content"));
    expect(read.archive?.episodes.at(-1)).toMatchObject({ id: "2026-10-06", corrections: [{ id: "2026-10-07-2" }] });
    expect(read.episodesFaulty).toEqual(["2026-10-06"]);
  });

  test("code in front matter is not run", () => {
    readArchive(join(FIXTURES, "front-matter-runs-code/content"));
    expect("ran" in globalThis).toBe(false);
  });
});

describe("the disk", () => {
  let root = "";
  const BAD = "episodes/2026/2026-10-06";
  beforeEach(async () => {
    root = await mkdtemp(join(tmpdir(), "read-"));
    await cp(GOOD, join(root, "content"), { recursive: true });
  });
  afterEach(() => rm(root, { recursive: true, force: true }));
  const content = (file = "") => join(root, "content", file);
  const relink = async (file: string, target: string) => {
    await rm(content(file), { recursive: true });
    await symlink(target, content(file));
  };

  test("a link that leads out of the content is refused, whatever it is", async () => {
    await writeFile(join(root, "secret.md"), readFileSync(content(`${BAD}/episode.md`)));
    await relink(`${BAD}/episode.md`, join(root, "secret.md"));
    await relink(`${BAD}/evening.mp3`, "../../../../secret.md");
    const read = readArchive(content());
    expect(lines(read)).toEqual([
      `${BAD}/episode.md:1:1 blocks symlink-leaves-content`,
      `${BAD}/evening.mp3:1:1 blocks symlink-leaves-content`,
      `${BAD}/episode.md:1:1 blocks episode-missing`,
    ]);
    expect(read.episodesOk).toEqual(["2026-10-05"]);
  });

  test("a folder of episodes that leads out is refused", async () => {
    await cp(content("episodes/2026"), join(root, "elsewhere"), { recursive: true });
    await relink("episodes/2026", join(root, "elsewhere"));
    const read = readArchive(content());
    expect(lines(read)).toEqual(["episodes/2026:1:1 blocks symlink-leaves-content"]);
    expect(read.archive?.episodes).toEqual([]);
  });

  test("a link inside the content, and a content folder that is a link, are fine", async () => {
    await relink(`${BAD}/evening.mp3`, "../2026-10-05/evening.mp3");
    await symlink(content(), join(root, "linked"));
    const read = readArchive(join(root, "linked"));
    expect(lines(read)).toEqual([]);
  });

  test("a link to nothing is told", async () => {
    await relink(`${BAD}/evening.mp3`, "nowhere.mp3");
    expect(lines(readArchive(content()))).toEqual([
      `${BAD}/evening.mp3:1:1 blocks file-unreadable`,
      `${BAD}/episode.md:5:16 blocks media-missing`,
    ]);
  });

  test("dot files are passed over", async () => {
    await writeFile(content(".DS_Store"), "x");
    await writeFile(content(`${BAD}/.episode.md.swp`), "x");
    await mkdir(content("episodes/.trash"));
    expect(lines(readArchive(content()))).toEqual([]);
  });

  /** Every folder that a reader lists. */
  const FOLDERS = ["", "names", "pages", "episodes", "episodes/2026", BAD, `${BAD}/corrections`, `${BAD}/as-published`];
  const inEach = async (name: string) => {
    for (const folder of FOLDERS) {
      await mkdir(content(folder), { recursive: true });
      await writeFile(content(`${folder}/${name}`), "x");
    }
  };

  test.each([
    "episode.md~",
    "2026-10-07-1.md~",
    ".#episode.md",
    "#2026-10-07-1.md#",
    "episode.md.swp",
    "transcript.vtt.swo",
    ".DS_Store",
    "Thumbs.db",
    "desktop.ini",
  ])("%s, which nobody wrote, is passed over everywhere", async (name) => {
    const before = statsOfEpisode(content(), { folder: BAD }, null).paths;
    await inEach(name);
    expect(lines(readArchive(content()))).toEqual([]);
    const after = statsOfEpisode(content(), { folder: BAD }, null).paths;
    expect(after.filter((path) => path !== "corrections" && path !== "as-published")).toEqual(before);
  });

  test.each(["episode.md.bak", "2026-10-07-1.md.orig", "transcript.vtt.1", "2026-10-07-1.old"])(
    "%s, which somebody put by, is a doubt everywhere",
    async (name) => {
      await inEach(name);
      const expected = FOLDERS.map((folder) => `${folder === "" ? "" : `${folder}/`}${name}:1:1 warns file-unread`);
      expect(lines(readArchive(content())).toSorted()).toEqual(expected.toSorted());
    },
  );

  test("the reason of a reissue is no stray, in its place alone", async () => {
    for (const folder of ["as-published/1", "as-published", "corrections"]) {
      await mkdir(content(`${BAD}/${folder}`), { recursive: true });
      await writeFile(content(`${BAD}/${folder}/reason.md`), "It was two items.\n");
    }
    expect(lines(readArchive(content())).filter((line) => line.includes("as-published"))).toEqual([
      `${BAD}/as-published/reason.md:1:1 warns file-unread`,
    ]);
  });

  test("media are never opened: one of four gigabytes is read in no time", async () => {
    await truncate(content(`${BAD}/evening.mp3`), 4_000_000_000);
    expect(lines(readArchive(content()))).toEqual([]);
  });

  test("a text file of a size that nobody wrote is not read", async () => {
    await truncate(content(`${BAD}/transcript.vtt`), 20_000_000);
    const read = readArchive(content());
    expect(lines(read)).toEqual([`${BAD}/transcript.vtt:1:1 blocks file-too-large`]);
    expect(read.episodesFaulty).toEqual(["2026-10-06"]);
    expect(read.archive?.episodes.map(({ id }) => id)).toEqual(["2026-10-05"]);
  });

  test("a folder that is not there", async () => {
    const read = readArchive(join(root, "nothing"));
    expect(read.archive).toBeNull();
    expect(lines(read)).toEqual(["programme.md:1:1 blocks programme-missing"]);
  });
});
