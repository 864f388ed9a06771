import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import * as address from "../../src/model/address.ts";
import {
  checksumsPath,
  EPISODE_FILES,
  episodeFilePath,
  episodeOfRecord,
  fileOf,
  isChecksums,
  nameOfChecksums,
  RESERVED_FILES,
  RESERVED_PAGE_SLUGS,
  RESERVED_SEGMENT_SLUGS,
  servedAt,
  sitemapPath,
  yearOfSitemap,
} from "../../src/model/address.ts";

const ROOT = join(import.meta.dirname, "../..");
const OWNER = "src/model/address.ts";
const sources = ["src", "templates"].flatMap((folder) =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((file) => /\.(?:tsx?|mjs)$/.test(file))
    .map((file) => `${folder}/${file}`),
);

/** What only the site has, as it stands in a string, a template or a regular expression. */
const OF_SITE =
  /transcript\.txt|chapters\.vtt|chapters\.json|episode\.json|order\.css|\bindex\.html|\b404\.html|feed\.xml|sitemap[-\w]*\.xml|["'`}](?:assets|record|archive|search|about)\/|\.sha256["'`$]/;
/** What lies by the same name in the content; these folders make the site, and know nothing of the content's files. */
const OF_BOTH = /transcript\.vtt|record\.jsonl|as-published\/|merged\/|["'`}]corrections\//;
const MAKES_THE_SITE = /^(?:templates|src\/(?:pages|feeds|search|browser|desk))\//;

/** The lines of code in which something stands, without comments. */
const lines = (file: string, sought: RegExp): readonly string[] =>
  readFileSync(join(ROOT, file), "utf8")
    .split("\n")
    .filter((line) => sought.test(line.replace(/^\s*(?:\/?\*|\/\/).*$/, "").replace(/\bfrom ".*"|import\(".*"\)/, "")));

describe("a path of the site is spelled in one place", () => {
  const others = sources.filter((file) => file !== OWNER);

  test("the one place has them", () => {
    expect(lines(OWNER, OF_SITE).length).toBeGreaterThan(8);
  });

  test.each(others)("not in %s", (file) => {
    expect(lines(file, OF_SITE)).toEqual([]);
    if (MAKES_THE_SITE.test(file)) expect(lines(file, OF_BOTH)).toEqual([]);
  });
});

test("a page's address and its file lead to each other", () => {
  for (const address of ["", "2026-10-05/", "corrections/2026/on-air/"])
    expect(servedAt(fileOf(address))).toBe(address);
  for (const file of ["404.html", "feed.xml", "2026-10-05/my-index.html"]) expect(servedAt(file)).toBeNull();
});

test("lists of checksums, sitemaps and records are known again by their paths", () => {
  for (const name of ["2026", "site"]) {
    expect(isChecksums(checksumsPath(name))).toBe(true);
    expect(nameOfChecksums(checksumsPath(name).split("/").at(-1) ?? "")).toBe(name);
  }
  expect([isChecksums("2026-10-05/a.sha256"), isChecksums("record/index.html"), nameOfChecksums(".sha256")]).toEqual([
    false,
    false,
    null,
  ]);
  expect([yearOfSitemap(sitemapPath("2026")), yearOfSitemap(sitemapPath("site"))]).toEqual(["2026", null]);
  expect(episodeOfRecord(episodeFilePath("2026-10-05", "record"))).toBe("2026-10-05");
  expect([episodeOfRecord("2026-10-05/merged/record.jsonl"), episodeOfRecord("record.jsonl")]).toEqual([null, null]);
});

describe("what the site writes itself is reserved", () => {
  /** A page that the station writes, and a name that no slug can have. */
  const OTHERS = ["CORRECTIONS_POLICY_PATH", "SITE_MARK"];
  const ours = Object.entries(address).flatMap(([name, value]) =>
    typeof value === "string" && !OTHERS.includes(name) ? [[name, value] as const] : [],
  );

  test.each(ours)("no page written by hand can be called as the first of %s: %s", (_name, path) => {
    expect(RESERVED_PAGE_SLUGS).toContain(path.split(/[/.]/)[0]);
  });

  test("every file of an episode", () => {
    for (const file of Object.values(EPISODE_FILES)) expect(RESERVED_FILES).toContain(file);
    expect(RESERVED_FILES).toEqual(expect.arrayContaining(["episode.md", "index.html"]));
  });

  // The lists as they were when the first episodes were published: a slug that was free may be somebody's address.
  test("every slug that ever was", () => {
    const ofSegments = "captions chapters corrections episode index media merged record transcript";
    const ofPages = "404 about archive assets corrections fonts index pagefind record search speakers topics";
    expect(RESERVED_SEGMENT_SLUGS).toEqual(expect.arrayContaining(ofSegments.split(" ")));
    expect(RESERVED_PAGE_SLUGS).toEqual(expect.arrayContaining(ofPages.split(" ")));
  });

  test("what was added since: the folder of earlier texts, the sheet of the running order, feed, sitemap, places, stories", () => {
    expect(RESERVED_SEGMENT_SLUGS.length).toBe(9 + 2);
    expect(RESERVED_SEGMENT_SLUGS).toEqual(expect.arrayContaining(["as-published", "order"]));
    expect(RESERVED_PAGE_SLUGS.length).toBe(12 + 4);
    expect(RESERVED_PAGE_SLUGS).toEqual(expect.arrayContaining(["feed", "sitemap", "places", "stories"]));
  });
});
