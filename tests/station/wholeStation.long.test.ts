import { execFile } from "node:child_process";
import { cp, readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { HtmlValidate } from "html-validate";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { blocks } from "../../src/model/finding.ts";
import { AFTERAIR } from "../support/program.ts";
import { newFolder, readTree, removeFolder } from "../support/site.ts";
import { age, buildWith, copyStation, digestsOf, edit, listedIn, SMALL, STATION } from "../support/station.ts";
import { expectReviewed, readForReview, readTexts } from "../support/wholeSite.ts";

/** What the station's folder adds to the site, or has in the place of what is there without it. */
const OWN_FILES = [
  "counts.json",
  "evenings.xml",
  "evenings/2026-10-05/index.html",
  "everything/index.html",
  "files/note.txt",
  "newest/index.html",
  "topics-and-places/index.html",
];

let top = "";
let site = "";
beforeAll(async () => {
  top = await newFolder();
  site = join(top, "first/site");
  const { built } = await buildWith({ out: site, own: join(STATION, "own") });
  expect(built.findings.filter(blocks)).toEqual([]);
}, 60_000);
afterAll(() => removeFolder(top));

const page = (path: string): Promise<string> => readFile(join(site, path), "utf8");

describe("a small content folder in a station's own templates", () => {
  test("gives the very files that were read in review: those that differ from the site without a station", async () => {
    const without = await readTexts(join(SMALL, "site"));
    const texts = [...(await readForReview(site))].filter(([path, text]) => without.get(path) !== text);
    await expectReviewed(join(STATION, "site"), new Map(texts));
  });

  test.each([
    "index.html",
    "2026-10-05/index.html",
    "2026-10-05/regatta/index.html",
    "404.html",
    "everything/index.html",
  ])("%s stands in its frame", async (path) => {
    const html = await page(path);
    expect(html).toContain("You hear Verrin Islands Broadcasting: ");
    expect(html).toContain("By the sea since 1951.");
    expect(html.split('<header class="masthead">')).toHaveLength(2);
  });

  test("only a segment's page has what stands around segments", async () => {
    const line = '<p class="line">You hear Nine sailings a week, of Monday 5 October 2026.</p>';
    expect(await page("2026-10-05/ferry-timetable/index.html")).toContain(line);
    expect(await page("2026-10-05/index.html")).not.toContain('<p class="line">');
  });

  test("every file of the station's is on the site and in its checksum list", async () => {
    const [listed, there] = [await listedIn(site), await readTree(site)];
    for (const path of OWN_FILES) {
      expect(there.has(path), path).toBe(true);
      expect(listed, path).toContain(path);
    }
    expect(await page("counts.json")).toBe('{"evenings":1}\n');
    const sitemap = await page("sitemap-site.xml");
    expect(sitemap).toContain("<loc>https://tide.example.org/evenings/2026-10-05/</loc>");
  });

  test("every page is valid HTML", async () => {
    const validator = new HtmlValidate({
      extends: ["html-validate:recommended", "html-validate:document"],
      rules: {
        "void-style": "off", // the serialiser closes void elements with a slash, which HTML allows
        "long-title": "off", // a headline may be longer than a search engine shows
        "valid-id": ["error", { relaxed: true }], // `t=221` is a paragraph's id
        "require-sri": ["error", { target: "crossorigin" }],
        "form-dup-name": ["error", { shared: ["radio", "checkbox"] }],
      },
    });
    const faults: string[] = [];
    for (const [path, bytes] of await readTree(site)) {
      if (!path.endsWith(".html")) continue;
      const { results } = await validator.validateString(bytes.toString(), path);
      for (const { messages } of results)
        faults.push(...messages.map(({ ruleId, message }) => `${path}: ${ruleId}: ${message}`));
    }
    expect(faults).toEqual([]);
  });
});

test("the same folder elsewhere, with other file times and in another time zone, gives the same bytes", async () => {
  const own = await copyStation(join(top, "elsewhere/else where"));
  await age(own, new Date("2001-02-03T04:05:06Z"));
  const out = join(top, "elsewhere/site");
  await promisify(execFile)(
    process.execPath,
    [AFTERAIR, "build", "--content", join(SMALL, "content"), "--out", out, "--own", own, "--on", "2026-12-01"],
    { env: { ...process.env, TZ: "Pacific/Kiritimati" }, cwd: top },
  );
  const [there, here] = [await digestsOf(out), await digestsOf(site)];
  expect(Object.keys(there)).toEqual(Object.keys(here));
  expect(there).toEqual(here);
});

test("what is taken out of the folder is gone from the site and from its list, and the site is that of a first build", async () => {
  const own = await copyStation(join(top, "taken"));
  const out = join(top, "taken/site");
  await buildWith({ out, own });
  await rm(join(own, "files"), { recursive: true });
  await rm(join(own, "everything.njk"));
  await edit(join(own, "eleventy.config.mjs"), "  config.addPlugin(countsOf);\n", "");
  const { built } = await buildWith({ out, own });
  expect(built.findings.filter(blocks)).toEqual([]);
  const [listed, there] = [await listedIn(out), await readTree(out)];
  for (const path of ["files/note.txt", "everything/index.html", "counts.json"]) {
    expect(there.has(path), path).toBe(false);
    expect(listed, path).not.toContain(path);
  }
  expect(listed).toContain("newest/index.html");
  const anew = join(top, "taken/anew/site");
  await buildWith({ out: anew, own });
  expect(await digestsOf(out)).toEqual(await digestsOf(anew));
  // Without a station's folder, it is the site that it was before there was one.
  await buildWith({ out });
  const plain = join(top, "taken/plain/site");
  await buildWith({ out: plain });
  expect(await digestsOf(out)).toEqual(await digestsOf(plain));
});

test("below a base path, links have it once, whatever a plugin brings along", async () => {
  const content = join(top, "base/content");
  await cp(join(SMALL, "content"), content, { recursive: true });
  await edit(join(content, "programme.md"), "https://tide.example.org/\n", "https://tide.example.org/tide/\n");
  const out = join(top, "base/site");
  await buildWith({ content, out, own: join(STATION, "own") });
  for (const [path, bytes] of await readTree(out)) {
    if (!path.endsWith(".html")) continue;
    const links = [...bytes.toString().matchAll(/\s(?:href|src)="(\/[^"]*)"/g)].map(([, link = ""]) => link);
    expect(links.length, path).toBeGreaterThan(0);
    expect(
      links.filter((link) => !/^\/tide\/(?!tide)/.test(link)),
      path,
    ).toEqual([]);
  }
  const evening = await readFile(join(out, "evenings/2026-10-05/index.html"), "utf8");
  expect(evening).toContain('<a href="/tide/2026-10-05/">Fewer ferries</a>');
});
