import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { generateArchive } from "../bench/generate.ts";
import { BROWSER, UNLESS_BROWSER } from "./chromium.ts";
import { openDemo } from "./demo.ts";
import { visiting } from "./visiting.ts";

/** Evenings of eight segments: five in the newest year, five in the year before, and four on the edges of older tiers. */
const EVENINGS = [
  [10, "2026-01-05"],
  [2, "2024-05-01"],
  [2, "2024-01-01"],
] as const;
/** Fourteen are called by it; in others somebody says it, as it is spelled on the other side of the sea. */
const HARBOURS = "24 segments have harbour or something near it.";
const TIERS = ["2026-01", "2025-11-to-12", "2024-05-to-06", "2024-03-to-04", "2024-01-to-02", "2023-11-to-12"];

describe.skipIf(BROWSER === null)(`search in tiers${UNLESS_BROWSER}`, () => {
  let content: string;
  beforeAll(async () => {
    content = await mkdtemp(join(tmpdir(), "content-"));
    for (const [count, until] of EVENINGS) await generateArchive(content, count, until);
  });
  afterAll(() => rm(content, { recursive: true, force: true }));
  const here = visiting(() => openDemo(content));
  afterEach(() => expect(here.seen.problems).toEqual([]));

  const search = async (query: string): Promise<Page> => {
    await here.seen.page.goto(`${here.demo.url}search/${query}`);
    await here.seen.page.waitForFunction(() =>
      /\bsegments?\b/i.test(document.querySelector(".found")?.textContent ?? ""),
    );
    return here.seen.page;
  };
  const found = (page: Page) => page.textContent("p.found");
  const ofCorrected = (page: Page) => page.locator("label:has([name=corrected]) .k-count").textContent();
  const ofAllKinds = (page: Page) =>
    page
      .locator("label:has([name=kind]) .k-count")
      .allTextContents()
      .then((counts) => counts.reduce((sum, count) => sum + Number.parseInt(count || "0", 10), 0));
  const ofYear = (page: Page, year: string) => page.locator(`label:has(input[value='${year}']) .k-count`).textContent();
  const days = (page: Page) =>
    page
      .locator("li.result .ed-date time")
      .evaluateAll((all) => all.map((time) => time.getAttribute("datetime") ?? ""));
  const opened = () =>
    TIERS.filter((tier) => here.seen.requests.some((address) => address.includes(`/index/${tier}/`)));

  test("a full page of the newest leaves the older alone, says so, and goes on when asked", async () => {
    const page = await search("?q=the&order=newest");
    expect(await found(page)).toBe(
      "40 segments, 5 editions and 1 page since January 2026 have the or something near it. Older ones are searched when you ask.",
    );
    expect(opened()).toEqual(["2026-01"]);
    await expect.poll(() => ofYear(page, "2026")).toBe("40 segments");
    expect(await ofYear(page, "2025")).toBe("");
    await expect.poll(() => ofAllKinds(page)).toBe(40);
    expect(await ofCorrected(page)).toBe(""); // not none: an older tier has one
    expect(await page.textContent("button[data-more]")).toBe("The next 20 of 46");
    for (const shown of [40, 46]) {
      await page.click("button[data-more]");
      await page.waitForFunction((count) => document.querySelectorAll("li.result").length === count, shown);
    }
    expect(await page.textContent("button[data-more]")).toBe("Search older years");
    await page.click("button[data-more]");
    await page.waitForFunction(() => document.querySelectorAll("li.result").length === 66);
    expect(await found(page)).toBe(
      "80 segments, 10 editions and 1 page since November 2025 have the or something near it. Older ones are searched when you ask.",
    );
    await expect.poll(() => ofYear(page, "2025")).toBe("40 segments");
    await expect.poll(() => ofAllKinds(page)).toBe(80);
    expect(await ofCorrected(page)).toBe("1 segment");
    const all = await days(page);
    expect(all).toEqual([...all].sort().reverse());
  });

  test("what was meant is said again where older years are searched too", async () => {
    const page = await search("?q=goverment&order=newest");
    expect(await found(page)).toMatch(
      /^No segment since January 2026 has goverment in it\. Did you mean government\? /,
    );
    const more = page.locator("button[data-more]");
    while ((await more.textContent()) !== "Search older years") {
      const shown = await page.locator("li.result").count();
      await more.click();
      await page.waitForFunction((before) => document.querySelectorAll("li.result").length > before, shown);
    }
    await more.click();
    await page.waitForFunction(() => !document.querySelector(".found")?.textContent?.includes("January 2026"));
    expect(await found(page)).toMatch(
      /^No segment(?: since \w+ 20\d\d)? has goverment in it\. Did you mean government\? /,
    );
  });

  test("what the newest has too little of is looked for in all", async () => {
    const page = await search("?q=harbour&kind=package&order=newest");
    expect(await found(page)).toMatch(/^14 segments have harbour in them, narrowed to package\.$/);
    const all = await days(page);
    expect(all).toEqual([...all].sort().reverse());
    expect(new Set(all.map((day) => day.slice(0, 4)))).toEqual(new Set(["2023", "2024", "2025", "2026"]));
    expect(opened()).toEqual(TIERS);
  });

  test("a word that the newest lack is looked for in all, however much they have of the others", async () => {
    const page = await search("?q=government+amsterdam");
    expect(opened()).toEqual(TIERS);
    expect((await days(page)).slice(0, 3)).toEqual(expect.arrayContaining(["2023-12-31", "2024-04-30", "2025-12-27"]));
  });

  /** Letters come and go, until `typed` is cleared: an answer comes between them, and no rest. */
  const keepTyping = (page: Page, words: string) =>
    page.locator("input[name=q]").evaluate((field: HTMLInputElement, words) => {
      const typed = setInterval(() => {
        field.value = field.value === words ? words.slice(0, -1) : words;
        field.dispatchEvent(new InputEvent("input", { bubbles: true }));
      }, 500);
      Object.assign(globalThis, { typed });
    }, words);
  /** Ends with all the words. */
  const stopTyping = (page: Page, words: string) =>
    page.locator("input[name=q]").evaluate((field: HTMLInputElement, words) => {
      clearInterval((globalThis as unknown as { typed: number }).typed);
      field.value = words;
      field.dispatchEvent(new InputEvent("input", { bubbles: true }));
    }, words);

  test("while somebody types, a word that stands nowhere opens the newest and two older ones; all of them when typing rests", async () => {
    await here.seen.page.goto(`${here.demo.url}search/`);
    const { page } = here.seen;
    await keepTyping(page, "qwertyuiop");
    await expect
      .poll(() => found(page), { timeout: 20_000 })
      .toMatch(/^No segment since May 2024 has qwertyuiop? in it\. Older ones are searched when you ask\.$/);
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 2500))); // several letters more
    expect(opened()).toEqual(TIERS.slice(0, 3));
    expect(here.seen.requests.filter((address) => /words\.json|suggest-/.test(address))).toEqual([]);
    expect(await page.isVisible("button[data-more]")).toBe(true);
    await stopTyping(page, "qwertyuiop");
    await expect
      .poll(() => found(page), { timeout: 20_000 })
      .toMatch(/^No segment has qwertyuiop in it\. Try fewer words, or another spelling\.$/);
    expect(opened()).toEqual(TIERS);
  });

  test("what is said while somebody types has the words that are there, and since when", async () => {
    await here.seen.page.goto(`${here.demo.url}search/`);
    const { page } = here.seen;
    await keepTyping(page, "government goverment");
    await expect
      .poll(() => found(page), { timeout: 20_000 })
      .toMatch(
        /^\d+ segments since May 2024 have government goverment? or something near it\. Older ones are searched when you ask\.$/,
      );
    await stopTyping(page, "government goverment");
    await expect.poll(() => found(page), { timeout: 20_000 }).toContain("Did you mean government");
  });

  test("Enter searches all at once, however lately a letter was typed", async () => {
    await here.seen.page.goto(`${here.demo.url}search/`);
    const { page } = here.seen;
    await page.locator("input[name=q]").evaluate((field: HTMLInputElement) => {
      const said: string[] = [];
      Object.assign(globalThis, { said });
      const region = document.querySelector(".found") as Element;
      new MutationObserver(() => said.push(region.textContent ?? "")).observe(region, { childList: true });
      field.value = "qwertyuiop";
      field.dispatchEvent(new InputEvent("input", { bubbles: true }));
      field.form?.requestSubmit();
    });
    await expect.poll(() => found(page), { timeout: 20_000 }).toMatch(/^No segment has qwertyuiop in it\. Try/);
    const said = await page.evaluate(() => (globalThis as unknown as { said: string[] }).said);
    expect(said.filter((text) => text.includes("since"))).toEqual([]);
    expect(opened()).toEqual(TIERS);
  });

  test("a year that is asked for is the only one that is opened", async () => {
    const page = await search("?q=the&year=2025");
    expect(await found(page)).toBe("40 segments and 5 editions have the or something near it, narrowed to 2025.");
    expect(opened()).toEqual(["2025-11-to-12"]);
    expect(new Set((await days(page)).map((day) => day.slice(0, 4)))).toEqual(new Set(["2025"]));
  });

  test("the closest match is looked for in all, where the newest have too little of it", async () => {
    const page = await search("?q=harbour&order=closest");
    expect(await found(page)).toBe(HARBOURS);
    expect(opened()).toEqual(TIERS);
  });

  test("all tiers are searched by one module, one worker and one WebAssembly", async () => {
    const page = await search("?q=harbour+council&order=closest");
    expect(opened()).toEqual(TIERS);
    const engine = here.seen.requests.filter((address) => /\/index\/.*\.(?:js|pagefind)$/.test(address));
    const names = new Set(engine.map((address) => address.replace(/.*\/index\//, "").replace(/-[0-9a-f]{10}\./, ".")));
    expect([...names].sort()).toEqual(["pagefind-worker.js", "pagefind.js", "wasm.en-gb.pagefind"]);
    expect(page.workers()).toHaveLength(1);
  });

  test("tiers wait for the WebAssembly, so that they share one memory", async () => {
    let isFirst = true;
    await here.seen.page.route("**/index/**/wasm.*", async (route) => {
      const late = isFirst;
      isFirst = false;
      if (late) await pause(1500);
      await route.continue();
    });
    expect(await found(await search("?q=harbour&order=closest"))).toBe(HARBOURS);
    expect(isFirst).toBe(false);
  });

  test("an older tier that can't be loaded is said, and tried again", async () => {
    await here.seen.page.route("**/index/2024-01-to-02/**", (route) => route.abort());
    await here.seen.page.goto(`${here.demo.url}search/?q=harbour&kind=package`);
    await here.seen.page.waitForFunction(() =>
      document.querySelector(".found")?.textContent?.includes("can’t be loaded"),
    );
    await here.seen.page.unroute("**/index/2024-01-to-02/**");
    await here.seen.page.click("form#finder button");
    await here.seen.page.waitForFunction(() =>
      document.querySelector(".found")?.textContent?.startsWith("14 segments"),
    );
    here.seen.problems.length = 0; // of the tier that was kept away, in Pagefind's worker
  });
});
