import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { create } from "xmlbuilder2";
import { feedGuid } from "../../src/feeds/episodes.ts";
import { sitemap } from "../../src/feeds/sitemap.ts";
import { xmlDocument } from "../../src/feeds/xml.ts";
import { parseVtt, validateVtt } from "../../src/webvtt/index.ts";
import { build, DEMO, newFolder, readTree, removeFolder, textOf } from "../support/site.ts";

let folder: string;
let site: ReadonlyMap<string, Buffer>;
beforeAll(async () => {
  folder = await newFolder();
  await build(DEMO, join(folder, "site"));
  site = await readTree(join(folder, "site"));
}, 60_000);
afterAll(() => removeFolder(folder));

const text = (path: string): string => textOf(site.get(path) ?? Buffer.from(""));

/** An element of a feed, as far as these tests look. */
interface Element {
  readonly [name: string]: string | Element | readonly (string | Element)[] | undefined;
}
const parsed = (path: string): Element => create(text(path)).end({ format: "object" }) as unknown as Element;
const list = (value: Element[string]): readonly Element[] =>
  (value === undefined ? [] : Array.isArray(value) ? value : [value]) as readonly Element[];
const inside = (value: Element[string]): Element => list(value)[0] ?? {};

// RFC 3339 §5.6 with capital T, and Z or an offset: what RFC 4287 §3.3 asks for.
const DATE = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?(?:Z|[+-]\d\d:\d\d)$/;

describe("the feed of corrections is Atom (RFC 4287)", () => {
  const feed = () => inside(parsed("corrections/feed.xml").feed);

  test("§4.1.1: one id, title and updated; a link to itself; an author", () => {
    expect(feed()).toMatchObject({
      "@xmlns": "http://www.w3.org/2005/Atom",
      id: "https://tide.example.org/corrections/",
      title: expect.any(String),
      updated: expect.stringMatching(DATE),
      author: { name: expect.any(String) },
    });
    expect(list(feed().link)).toContainEqual(
      expect.objectContaining({ "@rel": "self", "@href": "https://tide.example.org/corrections/feed.xml" }),
    );
  });

  test("§4.1.2: each entry has one id, title and updated, content and an alternate link; no id twice (§4.2.6)", () => {
    const entries = list(feed().entry);
    expect(entries).toHaveLength(15);
    for (const entry of entries) {
      expect(entry).toMatchObject({
        id: expect.stringMatching(/^https:\/\/tide\.example\.org\/corrections\/2026-10-\d\d-\d\/$/),
        title: expect.any(String),
        updated: expect.stringMatching(DATE),
        published: expect.stringMatching(DATE),
        content: expect.objectContaining({ "@type": "html" }),
      });
      expect(list(entry.link).filter((link) => link["@rel"] === "alternate")).toHaveLength(1);
      expect(Date.parse(String(entry.updated))).toBeGreaterThanOrEqual(Date.parse(String(entry.published)));
    }
    expect(new Set(entries.map(({ id }) => id)).size).toBe(entries.length);
  });

  test("§4.2.15: the feed was updated when its newest entry was", () => {
    const newest = Math.max(...list(feed().entry).map(({ updated }) => Date.parse(String(updated))));
    expect(Date.parse(String(feed().updated))).toBe(newest);
  });

  test("links in a note stand on their own", () => {
    expect(text("corrections/feed.xml")).toContain('href="https://tide.example.org/2026-10-05/ferry-timetable/"');
  });
});

describe("the feed of episodes is RSS 2.0 with the open podcast namespace", () => {
  const channel = () => inside(inside(parsed("feed.xml").rss).channel);

  test("required elements of the channel, and of each item (RSS 2.0)", () => {
    expect(channel()).toMatchObject({
      title: "The Evening Tide",
      link: "https://tide.example.org/",
      description: expect.any(String),
    });
    const items = list(channel().item);
    expect(items.map(({ link }) => link)).toEqual(
      ["2026-10-07", "2026-10-06", "2026-10-05"].map((id) => `https://tide.example.org/${id}/`),
    );
    for (const item of items) {
      expect(item).toMatchObject({ title: expect.any(String), description: expect.any(String) });
      expect(inside(item.guid)).toMatchObject({ "@isPermaLink": "true", "#": item.link });
    }
  });

  test("dates are RFC 822's with four digits of year, in English, and the weekday fits", () => {
    for (const { pubDate } of list(channel().item)) {
      expect(pubDate).toMatch(
        /^(Mon|Tue|Wed|Thu|Fri|Sat|Sun), \d{2} (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec) \d{4} \d{2}:\d{2}:\d{2} (GMT|[+-]\d{4})$/,
      );
      const weekday = new Date(String(pubDate)).toLocaleDateString("en-GB", {
        weekday: "short",
        timeZone: "Europe/London",
      });
      expect(String(pubDate).slice(0, 3)).toBe(weekday);
    }
  });

  test("an enclosure has an address, a length in bytes and a type; a recording that still holds something withheld has none", () => {
    const [wednesday, tuesday, monday] = list(channel().item);
    expect(inside(monday?.enclosure)).toMatchObject({
      "@url": "https://tide.example.org/2026-10-05/web.mp3",
      "@length": String(site.get("2026-10-05/web.mp3")?.length),
      "@type": "audio/mpeg",
    });
    expect(wednesday?.enclosure).toBeUndefined();
    // What was withdrawn on Tuesday is silent in the recording: that one can be given.
    expect(inside(tuesday?.enclosure)).toMatchObject({
      "@url": "https://tide.example.org/2026-10-06/web.2.mp3",
      "@length": String(site.get("2026-10-06/web.2.mp3")?.length),
    });
  });

  // The example of the open podcast namespace's text on guid, computed for news.example.org/feed.xml with node's crypto;
  // the other two are the text's own.
  test.each([
    ["https://news.example.org/feed.xml", "b47d6bcf-dec6-5b1f-b479-2664dbd6e89d"],
    ["http://news.example.org/feed.xml/", "b47d6bcf-dec6-5b1f-b479-2664dbd6e89d"],
  ])("the id of the feed %s is %s", (url, guid) => expect(feedGuid(url)).toBe(guid));

  test("its id is a UUID of version 5 (RFC 9562 §5.5)", () => {
    expect(channel()["podcast:guid"]).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  });
});

describe("captions and chapters", () => {
  test.each(["2026-10-05", "2026-10-06", "2026-10-07"])("%s: conforming WebVTT", (id) => {
    for (const [name, kind] of [
      ["transcript", "captions"],
      ["chapters", "chapters"],
    ] as const) {
      const file = parseVtt(text(`${id}/${name}.vtt`));
      expect(file.cues.length).toBeGreaterThan(5);
      expect(validateVtt(file, kind, `${name}.vtt`)).toEqual([]);
    }
  });

  // Open podcast namespace, jsonChapters.md, version 1.2: version and chapters required, startTime a rising number.
  test("chapters as JSON: rising start times, and what may not be played is not listed", () => {
    const { version, chapters } = JSON.parse(text("2026-10-07/chapters.json")) as {
      version: string;
      chapters: { startTime: number; title: string; toc?: boolean }[];
    };
    expect(version).toBe("1.2.0");
    const starts = chapters.map(({ startTime }) => startTime);
    expect(starts).toEqual([...starts].sort((a, b) => a - b));
    expect(chapters.filter(({ toc }) => toc === false).map(({ title }) => title)).toEqual([
      "A deal on the Skerrow Bank",
    ]);
  });
});

describe("the sitemap (Sitemap protocol 0.9)", () => {
  test("lists of addresses below the site, each once, nothing withdrawn; the index names the lists", () => {
    const lists = list(inside(parsed("sitemap.xml").sitemapindex).sitemap).map(({ loc }) => String(loc));
    expect(lists.map((loc) => site.has(loc.replace("https://tide.example.org/", "")))).not.toContain(false);
    const urls = lists.flatMap((loc) => list(inside(parsed(loc.replace("https://tide.example.org/", "")).urlset).url));
    const locs = urls.map(({ loc }) => String(loc));
    expect(new Set(locs).size).toBe(locs.length);
    for (const loc of locs)
      expect(site.has(`${loc.replace("https://tide.example.org/", "")}index.html`), loc).toBe(true);
    expect(locs).toContain("https://tide.example.org/2026-10-05/ferry-timetable/");
    expect(locs).not.toContain("https://tide.example.org/2026-10-06/sport/");
    for (const { lastmod } of urls) if (lastmod !== undefined) expect(lastmod).toMatch(DATE);
  });

  test("put together by hand, it is what the library makes of the same addresses, whatever stands in them", () => {
    const entries = [
      { url: "https://tide.example.org/b/?a=1&b=<2>", changed: "2026-10-05T18:30:00+01:00" },
      { url: "https://tide.example.org/a\u0001\uFFFE\u{1F41A}\uD800/", changed: null },
      { url: "https://tide.example.org/ä]]>/", changed: null },
    ];
    const byLibrary = xmlDocument((document) => {
      const root = document.ele("http://www.sitemaps.org/schemas/sitemap/0.9", "urlset");
      for (const n of [1, 0, 2]) {
        const element = root.ele("url");
        element.ele("loc").txt(entries[n]?.url ?? "");
        const changed = entries[n]?.changed;
        if (changed) element.ele("lastmod").txt(changed);
      }
    });
    expect(sitemap(entries)).toBe(byLibrary);
  });
});
