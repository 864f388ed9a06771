import { mkdir, readdir, readFile, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { build, copyDemo, digestOf, newFolder, readTree, removeFolder, textOf } from "../support/site.ts";
import { SMALL } from "../support/station.ts";

let folder: string;
beforeAll(async () => {
  folder = await newFolder();
});
afterAll(() => removeFolder(folder));

describe("under a base path", () => {
  test("everything stands below it and every link keeps it", async () => {
    copyDemo(join(folder, "content"));
    const file = join(folder, "content/programme.md");
    await writeFile(
      file,
      (await readFile(file, "utf8")).replace("https://tide.example.org/", "https://example.org/tide/"),
    );
    const { base } = await build(join(folder, "content"), join(folder, "based"));
    expect(base).toBe("/tide/");
    const based = await readTree(join(folder, "based"));
    for (const [path, bytes] of based) {
      if (!path.endsWith(".html")) continue;
      for (const [, link = ""] of textOf(bytes).matchAll(/ (?:href|src|poster|action)="(\/[^"]*)"/g)) {
        expect(link.startsWith("/tide/"), `${path} leads to ${link}`).toBe(true);
      }
    }
  });
});

describe("a fault leaves the site as it is", () => {
  test("blocking findings: nothing is written, and no leftovers stand beside it", async () => {
    const [content, out] = [join(folder, "faulty"), join(folder, "kept")];
    copyDemo(content);
    await build(content, out);
    const before = await readTree(out);
    const file = join(content, "episodes/2026/2026-10-06/episode.md");
    await writeFile(file, (await readFile(file, "utf8")).replace("in: 0:30.806", "in: 14:75"));
    const { findings, site: built } = await build(content, out);
    expect(built).toBeNull();
    expect(findings.map(({ at, rule }) => [at.file, rule])).toContainEqual([
      "episodes/2026/2026-10-06/episode.md",
      expect.any(String),
    ]);
    const after = await readTree(out);
    expect([...after].map(([path, bytes]) => [path, digestOf(bytes)])).toEqual(
      [...before].map(([path, bytes]) => [path, digestOf(bytes)]),
    );
    expect((await readdir(folder)).filter((name) => name.startsWith(".kept"))).toEqual([".kept.cache"]);
  });

  test("a page that claims an address of the site's own is told, with its place", async () => {
    const content = join(folder, "clash");
    copyDemo(content);
    await writeFile(join(content, "pages/2026-10-05.md"), "---\ntitle: Clash\norder: 9\n---\nWords.\n");
    const { site: built, findings } = await build(content, join(folder, "never"));
    expect(built).toBeNull();
    expect(findings[0]?.at.file).toBe("pages/2026-10-05.md");
  });

  test("the output folder's own ignore file stays", async () => {
    const out = join(folder, "ignored");
    await mkdir(out);
    await writeFile(join(out, ".gitignore"), "*\n");
    await build(join(SMALL, "content"), out, "2026-12-01");
    expect(await readFile(join(out, ".gitignore"), "utf8")).toBe("*\n");
  });

  test("a recording that leads out of the content folder is refused", async () => {
    const content = join(folder, "linked");
    copyDemo(content);
    await writeFile(join(folder, "outside.mp3"), "not ours");
    const own = join(content, "episodes/2026/2026-10-05");
    await symlink(join(folder, "outside.mp3"), join(own, "linked.mp3"));
    const file = join(own, "episode.md");
    await writeFile(file, (await readFile(file, "utf8")).replace("src: web.mp3", "src: linked.mp3"));
    const { site: built, findings } = await build(content, join(folder, "unlinked"));
    expect(built).toBeNull();
    expect(findings.some(({ says }) => says.includes("linked.mp3"))).toBe(true);
  });
});
