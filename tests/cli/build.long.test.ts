import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Episode } from "../../src/model/episode.ts";
import { readArchive } from "../support/readArchive.ts";
import { build, copyDemo, DEMO, digestOf, newFolder, readTree, removeFolder, textOf } from "../support/site.ts";

const FILES = ["index.html", "transcript.vtt", "transcript.txt", "chapters.vtt", "chapters.json", "episode.json"];

let folder: string;
let demo: string;
let site: ReadonlyMap<string, Buffer>;
beforeAll(async () => {
  folder = await newFolder();
  demo = join(folder, "demo");
  copyDemo(demo);
  const { findings } = await build(demo, join(folder, "site"));
  expect(findings).toEqual([]);
  site = await readTree(join(folder, "site"));
}, 60_000);
afterAll(() => removeFolder(folder));

const page = (path: string): string => textOf(site.get(path) ?? Buffer.from(""));
const html = (): readonly [string, string][] =>
  [...site].filter(([path]) => path.endsWith(".html")).map(([path, bytes]) => [path, textOf(bytes)]);

describe("the demo's site", () => {
  test("has the three episodes, their segments, and what goes with them", async () => {
    for (const id of ["2026-10-05", "2026-10-06", "2026-10-07"]) {
      for (const file of FILES) expect(site.has(`${id}/${file}`), `${id}/${file}`).toBe(true);
    }
    for (const path of ["index.html", "404.html", "search/index.html", "corrections/index.html", "2026/index.html"]) {
      expect(site.has(path), path).toBe(true);
    }
    expect(site.has("2026-10-05/ferry-timetable/index.html")).toBe(true);
    expect(site.has("2026-10-05/break/index.html")).toBe(false);
    const recording = await readFile(join(DEMO, "episodes/2026/2026-10-05/web.mp3"));
    expect(site.get("2026-10-05/web.mp3")?.equals(recording)).toBe(true);
  });

  test("names whose work it holds besides ours, with the versions that are there, and every page leads to that", () => {
    const notices = page("assets/notices.txt");
    const { version } = JSON.parse(page("search/index/pagefind-entry.json"));
    expect(notices).toContain(`\npagefind ${version}\n`);
    const fonts = [...site.keys()].filter((path) => path.endsWith(".woff2"));
    expect(fonts).toHaveLength(notices.split("SIL OPEN FONT LICENSE Version 1.1 - ").length - 1);
    for (const [path, text] of html()) expect(text, path).toContain(`href="/assets/notices.txt"`);
  });

  test("is the same, byte for byte, when it is built again", async () => {
    await build(demo, join(folder, "again"));
    const again = await readTree(join(folder, "again"));
    expect([...again.keys()]).toEqual([...site.keys()]);
    for (const [path, bytes] of site) expect(digestOf(again.get(path) ?? Buffer.from("")), path).toBe(digestOf(bytes));
  });

  test("no link leads nowhere, and no fragment to a place that is not there", () => {
    for (const [path, text] of html()) {
      for (const [, link = ""] of text.matchAll(/ (?:href|src|poster|content)="([^"]*)"/g)) {
        const target = new URL(link.replaceAll("&amp;", "&"), `https://tide.example.org/${path}`);
        if (target.origin !== "https://tide.example.org" || !/^(?:https:\/|\/|#(?![0-9A-F]{6}$))/.test(link)) continue;
        const file = target.pathname.slice(1).replace(/(^|\/)$/, "$1index.html");
        expect(site.has(decodeURIComponent(file)), `${path} leads to ${link}`).toBe(true);
        const id = decodeURIComponent(target.hash.slice(1));
        if (id !== "" && !id.startsWith("t=")) expect(page(file), `${path} leads to ${link}`).toContain(` id="${id}"`);
      }
    }
  });

  test("every id is there once on its page", () => {
    for (const [path, text] of html()) {
      const ids = [...text.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
      expect(ids.length, path).toBe(new Set(ids).size);
    }
  });

  test("pages bring no script, style or handler of their own, and call nobody else", () => {
    for (const [path, text] of html()) {
      expect(text, path).not.toMatch(/<script(?![^>]*(?: src=| type="application\/ld\+json"))/);
      expect(text, path).not.toMatch(/ (?:style|on[a-z]+)="/);
      expect(text, path).not.toMatch(/ (?:src|poster)="(?!\/)/);
      expect(text, path).toContain('http-equiv="Content-Security-Policy"');
    }
  });

  test("the break and the cut item are not in the captions, and what follows them has moved up", () => {
    const captions = page("2026-10-05/transcript.vtt");
    expect(captions).not.toContain("Break music");
    // Aired 353.019 s, after cuts of 24.25 s and 37.305 s.
    expect(captions).toMatch(/00:04:51\.[0-9]{3} --> .*\n<v Tamsin Hathersay>Sport now/);
  });
});

/** Every run of seven words said in some cues: long enough to be nobody else's. */
function phrasesOf(cues: Episode["cues"]): readonly string[] {
  const words = cues.flatMap(({ pieces }) =>
    pieces.flatMap(({ words }) => words.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? []),
  );
  return words.slice(0, Math.max(0, words.length - 6)).map((_, n) => words.slice(n, n + 7).join(" "));
}

describe("what may not be given is nowhere", () => {
  test.each([
    ["withheld whole", "2026-10-05", "mainland-talks"],
    ["withdrawn", "2026-10-06", "sport"],
  ])("%s: %s, %s", async (_why, id, slug) => {
    const { archive } = readArchive(DEMO);
    const held: string[] = [];
    const given = new Set<string>();
    for (const episode of archive?.episodes ?? []) {
      for (const segment of episode.segments) {
        const phrases = phrasesOf(episode.cues.filter(({ start }) => start >= segment.in && start < segment.out));
        if (episode.id === id && segment.slug === slug) held.push(...phrases);
        else for (const phrase of phrases) given.add(phrase);
      }
    }
    const phrases = held.filter((phrase) => !given.has(phrase));
    expect(phrases.length).toBeGreaterThan(50);
    for (const [path, bytes] of site) {
      if (/\.(?:mp3|ogg|woff2)$/.test(path)) continue;
      const text =
        textOf(bytes)
          .toLowerCase()
          .match(/[\p{L}\p{N}]+/gu)
          ?.join(" ") ?? "";
      expect(
        phrases.filter((phrase) => text.includes(phrase)),
        path,
      ).toEqual([]);
    }
  });

  test("the search would find such words if they were there", () => {
    const index = [...site].filter(([path]) => path.includes("/fragment/")).map(([, bytes]) => textOf(bytes));
    expect(index.some((text) => text.includes("There is a deal on the Skerrow Bank"))).toBe(true);
  });

  test("the withheld item is back on its day", async () => {
    await build(demo, join(folder, "later"), "2026-10-14");
    const later = await readFile(join(folder, "later/2026-10-07/bank-deal/index.html"), "utf8");
    expect(page("2026-10-07/bank-deal/index.html")).toContain("Withheld until");
    expect(later).not.toContain("Withheld");
    expect(later).toContain("<video");
  });

  test("an edition is not there before it was aired", async () => {
    await build(demo, join(folder, "earlier"), "2026-10-06");
    expect(await readdir(join(folder, "earlier"))).toEqual(expect.arrayContaining(["2026-10-05", "2026-10-06"]));
    expect(await readdir(join(folder, "earlier"))).not.toContain("2026-10-07");
  });
});
