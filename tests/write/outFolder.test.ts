import { existsSync } from "node:fs";
import { mkdir, symlink, writeFile } from "node:fs/promises";
import { join, parse } from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { makeCache, markText } from "../../src/write/mark.ts";
import { outFolder } from "../../src/write/outFolder.ts";
import { newFolder, readTree, removeFolder } from "../support/site.ts";

let top: string;
let content: string;
beforeEach(async () => {
  top = await newFolder();
  content = join(top, "station/content");
  await mkdir(join(content, "episodes"), { recursive: true });
  await mkdir(join(top, "home/own"), { recursive: true });
  vi.stubEnv("HOME", join(top, "home/own"));
});
afterEach(async () => {
  vi.unstubAllEnvs();
  await removeFolder(top);
});

const MARK = markText({ title: "The Evening Tide", url: "https://tide.example/", holds: "site" });

describe("a build may write", () => {
  test.each([
    ["where nothing is", "site", async () => undefined],
    ["nor around it", "a/b/site", async () => undefined],
    ["into an empty folder", "site", (folder: string) => mkdir(folder)],
    [
      "into one that a repository keeps",
      "site",
      async (folder: string) => {
        await mkdir(folder);
        for (const name of [".gitignore", "README.md"]) await writeFile(join(folder, name), "x");
      },
    ],
    [
      "into one with the mark of a build",
      "site",
      async (folder: string) => {
        await mkdir(folder);
        await writeFile(join(folder, ".afterair-site"), MARK);
        await writeFile(join(folder, "index.html"), "x");
      },
    ],
    ["beside what an earlier build kept", "site", async (folder: string) => makeCache(join(folder, "../.site.cache"))],
    [
      "beside what an earlier build kept, whatever of that was taken away",
      "site",
      async (folder: string) => {
        await mkdir(folder);
        await writeFile(join(folder, ".afterair-site"), MARK);
        await mkdir(join(folder, "../.site.cache/known"), { recursive: true });
      },
    ],
    ["beside the content, with a name that begins as its does", "station/content-site", async () => undefined],
  ])("%s", async (_what, out, make) => {
    const folder = join(top, out);
    await make(folder);
    expect(outFolder(folder, content)).toEqual({ ok: true, folder });
  });

  test("through a link, into what it leads to", async () => {
    await mkdir(join(top, "real"));
    await symlink(join(top, "real"), join(top, "site"));
    expect(outFolder(join(top, "site"), content)).toEqual({ ok: true, folder: join(top, "real") });
  });
});

describe("a build may not write, and touches nothing,", () => {
  const full = async (folder: string): Promise<void> => {
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, "thesis.txt"), "years of work");
  };
  test.each([
    ["into a stranger's folder", "papers", "files that no build made (thesis.txt)", (at: string) => full(at)],
    [
      "into a repository",
      "code",
      "files that no build made (.git)",
      (at: string) => mkdir(join(at, ".git"), { recursive: true }),
    ],
    ["into the content", "station/content", "is the content itself", async () => undefined],
    ["below it", "station/content/site", "lies in the content", async () => undefined],
    ["above it", "station", "holds the content", async () => undefined],
    [
      "above it, with a mark",
      "station",
      "holds the content",
      (at: string) => writeFile(join(at, ".afterair-site"), MARK),
    ],
    ["into a home folder", "home/own", "is a home folder", async () => undefined],
    ["above it", "home", "holds a home folder", async () => undefined],
    [
      "into a home folder with a mark",
      "home/own",
      "is a home folder",
      (at: string) => writeFile(join(at, ".afterair-site"), MARK),
    ],
    ["over a file", "site", "is a file", (at: string) => writeFile(at, "x")],
    ["through a link that leads nowhere", "site", "leads nowhere", (at: string) => symlink(join(top, "nowhere"), at)],
    ["below such a link", "link/site", "leads nowhere", () => symlink(join(top, "nowhere"), join(top, "link"))],
    ["through a link to the content", "site", "is the content itself", (at: string) => symlink(content, at)],
    [
      "where a mark is broken",
      "site",
      "files that no build made",
      async (at: string) => {
        await full(at);
        await writeFile(join(at, ".afterair-site"), "{");
      },
    ],
    [
      "where a mark says nothing of a site",
      "site",
      "files that no build made",
      async (at: string) => {
        await full(at);
        await writeFile(join(at, ".afterair-site"), '{"title":"x"}');
      },
    ],
    [
      "beside a stranger's folder with the name of what is kept",
      "site",
      "what a build keeps goes to",
      async (at: string) => full(join(at, "../.site.cache")),
    ],
    [
      "beside a link with that name",
      "site",
      "what a build keeps goes to",
      async (at: string) => {
        await full(join(top, "else"));
        await symlink(join(top, "else"), join(at, "../.site.cache"));
      },
    ],
  ])("%s", async (_what, out, why, make) => {
    const folder = join(top, out);
    await make(folder);
    const before = await readTree(top);
    const found = outFolder(folder, content);
    expect(found).toMatchObject({ ok: false, why: expect.stringContaining(why) });
    expect(found.ok ? "" : found.mend).toMatch(/^(Name|Make) /);
    expect(await readTree(top)).toEqual(before);
  });

  test("where the command was called, above it, nor into the root", () => {
    const root = parse(process.cwd()).root;
    expect(outFolder(process.cwd(), content)).toMatchObject({ why: expect.stringContaining("called in") });
    expect(outFolder(root, content)).toMatchObject({ ok: false });
  });

  test.runIf(existsSync("/proc/self"))("where a disk is mounted", () => {
    expect(outFolder("/proc", content)).toMatchObject({ ok: false, why: expect.stringContaining("a disk is mounted") });
  });
});
