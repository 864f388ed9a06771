import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { BROWSER, UNLESS_BROWSER, visit } from "./chromium.ts";
import { CONTENT, openDemo } from "./demo.ts";
import { visiting } from "./visiting.ts";

describe.skipIf(BROWSER === null)(`search${UNLESS_BROWSER}`, () => {
  const here = visiting();

  /** The search page when it has said what it found. */
  const search = async (query: string): Promise<Page> => {
    await here.seen.page.goto(`${here.demo.url}search/${query}`);
    await answered(here.seen.page);
    return here.seen.page;
  };
  const answered = (page: Page) =>
    page.waitForFunction(() =>
      /\b(?:segment|edition|page)s?\b/i.test(document.querySelector(".found")?.textContent ?? ""),
    );
  const found = (page: Page) => page.textContent("p.found");
  const titles = (page: Page) => page.locator("li.result h3").allTextContents();

  test("a word leads to the paragraph where it was said, and the recording stands there", async () => {
    const page = await search("?q=sailings");
    expect(await found(page)).toMatch(/^\d+ segments have sailings in them\.$/);
    const result = page.locator("li.result", { hasText: "Nine sailings a week from Sollen" });
    expect(await result.locator("mark").allTextContents()).toContain("sailings");
    const said = (await result.locator(".r-words").textContent()) ?? "";
    const link = await result.locator("h3 a").getAttribute("href");
    expect(link).toMatch(/^\/2026-10-05\/ferry-timetable\/#t=\d+/);
    expect(await result.locator("a.stamp").getAttribute("href")).toBe(link);

    await result.locator("h3 a").click();
    await page.waitForFunction(() => (document.querySelector("video")?.readyState ?? 0) >= 1);
    const place = await page.waitForFunction(() => {
      const paragraph = document.getElementById(location.hash.slice(1));
      const box = paragraph?.getBoundingClientRect();
      const at = Number(paragraph?.querySelector<HTMLElement>(".cue")?.dataset.in);
      const near = Math.abs((document.querySelector("video")?.currentTime ?? -1) - at) < 0.01;
      const inView = box !== undefined && box.top >= 0 && box.top < innerHeight;
      return near && inView ? { words: paragraph?.querySelector(".cue")?.textContent ?? "" } : null;
    });
    expect(said).toContain((await place.jsonValue())?.words);
    expect(here.seen.problems).toEqual([]);
  });

  test("a result says when, what kind, who, at what time, where in the programme, and that it was corrected", async () => {
    const page = await search("?q=sailings");
    const result = page.locator("li.result", { hasText: "Councillors put off a vote" });
    expect(await result.locator(".ed-date time").getAttribute("datetime")).toBe("2026-10-06");
    expect(await result.locator(".r-meta").textContent()).toBe("Two-way");
    expect(await result.locator(".r-words b").textContent()).toBe("Tamsin Hathersay");
    expect(await result.locator(".r-words time").textContent()).toMatch(/^\d:\d\d$/);
    expect(await result.locator(".fine-strip .needle").count()).toBe(1);
    expect(await result.locator("a.flag").textContent()).toMatch(/^Corrected/);
    const note = await result.locator("a.flag").getAttribute("href");
    await page.goto(new URL(note ?? "", here.demo.url).href);
    expect(await page.locator(`[id="${note?.split("#")[1]}"]`).count()).toBe(1);
  });

  test("a phrase in quotes is found as it was said, in whatever quotes", async () => {
    const loose = await titles(await search("?q=sailings+week"));
    const exact = await titles(await search(`?q=${encodeURIComponent('"sailings a week"')}`));
    expect(exact.length).toBeGreaterThan(0);
    expect(exact.length).toBeLessThanOrEqual(loose.length);
    expect(await titles(await search(`?q=${encodeURIComponent("“sailings a week”")}`))).toEqual(exact);
    expect(await found(await search(`?q=${encodeURIComponent('"week a sailings"')}`))).toMatch(/^No segment/);
  });

  test("a phrase and a word must both be there", async () => {
    const page = await search(`?q=${encodeURIComponent('"sailings a week" light')}`);
    const both = await titles(page);
    const light = await titles(await search("?q=light"));
    expect(both.length).toBeGreaterThan(0);
    expect(light).toEqual(expect.arrayContaining(both));
  });

  test("nothing found says what to try", async () => {
    const page = await search("?q=qwertyuiop");
    expect(await found(page)).toBe("No segment has qwertyuiop in it. Try fewer words, or another spelling.");
    expect(await page.locator("li.result").count()).toBe(0);
    expect(await page.isVisible(".results-head")).toBe(false);
    expect(await page.isVisible("button[data-more]")).toBe(false);
  });

  test("what is only near is not said to have the word in it", async () => {
    const page = await search("?q=lightness");
    expect(await found(page)).toMatch(
      /^No segment has lightness in it\. \d+ segments?.* ha(?:s|ve) something near it\.$/,
    );
    expect(await page.locator("li.result").count()).toBeGreaterThan(0);
  });

  test("what some have, and others only nearly, is told apart", async () => {
    const page = await search("?q=lighthouse+steps+winter");
    expect(await found(page)).toMatch(
      /^1 segment has lighthouse steps winter in it; 1 more edition has something near it\.$/,
    );
  });

  test("a number is found however it was said, and a word however it is spelled", async () => {
    const figures = await titles(await search("?q=16+sailings"));
    expect(await found(here.seen.page)).toMatch(/ have 16 sailings in them\.$/);
    expect(await titles(await search("?q=sixteen+sailings"))).toEqual(figures);
    const american = await titles(await search("?q=harbor"));
    expect(american.length).toBeGreaterThan(1);
    expect(await titles(await search("?q=harbour"))).toEqual(american);
  });

  test("a day leads to its edition, then to what was said of that day", async () => {
    const page = await search("?q=6th+of+October+2026");
    expect(await found(page)).toMatch(/segments and 1 edition have 6th of October 2026 in them\.$/);
    const first = page.locator("li.result").first();
    expect(await first.locator("h3 a").getAttribute("href")).toBe("/2026-10-06/");
    expect(await first.locator(".r-meta").textContent()).toBe("Edition");
    expect(await titles(await search("?q=2026-10-06"))).toEqual(await titles(page));
  });

  test("a page written by hand and a correction's note are found", async () => {
    const page = await search("?q=write+to+the+editor");
    const written = page.locator("li.result", { hasText: "Write to us" });
    expect(await written.locator("h3 a").getAttribute("href")).toBe("/contact/");
    expect(await written.locator(".r-meta").textContent()).toBe("Page");
    const noted = await search("?q=wrong+wind+speed+25+knots");
    expect(await noted.locator("li.result").first().locator("a.flag").count()).toBe(1);
  });

  test("a misspelt name: nobody said it, what was meant is a link, and that is what is shown", async () => {
    const requests = () => here.seen.requests.filter((address) => address.endsWith("words.json"));
    await search("?q=Tarrick");
    expect(requests()).toEqual([]);
    const page = await search("?q=Osmond+Tarick");
    expect(requests()).toHaveLength(1);
    expect(await found(page)).toMatch(
      /^No segment has Osmond Tarick in it\. Did you mean Osmund Tarrick\? \d+ segments? ha(?:s|ve) Osmund Tarrick in (?:it|them)/,
    );
    const shown = await titles(page);
    await page.click("p.found a");
    await page.waitForFunction(() => !document.querySelector(".found")?.textContent?.includes("mean"));
    expect(new URL(page.url()).searchParams.get("q")).toBe("Osmund Tarrick");
    await answered(page);
    expect(await titles(page)).toEqual(shown);
  });

  test("what suggests is fetched only where a word stands nowhere; without it, nothing is suggested and the rest works", async () => {
    const scripts = () => here.seen.requests.filter((address) => address.includes("/assets/suggest-"));
    await search("?q=Tarrick");
    expect(scripts()).toEqual([]);
    await here.seen.page.route("**/assets/suggest-*.js", (route) => route.abort());
    const page = await search("?q=Osmond+sailings");
    expect(scripts()).toHaveLength(1);
    expect(await found(page)).toMatch(/^No segment has Osmond sailings in it\. \d+ segments have something near it\.$/);
    expect(await found(await search("?q=sailings"))).toMatch(/^\d+ segments have sailings in them\.$/);
    expect(here.seen.problems.filter((problem) => problem.startsWith("uncaught"))).toEqual([]);
    await page.unroute("**/assets/suggest-*.js");
    expect(await found(await search("?q=Osmond+Tarick"))).toContain("Did you mean Osmund Tarrick?");
    here.seen.problems.length = 0; // of the file that was kept away
  });

  test("a misspelling that is like nothing of the name, but that the register gives", async () => {
    const page = await search("?q=Ozzie+Derrick");
    expect(await found(page)).toMatch(
      /^No segment has Ozzie Derrick in it\. Did you mean Osmund Tarrick\? \d+ segments? ha(?:s|ve)/,
    );
  });

  test("what narrows makes no word misspelt: the same words are looked for, and not found there", async () => {
    const page = await search("?q=lighthouse&kind=sport");
    expect(await found(page)).toBe(
      "No segment has lighthouse in it, narrowed to sport. Search everything, or try fewer words, or another spelling.",
    );
  });

  test("no word that is withheld is found or suggested", async () => {
    const page = await search("?q=kelpp");
    expect(await found(page)).toBe("No segment has kelpp in it. Try fewer words, or another spelling.");
  });

  test("what narrows is in the address, can be taken off, and is remembered by the history", async () => {
    const page = await search("?q=evening");
    const all = await titles(page);
    await page.check('input[name=kind][value="weather"]');
    await page.waitForFunction((before) => document.querySelectorAll("li.result").length < before, all.length);
    expect(page.url()).toContain("kind=weather");
    const narrowed = await titles(page);
    expect(narrowed.length).toBeGreaterThan(0);
    expect(await page.locator("li.result .r-meta").allTextContents()).toEqual(narrowed.map(() => "Weather"));
    await page.goBack();
    await page.waitForFunction((before) => document.querySelectorAll("li.result").length === before, all.length);
    expect(await page.isChecked('input[name=kind][value="weather"]')).toBe(false);
    expect(await titles(page)).toEqual(all);
  });

  test("by speaker alone: what that speaker says first", async () => {
    const page = await search("?speaker=Ilse+Marrane");
    expect(await page.locator("select[name=speaker]").inputValue()).toBe("Ilse Marrane");
    const speakers = await page.locator("li.result .r-words b").allTextContents();
    expect(speakers.length).toBeGreaterThan(1);
    expect(new Set(speakers)).toEqual(new Set(["Ilse Marrane"]));
  });

  test("by topic, by year, by place, and corrected only", async () => {
    expect((await titles(await search("?topic=lighthouses"))).length).toBeGreaterThan(0);
    const page = await search("?q=sailings&year=2026");
    expect(await page.isChecked("input[name=year][value='2026']")).toBe(true);
    await expect
      .poll(() => page.locator("label:has(input[value='2026']) .k-count").textContent())
      .toBe(`${(await titles(page)).length} segments`);
    const there = await search("?place=Sollen");
    expect(await there.locator("select[name=place]").inputValue()).toBe("Sollen");
    expect(await found(there)).toMatch(/^\d+ segments?, narrowed to Sollen\.$/);
    // Without words nothing is closer than anything else.
    expect(await there.textContent(".results h2")).toBe("Newest first");
    expect(await there.isVisible("a[data-order]")).toBe(false);
    const corrected = await search("?q=sailings&corrected=1");
    const results = await corrected.locator("li.result").count();
    expect(results).toBeGreaterThan(0);
    expect(await corrected.locator("li.result a.flag").count()).toBe(results);
  });

  test("nothing within what was chosen: the way out is a link", async () => {
    const page = await search("?q=sailings&kind=weather");
    expect(await found(page)).toMatch(/^No segment has sailings in it, narrowed to weather\./);
    await page.click("p.found a");
    await page.waitForSelector("li.result");
    expect(page.url()).not.toContain("kind=");
  });

  test("the closest match first, or the newest", async () => {
    const page = await search("?q=sailings");
    expect(await page.locator(".results h2").textContent()).toBe("Closest match first");
    expect((await titles(page))[0]).toBe("Nine sailings a week from Sollen");
    await page.click("a[data-order]");
    await page.waitForFunction(() => document.querySelector(".results h2")?.textContent === "Newest first");
    expect(page.url()).toContain("order=newest");
    const days = await page
      .locator("li.result time[datetime^='2026']")
      .evaluateAll((all) => all.map((time) => time.getAttribute("datetime") ?? ""));
    expect(days).toEqual([...days].sort().reverse());
  });

  test("twenty at a time, the focus on the first of the next", async () => {
    const page = await search("?year=2026");
    const all = Number(/\d+/.exec((await found(page)) ?? "")?.[0]);
    expect(all).toBeGreaterThan(20);
    expect(await page.locator("li.result").count()).toBe(20);
    await page.click("button[data-more]");
    await page.waitForFunction((count) => document.querySelectorAll("li.result").length === count, all);
    const focused = await page.evaluate(() => {
      const item = document.activeElement?.closest("li.result");
      return [...document.querySelectorAll("li.result")].indexOf(item as Element);
    });
    expect(focused).toBe(20);
    expect(await page.isVisible("button[data-more]")).toBe(false);
  });

  test("typed and submitted, by the keyboard alone", async () => {
    await here.seen.page.goto(`${here.demo.url}search/`);
    await here.seen.page.focus("input[name=q]");
    await here.seen.page.keyboard.type("lighthouse");
    await here.seen.page.keyboard.press("Enter");
    await answered(here.seen.page);
    expect(here.seen.page.url()).toContain("?q=lighthouse");
    expect(await here.seen.page.evaluate(() => document.activeElement?.getAttribute("name"))).toBe("q");
  });

  test("signs that mean something in markup stay signs", async () => {
    const page = await search(`?q=${encodeURIComponent('<img src=x onerror="alert(1)">')}`);
    expect(await page.locator("p.found img, li.result img").count()).toBe(0);
    expect(await found(page)).toContain("<img src=x");
    expect(here.seen.problems).toEqual([]);
  });

  test("an index that can't be loaded is said, and tried again", async () => {
    await here.seen.page.route("**/search/index/**", (route) => route.abort());
    await here.seen.page.goto(`${here.demo.url}search/?q=sailings`);
    await here.seen.page.waitForFunction(() =>
      document.querySelector(".found")?.textContent?.includes("can’t be loaded"),
    );
    expect(here.seen.problems.filter((problem) => problem.startsWith("uncaught"))).toEqual([]);
    await here.seen.page.unroute("**/search/index/**");
    await here.seen.page.click("form#finder button");
    await here.seen.page.waitForSelector("li.result");
  });

  test("nothing is asked of anybody else, and nothing is refused", async () => {
    await search("?q=sailings");
    expect(here.seen.requests.filter((address) => !address.startsWith(here.demo.url))).toEqual([]);
    expect(here.seen.requests.some((address) => address.includes(".pf_fragment"))).toBe(true);
    expect(here.seen.problems).toEqual([]);
  });

  test("under a base path, results, recording and captions are found all the same", async () => {
    const content = await mkdtemp(join(tmpdir(), "content-"));
    await cp(CONTENT, content, { recursive: true });
    const programme = await readFile(join(content, "programme.md"), "utf8");
    await writeFile(
      join(content, "programme.md"),
      programme.replace(/^own: .*\n/m, "").replace(/^url: .*$/m, "url: https://example.org/tide/"),
    );
    const based = await openDemo(content);
    expect(based.url).toMatch(/\/tide\/$/);
    await here.seen.page.goto(`${based.url}search/?q=sailings`);
    await answered(here.seen.page);
    await here.seen.page.click("li.result h3 a");
    await here.seen.page.waitForFunction(() => document.querySelector("track")?.readyState === 2);
    expect(new URL(here.seen.page.url()).pathname).toMatch(/^\/tide\/2026-/);
    expect(here.seen.requests.filter((address) => !address.startsWith(based.url))).toEqual([]);
    expect(here.seen.problems).toEqual([]);
    await based.close();
    await rm(content, { recursive: true, force: true });
  });

  test("without script, the page says so and leads to the archive", async () => {
    const plain = await visit(here.browser, { javaScriptEnabled: false });
    await plain.page.goto(`${here.demo.url}search/?q=sailings`);
    expect(await plain.page.locator("main a[href]").count()).toBeGreaterThan(0);
    expect(plain.problems).toEqual([]);
    await plain.close();
  });
});
