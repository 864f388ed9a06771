import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { buildScripts } from "../../src/write/scripts.ts";
import { BROWSER, launch, UNLESS_BROWSER } from "./chromium.ts";

/** More names than are written in one turn. */
const NAMES = 450;
const FORM = `<form>
  <label><input type=checkbox name=year value=2020> <span class=k-count></span></label>
  <label><input type=checkbox name=kind value=weather> <span class=k-count></span></label>
  <select name=topic>${Array.from({ length: NAMES }, (_, at) => `<option value=t${at}>t${at}`).join("")}</select>
</form>`;

/** What a page makes of a search of so many tiers, of which so many have the word: each answers when `answer` is called. */
const SEARCH = `(tiers, having) => {
  const asked = { clauses: [{ is: "word", text: "w", terms: ["w"] }], whole: null, typed: ["w"] };
  window.questions = 0;
  window.waiting = [];
  const searcher = () => ({
    filters: async () => ({ topic: Object.fromEntries(Array.from({ length: ${NAMES} }, (_, at) => ["t" + at, 1])) }),
    search: (_, { filters }) => {
      window.questions++;
      const answer = { results: filters.topic.any.includes("t0") ? [{ id: "r" }] : [] };
      return window.waits ? new Promise((resolve) => window.waiting.push(() => resolve(answer))) : answer;
    },
  });
  const hits = (any) => ({
    size: 1,
    records: new Map([["r", "r"]]),
    whole: new Map(),
    clauses: [{ byId: new Map(any ? [["r", { score: 1, places: [], fields: [] }]] : []), begins: false }],
  });
  const found = Array.from({ length: tiers }, (_, at) => ({
    tier: "2020-" + at, searcher: searcher(), hits: hits(at < having),
  }));
  return { asked, searched: [{ asked, found }], inTiers: found.slice(0, having).map(({ tier }) => tier), older: null };
}`;
const QUERY = `{ words: "w", years: [], kinds: [], speaker: null, topic: null, place: null, corrected: false, order: "closest" }`;

describe.skipIf(BROWSER === null)(`counts that are given up${UNLESS_BROWSER}`, () => {
  let browser: Browser;
  let page: Page;
  let script = "";
  beforeAll(async () => {
    browser = await launch();
    script = Buffer.from((await buildScripts()).counts).toString("base64");
  });
  afterAll(() => browser?.close());
  beforeEach(async () => {
    page = await browser.newPage();
    await page.setContent(FORM);
    await page.evaluate(`(async () => {
      const { showCounts } = await import("data:text/javascript;base64,${script}");
      const searchOf = ${SEARCH};
      window.round = 1;
      window.count = (tiers, having) =>
        showCounts(document.forms[0], searchOf(tiers, having), ${QUERY}, () => window.round);
    })()`);
  });
  const seen = () =>
    page.evaluate(() => ({
      year: document.querySelector("label:has([name=year]) .k-count")?.textContent,
      topics: [...document.querySelectorAll("option[aria-label]")].map((option) => option.textContent),
      questions: (window as unknown as { questions: number }).questions,
    }));

  test.each([
    ["32 that have a word", 32, 32],
    ["40 of which 32 do", 40, 32],
  ])("counted in tiers: %s", async (_, tiers, having) => {
    await page.evaluate(`window.count(${tiers}, ${having})`);
    const { year, topics, questions } = await seen();
    expect(year).toBe("32 segments");
    expect([topics.length, topics[0], topics[1]]).toEqual([NAMES, "t0 (32)", "t1 (0)"]);
    expect(questions).toBe(32 * NAMES);
  });

  test("where more than 32 tiers have a word, years alone have figures, and nothing is asked", async () => {
    await page.evaluate("window.count(2, 2)");
    expect((await seen()).topics).toHaveLength(NAMES);
    await page.evaluate("window.count(33, 33)");
    expect(await seen()).toEqual({ year: "33 segments", topics: [], questions: 0 });
  });

  test("another search begins: no tier is asked any more, and no figure is shown", async () => {
    await page.evaluate(`window.waits = true; window.done = window.count(3, 3).then(() => true); undefined`);
    await page.waitForFunction("window.waiting.length === 1");
    await page.evaluate(`window.round++; window.waiting[0]()`);
    expect(await page.evaluate("window.done")).toBe(true);
    const { topics, questions } = await seen();
    expect([topics, questions]).toEqual([[], 1]);
  });

  test("another count begins while figures are written: its figures are the last", async () => {
    await page.evaluate("window.count(2, 2)");
    await page.evaluate(`Promise.all([window.count(3, 3), window.count(4, 4)])`);
    expect((await seen()).topics[0]).toBe("t0 (4)");
    await page.evaluate(`(async () => {
      const first = window.count(2, 2);
      while (document.querySelector("option[value=t0]").textContent !== "t0 (2)") await new Promise((resolve) => setTimeout(resolve));
      await Promise.all([first, window.count(33, 33)]);
    })()`);
    expect((await seen()).topics).toEqual([]);
  });
});
