import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { appendFile, cp, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test, vi } from "vitest";
import { AFTERAIR } from "../support/program.ts";
import { copyDemo, DEMO_DAY, digestOf, newFolder, readTree, removeFolder } from "../support/site.ts";

vi.setConfig({ testTimeout: 60_000 });

/** A station's folder, with the demo as its content and a site of an earlier evening. */
let top: string;
let station: string;
beforeAll(async () => {
  top = await newFolder();
  await mkdir(join(top, "first"));
  copyDemo(join(top, "first/content"));
  station = join(top, "first");
  expect(build().status).toBe(0);
}, 60_000);
afterAll(() => removeFolder(top));
beforeEach(async () => {
  station = join(top, "station");
  await rm(station, { recursive: true, force: true });
  await cp(join(top, "first"), station, { recursive: true });
});

function run(...args: readonly string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [AFTERAIR, ...args, "--on", DEMO_DAY], {
    cwd: station,
    encoding: "utf8",
    env: { ...process.env, HOME: join(top, "home") },
  });
  return { status, stdout, stderr };
}
function build(...args: readonly string[]) {
  return run("build", ...args);
}

const digests = async (folder: string) =>
  Object.fromEntries([...(await readTree(folder))].map(([path, bytes]) => [path, digestOf(bytes)]));

describe("a build that may not write there ends with 2, says why and what to do, and touches nothing", () => {
  test.each([
    ["a stranger's folder", ["--out", "papers"], /papers has files that no build made \(thesis\.txt\)/],
    ["the content", ["--out", "content"], /content is the content itself/],
    ["below the content", ["--out", "content/site"], /content\/site lies in the content/],
    ["above the content", ["--out", "."], /\. holds the content/],
    ["a home folder", ["--out", "../home"], /is a home folder/],
    ["with drafts over a site for the public", ["--drafts", "--out", "site"], /site is a site for the public/],
  ])("%s", async (_what, args, why) => {
    await mkdir(join(top, "home"), { recursive: true });
    await mkdir(join(station, "papers"));
    await writeFile(join(station, "papers/thesis.txt"), "years of work");
    const before = await digests(station);
    const { status, stdout, stderr } = build(...args);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(why);
    expect(stderr).toMatch(/Name /);
    expect(stderr.trim().split("\n")).toHaveLength(1);
    expect(await digests(station)).toEqual(before);
  });

  test("the site of another programme", async () => {
    const file = join(station, "content/programme.md");
    const text = await readFile(file, "utf8");
    await writeFile(
      file,
      text.replace(/^title: .*$/m, "title: The Morning Ebb").replace(/^url: .*$/m, "url: https://ebb.example/"),
    );
    const before = await digests(join(station, "site"));
    const { status, stderr } = build();
    expect({ status, stderr }).toEqual({
      status: 2,
      stderr: expect.stringMatching(/site is the site of The Evening Tide \(.*\), and this is The Morning Ebb/),
    });
    expect(await digests(join(station, "site"))).toEqual(before);
  });
});

test("a programme that moves to another address builds into its own site", async () => {
  const file = join(station, "content/programme.md");
  await writeFile(file, (await readFile(file, "utf8")).replace(/^url: .*$/m, "url: https://tide.example/new/"));
  expect(build()).toMatchObject({ status: 0, stderr: expect.not.stringContaining("Not built") });
  expect(await readFile(join(station, "site/.afterair-site"), "utf8")).toContain("https://tide.example/new/");
});

test("drafts have a folder of their own", async () => {
  await rm(join(station, "content/episodes/2026/2026-10-07/record.jsonl"));
  await rm(join(station, "content/episodes/2026/2026-10-07/corrections"), { recursive: true, force: true });
  await rm(join(station, "content/episodes/2026/2026-10-07/as-published"), { recursive: true, force: true });
  const before = await digests(join(station, "site"));
  const drafts = `.afterair/preview/content-${DEMO_DAY}`;
  expect(build("--drafts")).toMatchObject({ status: 0, stdout: expect.stringContaining(`pages in ${drafts}`) });
  expect(existsSync(join(station, drafts, "2026-10-07/index.html"))).toBe(true);
  expect(await digests(join(station, "site"))).toEqual(before);
  // What is not for drafts takes their place.
  await rm(join(station, "site"), { recursive: true });
  expect(build("--out", drafts)).toMatchObject({ status: 0 });
  expect(existsSync(join(station, drafts, "2026-10-07/index.html"))).toBe(false);
  expect(build("--drafts")).toMatchObject({ status: 2, stderr: expect.stringContaining("for the public") });
});

test("what no build made is kept, and named", async () => {
  await writeFile(join(station, "site/CNAME"), "tide.example");
  for (const title of ["One", "Two"]) {
    await appendFile(join(station, "content/pages/contact.md"), `\n${title}\n`);
    expect(build()).toMatchObject({
      status: 0,
      stdout: expect.stringContaining("Kept there, as no build made it: CNAME"),
    });
    expect(await readFile(join(station, "site/CNAME"), "utf8")).toBe("tide.example");
  }
});

test("a guest in the place of a new page is named, and the site stays", async () => {
  await mkdir(join(station, "site/jobs"));
  await writeFile(join(station, "site/jobs/mine.txt"), "mine");
  const page = await readFile(join(station, "content/pages/contact.md"), "utf8");
  await writeFile(join(station, "content/pages/jobs.md"), page);
  const before = await digests(join(station, "site"));
  const { status, stderr } = build();
  expect({ status, stderr }).toEqual({ status: 2, stderr: expect.stringMatching(/no build made .*site\/jobs/) });
  expect(await digests(join(station, "site"))).toEqual(before);
});

describe("build --verify", () => {
  test("nothing strange: nothing is made", () => {
    expect(build("--verify")).toEqual({ status: 0, stdout: expect.stringMatching(/, 0 of them anew\n$/), stderr: "" });
  });

  test.each([
    [
      "a page written to",
      "site-file-changed",
      "2026-10-05/index.html",
      (file: string) => appendFile(file, "<p>Not ours</p>"),
    ],
    ["a page that is gone", "site-file-missing", "2026-10-05/index.html", (file: string) => rm(file)],
    ["a page that nobody built", "site-file-strange", "2026-10-05/more.html", (file: string) => writeFile(file, "x")],
    ["a record written to", "site-file-changed", "2026-10-05/record.jsonl", (file: string) => writeFile(file, "{}")],
    ["captions written to", "site-file-changed", "2026-10-05/chapters.vtt", (file: string) => appendFile(file, "x")],
  ])("%s is named, and all is made anew", async (_what, rule, path, change) => {
    const before = await digests(join(station, "site"));
    await change(join(station, "site", path));
    const { status, stdout, stderr } = build("--verify");
    expect(status).toBe(0);
    expect(stderr).toMatch(new RegExp(`^site/${path}:1:1 `));
    expect(stderr).toContain(rule);
    expect(stdout).toMatch(/ pages in site\n/);
    expect(await digests(join(station, "site"))).toEqual(before);
    expect(build("--verify")).toMatchObject({ status: 0, stderr: "" });
  });
});
