import { spawnSync } from "node:child_process";
import { appendFile, cp, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { checkContent } from "../../src/actions/check.ts";
import { buildSite } from "../../src/build/build.ts";
import { SITE_MARK } from "../../src/model/address.ts";
import type { Finding } from "../../src/model/finding.ts";
import { copyDemo, DEMO, newFolder, readTree, removeFolder, textOf } from "../support/site.ts";

let folder: string;
beforeAll(async () => {
  folder = await newFolder();
});
afterAll(() => removeFolder(folder));

/** A copy of the demo with a change. */
async function demo(name: string, change: (episodes: string) => Promise<void>): Promise<string> {
  const content = join(folder, name);
  copyDemo(content);
  await change(join(content, "episodes/2026"));
  return content;
}
const siteOf = async (content: string, name: string, on = "2026-10-12", drafts = false) => {
  const out = join(folder, name);
  const built = await buildSite({ content, out, on, drafts, now: new Date("2026-10-12T20:00:00Z") });
  return { ...built, tree: built.site === null ? new Map<string, Buffer>() : await readTree(out) };
};

describe("an episode that nobody published", () => {
  const unpublished = (name: string) =>
    demo(name, async (episodes) => {
      // Only what is published is corrected.
      for (const path of ["record.jsonl", "corrections"])
        await rm(join(episodes, "2026-10-07", path), { recursive: true });
    });

  test("is in no page, list, feed or search", async () => {
    const { tree } = await siteOf(await unpublished("a"), "a-site");
    expect([...tree.keys()].filter((path) => path.startsWith("2026-10-07"))).toEqual([]);
    for (const [path, bytes] of tree) {
      if (/\.(?:html|xml|json)$/.test(path)) expect(textOf(bytes), path).not.toContain("2026-10-07/");
    }
  });

  test("is built as a draft when asked, and still in no feed, search or log", async () => {
    const { tree } = await siteOf(await unpublished("b"), "b-site", "2026-10-12", true);
    expect(textOf(tree.get("2026-10-07/index.html") ?? Buffer.from(""))).toContain("This edition is not published");
    expect(textOf(tree.get("index.html") ?? Buffer.from(""))).toContain("2026-10-07/");
    expect(tree.has("2026-10-07/record.jsonl")).toBe(false);
    for (const path of ["feed.xml", "corrections/feed.xml", "sitemap-2026.xml", "corrections/index.html"]) {
      expect(textOf(tree.get(path) ?? Buffer.from("")), path).not.toContain("2026-10-07/");
    }
    const fragments = [...tree].filter(([path]) => path.includes("/fragment/")).map(([, bytes]) => textOf(bytes));
    expect(fragments.filter((text) => text.includes("/2026-10-07/"))).toEqual([]);
  });

  test("does not hold the others back when it is faulty, until it is asked for", async () => {
    const content = await unpublished("c");
    const file = join(content, "episodes/2026/2026-10-07/episode.md");
    await writeFile(file, (await readFile(file, "utf8")).replace("kind: package", "kind: parcel"));
    expect((await siteOf(content, "c-site")).site).not.toBeNull();
    expect((await siteOf(content, "c-drafts", "2026-10-12", true)).site).toBeNull();
  });
});

describe("the text on any day", () => {
  test("before a correction is dated it is not there, and the words are those of that day", async () => {
    const { tree } = await siteOf(DEMO, "first-evening", "2026-10-05");
    const weather = textOf(tree.get("2026-10-05/weather/index.html") ?? Buffer.from(""));
    expect(weather).toContain("25 knots");
    expect(weather).toContain("15 knots");
    expect(weather).not.toContain("2026-10-06-1");
    expect(tree.has("corrections/2026-10-05-1/index.html")).toBe(true);
    expect(tree.has("corrections/2026-10-06-1/index.html")).toBe(false);
  });

  test("the text as first published stays reachable, without what was withdrawn", async () => {
    const { tree } = await siteOf(DEMO, "texts");
    const first = textOf(tree.get("2026-10-05/as-published/1/transcript.txt") ?? Buffer.from(""));
    expect(first).toContain("15 knots around the Skerrow Bank");
    const now = textOf(tree.get("2026-10-05/transcript.txt") ?? Buffer.from(""));
    expect(now).toContain("25 knots around the Skerrow Bank");
    const tuesday = textOf(tree.get("2026-10-06/as-published/1/transcript.txt") ?? Buffer.from(""));
    expect(tuesday).not.toContain("sore knee");
    expect(tuesday).toContain("Urchins are picked by hand");
  });

  test("what was withdrawn is not given again by asking for the day before", async () => {
    const { tree } = await siteOf(DEMO, "day-before", "2026-10-08");
    for (const [path, bytes] of tree) {
      if (/\.(?:mp3|ogg|woff2)$/.test(path)) continue;
      expect(textOf(bytes), path).not.toContain("sore knee, but");
    }
  });
});

describe("the record on the site", () => {
  test("is the record of the content, byte for byte, and grows only at its end", async () => {
    const [now, before] = [await siteOf(DEMO, "now"), await siteOf(DEMO, "then", "2026-10-07")];
    for (const id of ["2026-10-05", "2026-10-06", "2026-10-07"]) {
      const own = await readFile(join(DEMO, `episodes/2026/${id}/record.jsonl`), "utf8");
      const shown = textOf(now.tree.get(`${id}/record.jsonl`) ?? Buffer.from(""));
      expect(shown).toBe(own);
      expect(own.startsWith(textOf(before.tree.get(`${id}/record.jsonl`) ?? Buffer.from("-")))).toBe(true);
    }
  });

  // coreutils' own sha256sum checks the lists; they name every file but themselves.
  test("the checksum lists hold for the whole site, and a changed byte is found", async () => {
    const { tree } = await siteOf(DEMO, "checked");
    const lists = [...tree.keys()].filter((path) => path.endsWith(".sha256"));
    const check = () =>
      spawnSync("sha256sum", ["--check", "--strict", "--quiet", ...lists], {
        cwd: join(folder, "checked"),
        encoding: "utf8",
      });
    expect(check()).toMatchObject({ status: 0, stdout: "" });
    const named = lists.flatMap((path) =>
      textOf(tree.get(path) ?? Buffer.from(""))
        .trimEnd()
        .split("\n"),
    );
    expect(named.map((line) => line.slice(66)).sort()).toEqual(
      [...tree.keys()].filter((path) => !lists.includes(path) && path !== SITE_MARK).sort(),
    );
    await appendFile(join(folder, "checked/2026-10-05/transcript.txt"), ".");
    expect(check()).toMatchObject({ status: 1, stdout: "2026-10-05/transcript.txt: FAILED\n" });
  });
});

describe("a correction written by hand, which awaits entry", () => {
  const FILE = "episodes/2026/2026-10-07/corrections/2026-10-12-1.md";
  const byHand = (name: string, kind: string) =>
    demo(name, (episodes) =>
      writeFile(
        join(episodes, "../..", FILE),
        `---\ndated: 2026-10-12T09:00:00+01:00\nkind: ${kind}\nsegment: glowing-sea\nsigned: Online desk\n---\nIt has been counted again.\n`,
      ),
    );
  const pagesWith = (tree: ReadonlyMap<string, Buffer>, words: string) =>
    [...tree].filter(([, bytes]) => textOf(bytes).includes(words)).map(([path]) => path);
  const awaiting = (findings: readonly Finding[]) =>
    findings.filter(({ rule }) => rule === "correction-not-entered").map(({ at, mend }) => [at.file, mend]);
  const TOLD = [[FILE, "Run `afterair publish 2026-10-07`: it enters it."]];

  test("is nowhere on the public site, and check and build tell how to enter it", async () => {
    const content = await byHand("by-hand", "update");
    const now = new Date("2026-10-12T20:00:00Z");
    expect(awaiting(await checkContent({ content, episodes: [], on: "2026-10-12", now }))).toEqual(TOLD);
    const { tree, findings } = await siteOf(content, "by-hand-site");
    expect(awaiting(findings)).toEqual(TOLD);
    expect(pagesWith(tree, "It has been counted again.")).toEqual([]);
    expect(tree.has("corrections/2026-10-12-1/index.html")).toBe(false);
  });

  test("is shown in drafts with its mark", async () => {
    const { tree } = await siteOf(await byHand("draft", "update"), "draft-site", "2026-10-12", true);
    const page = textOf(tree.get("2026-10-07/index.html") ?? Buffer.from(""));
    expect(page).toContain("It has been counted again.");
    expect(page).toContain("not yet in the record");
  });

  test("takes its words away at once where it is a withdrawal", async () => {
    const words = "half a millimetre across";
    expect(pagesWith((await siteOf(DEMO, "as-it-is")).tree, words)).toContain("2026-10-07/index.html");
    const { tree, findings } = await siteOf(await byHand("gone", "withdrawal"), "gone-site");
    expect(awaiting(findings)).toEqual(TOLD);
    expect(pagesWith(tree, words)).toEqual([]);
    expect(pagesWith(tree, "It has been counted again.")).toContain("2026-10-07/index.html");
  });
});

test("two corrections of one number are both named", async () => {
  const content = await demo("numbers", (episodes) =>
    cp(
      join(episodes, "2026-10-05/corrections/2026-10-06-1.md"),
      join(episodes, "2026-10-06/corrections/2026-10-06-1.md"),
    ).then(() =>
      writeFile(
        join(episodes, "2026-10-06/corrections/2026-10-06-1.md"),
        "---\ndated: 2026-10-06T20:00:00+01:00\nkind: update\nsegment: urchin-pay\nsigned: Online desk\n---\nMore.\n",
      ),
    ),
  );
  const { site, findings } = await siteOf(content, "numbers-site", "2026-10-12", true);
  expect(site).toBeNull();
  const clash = findings.find(({ rule }) => rule === "address-taken");
  expect([clash?.at.file, clash?.see?.[0]?.file].sort()).toEqual([
    "episodes/2026/2026-10-05/corrections/2026-10-06-1.md",
    "episodes/2026/2026-10-06/corrections/2026-10-06-1.md",
  ]);
});
