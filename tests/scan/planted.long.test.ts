import { mkdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { afterAll, beforeEach, expect, test, vi } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import type { IndexPage } from "../../src/search/segment.ts";
import type { WordsFile } from "../../src/search/words.ts";
import { digestOf, newFolder, readTree, removeFolder } from "../support/site.ts";
import { type Evening, newEvening } from "./evening.ts";

vi.setConfig({ testTimeout: 60_000 });

/** What of the program is broken, and the words that it lets out. */
const fault = vi.hoisted(() => ({ is: "none", words: "" }));

vi.mock("../../src/record/held.ts", async (original) => {
  const sound = await original<typeof import("../../src/record/held.ts")>();
  const heldOn: typeof sound.heldOn = (...given) =>
    fault.is === "what is withheld" ? { cues: new Set(), sound: [] } : sound.heldOn(...given);
  return { ...sound, heldOn };
});
vi.mock("../../src/record/withdraw.ts", async (original) => {
  const sound = await original<typeof import("../../src/record/withdraw.ts")>();
  const emptied: typeof sound.emptied = (segment, withdrawn) =>
    fault.is === "a withdrawn title"
      ? { ...sound.emptied(segment, withdrawn), title: segment.title }
      : sound.emptied(segment, withdrawn);
  return { ...sound, emptied };
});
vi.mock("../../src/feeds/data.ts", async (original) => {
  const sound = await original<typeof import("../../src/feeds/data.ts")>();
  const episodeJson: typeof sound.episodeJson = (...given) =>
    fault.is === "a data file"
      ? JSON.stringify({ ...JSON.parse(sound.episodeJson(...given)), more: fault.words })
      : sound.episodeJson(...given);
  return { ...sound, episodeJson };
});
vi.mock("../../src/feeds/episodes.ts", async (original) => {
  const sound = await original<typeof import("../../src/feeds/episodes.ts")>();
  const episodesFeed: typeof sound.episodesFeed = (...given) =>
    fault.is === "a feed"
      ? sound
          .episodesFeed(...given)
          .replace("</channel>", `<x>&lt;p&gt;${fault.words.replace(" ", "&amp;#32;")}&lt;/p&gt;</x></channel>`)
      : sound.episodesFeed(...given);
  return { ...sound, episodesFeed };
});
vi.mock("../../src/search/indexPage.tsx", async (original) => {
  const sound = await original<typeof import("../../src/search/indexPage.tsx")>();
  const indexPages: typeof sound.indexPages = function* (...given) {
    for (const page of sound.indexPages(...given))
      yield fault.is === "the search"
        ? { ...page, html: page.html.replace("</main>", ` ${fault.words}</main>`) }
        : page;
  };
  return { ...sound, indexPages };
});
vi.mock("../../src/write/pagefind.ts", async (original) => {
  const sound = await original<typeof import("../../src/write/pagefind.ts")>();
  const writeIndex: typeof sound.writeIndex = async (pages, ...given) => {
    const all: IndexPage[] = [];
    for await (const page of pages)
      all.push(
        fault.is === "the index" ? { ...page, html: page.html.replace("</main>", ` ${fault.words}</main>`) } : page,
      );
    return sound.writeIndex(all, ...given);
  };
  return { ...sound, writeIndex };
});
vi.mock("../../src/search/words.ts", async (original) => {
  const sound = await original<typeof import("../../src/search/words.ts")>();
  const wordsFile: typeof sound.wordsFile = (...given) =>
    fault.is === "the words to suggest"
      ? JSON.stringify({ names: [fault.words], words: [] })
      : sound.wordsFile(...given);
  return { ...sound, wordsFile };
});
vi.mock("../../src/pages/home.ts", async (original) => {
  const sound = await original<typeof import("../../src/pages/home.ts")>();
  const textPagesOf: typeof sound.textPagesOf = (...given) =>
    fault.is === "a page of all years"
      ? sound
          .textPagesOf(...given)
          .map((page) => (page.kind === "text" ? { ...page, page: { ...page.page, title: fault.words } } : page))
      : sound.textPagesOf(...given);
  return { ...sound, textPagesOf };
});
vi.mock("../../src/pages/walkPages.ts", async (original) => {
  const sound = await original<typeof import("../../src/pages/walkPages.ts")>();
  const namePage: typeof sound.namePage = (own, ...given) =>
    sound.namePage(fault.is === "a name's page" ? { ...own, name: fault.words } : own, ...given);
  const monthPages: typeof sound.monthPages = (months, episodes, ...given) => {
    const titled = episodes.map((episode) => ({ ...episode, title: fault.words }));
    return sound.monthPages(months, fault.is === "a month" ? titled : episodes, ...given);
  };
  return { ...sound, namePage, monthPages };
});

let top = "";
let own: Evening;
beforeEach(async () => {
  fault.is = "none";
  if (top !== "") await removeFolder(top);
  top = await newFolder();
  await mkdir(join(top, "out"));
  // The second item is withheld, the others are not.
  own = await newEvening(join(top, "content"), false, [3, 0, 3, 3]);
});
afterAll(() => removeFolder(top));

const build = (on = "2026-10-12") =>
  buildSite({
    content: own.content,
    out: join(top, "out/site"),
    on,
    drafts: false,
    now: new Date("2026-12-01T12:00:00Z"),
  });
const leaksIn = ({ findings }: Awaited<ReturnType<typeof build>>): readonly string[] =>
  findings.filter(({ rule }) => rule === "withheld-in-site").map(({ says }) => says);
const siteNow = async () =>
  JSON.stringify([...(await readTree(join(top, "out/site")))].map(([path, bytes]) => [path, digestOf(bytes)]));
const HELD_LINE = 5;

test.each([
  ["what is withheld", "2026-10-05/transcript.vtt"],
  ["a data file", "2026-10-05/episode.json"],
  ["a feed", "feed.xml"],
  ["the search", "search/index/2026-10/fragment/"],
  ["the index", "search/index/2026-10/fragment/"],
  ["the words to suggest", "search/index/words.json"],
  ["a page of all years", "accessibility/index.html"],
  ["a name's page", "speakers/ilse-marrane/index.html"],
  ["a month", "2026/10/index.html"],
])(
  "%s lets withheld words out: the build stops, names the file and the words, and the site stays",
  async (what, file) => {
    expect(leaksIn(await build())).toEqual([]);
    const before = await siteNow();
    await rm(join(top, "out/.site.cache"), { recursive: true });
    Object.assign(fault, { is: what, words: own.said(HELD_LINE) });
    const built = await build();
    expect(built.site).toBeNull();
    const run = own.said(HELD_LINE).split(" ").slice(0, 3).join(" ");
    const leaks = leaksIn(built).filter((says) => says.includes(file));
    expect(leaks).not.toEqual([]);
    if (what !== "what is withheld") expect(leaks[0]).toContain(run);
    expect(await siteNow()).toBe(before);
    // Mended, it builds.
    fault.is = "none";
    expect((await build()).site).not.toBeNull();
  },
);

test("a withdrawn title that is still shown is found", async () => {
  expect(await own.happen({ what: "withdraw", item: 2, line: 0 })).toBe(true);
  fault.is = "a withdrawn title";
  const leaks = leaksIn(await build());
  expect(leaks.some((says) => says.includes("2026-10-05/index.html"))).toBe(true);
});

test("what is withdrawn is looked for in pages of all years that stay as they are", async () => {
  Object.assign(fault, { is: "a page of all years", words: own.said(9) });
  expect(leaksIn(await build())).toEqual([]);
  fault.is = "none";
  expect(await own.happen({ what: "withdraw", item: 2, line: 0 })).toBe(true);
  const built = await build();
  expect(leaksIn(built)).toContainEqual(expect.stringContaining("accessibility/index.html"));
  expect(built.site).toBeNull();
});

test("what lapses is found on the day before, and not from that day on", async () => {
  await own.happen({ what: "rights", item: 2, line: 9 });
  Object.assign(fault, { is: "a feed", words: own.said(9) });
  expect(leaksIn(await build("2026-10-13"))).toHaveLength(1);
  expect(leaksIn(await build("2026-10-14"))).toEqual([]);
});

/** All words of the index's records and, where words are suggested, of these. */
async function searched(): Promise<{ readonly index: string; readonly suggested: string }> {
  const files = [...(await readTree(join(top, "out/site")))];
  const records = files.filter(([path]) => path.endsWith(".pf_fragment"));
  const [, suggested] = files.find(([path]) => path === "search/index/words.json") ?? [];
  return {
    index: records.map(([, bytes]) => gunzipSync(bytes).toString()).join("\n"),
    suggested: String(suggested),
  };
}
const wordsIn = (suggested: string): readonly string[] => {
  const { names, words } = JSON.parse(suggested) as WordsFile;
  return [...words, ...names.flatMap((name) => name.split(" "))].map((word) => word.toLowerCase());
};

test("no word is suggested that only stands in what is withheld, and none that a correction or a withdrawal took away", async () => {
  await build();
  const before = await searched();
  const [held, said] = [own.said(HELD_LINE).split(" "), own.said(9).split(" ")];
  expect(wordsIn(before.suggested)).toEqual(expect.arrayContaining(said));
  for (const word of held) expect(before.suggested).not.toContain(word);
  expect(await own.happen({ what: "transcript", item: 2, line: 9 })).toBe(true);
  expect(await own.happen({ what: "withdraw", item: 3, line: 0 })).toBe(true);
  await build(own.dayAt(9));
  const after = await searched();
  expect(wordsIn(after.suggested).length).toBeGreaterThan(0);
  const index = after.index.toLowerCase();
  expect(wordsIn(after.suggested).filter((word) => !index.includes(word))).toEqual([]);
  for (const word of own.said(13).split(" ")) expect(after.suggested).not.toContain(word);
});
