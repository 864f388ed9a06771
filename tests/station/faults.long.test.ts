import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdir, rename, rm, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { promisify } from "node:util";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import { blocks } from "../../src/model/finding.ts";
import { generateArchive } from "../bench/generate.ts";
import { AFTERAIR } from "../support/program.ts";
import { newFolder, removeFolder } from "../support/site.ts";
import { copyStation, digestsOf, edit } from "../support/station.ts";
import {
  ADDRESSES,
  BROKEN,
  CLAIMS,
  ENDLESS_ONES,
  type Fault,
  type Files,
  HANGS_MS,
  ID,
  LOST,
  NAMES,
  THROWN,
} from "./faultTable.ts";

let [top, content, site, own]: string[] = [];
let before: Readonly<Record<string, string>> = {};
const at = (...parts: readonly (string | undefined)[]): string => join(...parts.map((part) => part ?? ""));
const build = (out = site, hangsAfter = 600_000) =>
  buildSite({
    ...{ content: at(content), out: at(out), on: "2026-12-01", now: new Date("2026-12-01T12:00:00Z"), drafts: false },
    ...{ own: at(own), hangsAfter },
  });

beforeAll(async () => {
  top = await newFolder();
  [content, site] = [at(top, "content"), at(top, "site")];
  await generateArchive(content, 1, ID);
  await writeFiles(content, { "pages/contact.md": "---\ntitle: Contact\n---\nWrite to us.\n" });
  own = await copyStation(top);
  const { findings } = await build();
  expect(findings.filter(blocks)).toEqual([]);
  before = await digestsOf(site);
}, 120_000);
afterAll(() => removeFolder(at(top)));
beforeEach(async () => {
  await rm(at(own), { recursive: true });
  await copyStation(at(top));
});

async function writeFiles(folder: string, files: Files): Promise<void> {
  for (const [path, text] of Object.entries(files)) {
    if (path === "config") {
      await edit(
        join(folder, "eleventy.config.mjs"),
        "  config.addPlugin(rss);\n",
        `  config.addPlugin(rss);\n  ${text}\n`,
      );
      continue;
    }
    await mkdir(dirname(join(folder, path)), { recursive: true });
    await writeFile(join(folder, path), text);
  }
}

async function expectFault([, files, place, says, mend]: Fault, hangsAfter?: number): Promise<void> {
  await writeFiles(at(own), files);
  const { site: built, findings } = await build(site, hangsAfter);
  const found = findings.filter(blocks);
  expect(built).toBeNull();
  expect(found.map(({ at: { file, line, column } }) => `${file.replace(`${own}/`, "")}:${line}:${column}`)).toContain(
    place,
  );
  expect(found.map((finding) => finding.says).join("\n")).toMatch(says);
  expect(found.map((finding) => finding.mend).join("\n")).toMatch(mend);
  expect(found.map((finding) => `${finding.says}${finding.mend}`).join("\n")).not.toMatch(
    /afterair-pages|\n {4}at |station-out/,
  );
  expect(await digestsOf(at(site))).toEqual(before);
}

describe("of these faults there is a finding, and the old site is as it was", () => {
  describe("what throws:", () => void test.each(THROWN)("%s", (...fault) => expectFault(fault)));
  describe("a loop that does not end, in", () =>
    void test.each(ENDLESS_ONES)("%s", (...fault) => expectFault(fault, HANGS_MS)));
  describe("an address of ours:", () => void test.each(CLAIMS)("%s", (...fault) => expectFault(fault)));
  describe("an address", () => void test.each(ADDRESSES)("%s", (...fault) => expectFault(fault)));
  describe("a name that nobody knows:", () => void test.each(NAMES)("%s", (...fault) => expectFault(fault)));
  describe("a page that would be without", () => void test.each(LOST)("%s", (...fault) => expectFault(fault)));
  describe("what is broken:", () => void test.each(BROKEN)("%s", (...fault) => expectFault(fault)));
});

test.each(CLAIMS)("a first build refuses an address of ours too: %s", async (_what, files, place, says) => {
  await writeFiles(at(own), files);
  const { site: built, findings } = await build(at(top, "first/site"));
  expect(built).toBeNull();
  const found = findings
    .filter(blocks)
    .map((finding) => `${finding.at.file.replace(`${own}/`, "")}:1:1 ${finding.says}`);
  expect(
    found.some((text) => text.startsWith(place) && says.test(text)),
    found.join("\n"),
  ).toBe(true);
  expect(existsSync(at(top, "first/site"))).toBe(false);
});

describe("the folder itself", () => {
  test.each([
    ["is not there", "nowhere", /There is no folder .*nowhere/],
    ["is in the content", "content/own", /own is in the content folder/],
  ])("named by --own, it %s", async (_what, name, says) => {
    await writeFiles(at(content), { "own/a.njk": "a" });
    const args = [AFTERAIR, "build", "--content", "content", "--out", "site", "--own", name, "--on", "2026-12-01"];
    const run = promisify(execFile)(process.execPath, args, { cwd: at(top) });
    await expect(run).rejects.toMatchObject({ code: 2, stderr: expect.stringMatching(says) });
    await expect(run).rejects.toMatchObject({ stderr: expect.not.stringMatching(/\n {4}at /) });
    await rm(at(content, "own"), { recursive: true });
    expect(await digestsOf(at(site))).toEqual(before);
  });

  test.each([
    ["is not there", "../nowhere", /^There is no folder .*nowhere\.$/],
    ["is in the content", "own", /own is in the content folder/],
  ])("named by programme.md, it %s", async (_what, name, says) => {
    const file = at(content, "programme.md");
    await writeFiles(at(content), { "own/a.njk": "a" });
    await edit(file, "framerate: 25\n", `framerate: 25\nown: ${name}\n`);
    const options = { content: at(content), out: at(site), on: "2026-12-01", now: new Date("2026-12-01T12:00:00Z") };
    const { site: built, findings } = await buildSite({ ...options, drafts: false });
    expect(built).toBeNull();
    const [fault] = findings.filter(blocks);
    expect(fault).toMatchObject({
      rule: "own-folder",
      at: { file: "programme.md" },
      says: expect.stringMatching(says),
    });
    expect(fault?.mend).toBe("Correct `own` in programme.md, or take it out.");
    await edit(file, `own: ${name}\n`, "");
    await rm(at(content, "own"), { recursive: true });
    expect(await digestsOf(at(site))).toEqual(before);
  });
});

test("after all of it, a mended folder is built as if nothing had been", async () => {
  await rename(at(own, "newest.md"), at(own, "latest.md"));
  expect((await build()).findings.filter(blocks)).toEqual([]);
  expect(existsSync(at(site, "latest/index.html"))).toBe(true);
  expect(existsSync(at(site, "newest/index.html"))).toBe(false);
});
