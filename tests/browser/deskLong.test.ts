import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { layLongEpisode, nameOf, STANDS, wordsOf } from "../support/longEpisode.ts";
import { atDesk, expectSound, soon } from "./atDesk.ts";
import { BROWSER, UNLESS_BROWSER } from "./chromium.ts";

/** Four hours of programme, and six minutes. */
const LONG = { id: "2027-03-01", captions: 6000 } as const;
const SHORT = { id: "2027-03-02", captions: 150 } as const;

/** What a page does while something is done: rows that were changed, tasks that were long, frames. */
interface Work {
  readonly rows: number;
  /** Milliseconds of every task of more than 50. */
  readonly tasks: readonly number[];
  /** Milliseconds from each frame to the next. */
  readonly frames: readonly number[];
}

declare global {
  interface Window {
    work: { rows: Set<string>; tasks: number[]; frames: number[]; stop(): void };
  }
}

async function watched(page: Page, act: () => Promise<void>): Promise<Work> {
  await page.evaluate(() => {
    const [rows, tasks, frames] = [new Set<string>(), [] as number[], [] as number[]];
    const list = document.querySelector(".desk-captions") ?? document.body;
    const changes = new MutationObserver((found) => {
      for (const { target } of found) {
        const own = (target instanceof Element ? target : target.parentElement)?.closest<HTMLElement>("[data-row]");
        if (own?.dataset.row !== undefined) rows.add(own.dataset.row);
      }
    });
    changes.observe(list, { subtree: true, childList: true, characterData: true, attributes: true });
    const long = new PerformanceObserver((found) => tasks.push(...found.getEntries().map(({ duration }) => duration)));
    long.observe({ type: "longtask" });
    let [last, isOn] = [performance.now(), true];
    const frame = (now: number) => {
      frames.push(now - last);
      last = now;
      if (isOn) requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
    const stop = () => {
      isOn = false;
      changes.disconnect();
      long.disconnect();
    };
    window.work = { rows, tasks, frames, stop };
  });
  await act();
  return page.evaluate(() => {
    const { rows, tasks, frames, stop } = window.work;
    stop();
    return { rows: rows.size, tasks, frames };
  });
}

const rows = (page: Page) => page.locator(".desk-captions > li").count();
const saved = (page: Page) => page.locator(".desk-saved", { hasText: /^Saved$/ }).waitFor();
const told = (what: string, values: readonly number[]) => {
  const sorted = [...values].sort((a, b) => a - b).map((value) => Math.round(value));
  const [middle, late] = [0.5, 0.95].map((share) => sorted[Math.floor(sorted.length * share)] ?? 0);
  console.info(
    `${what}: ${sorted.length}, median ${middle} ms, 95th percentile ${late} ms, most ${sorted.at(-1) ?? 0} ms`,
  );
};

describe.skipIf(BROWSER === null)(`a four-hour programme at the desk${UNLESS_BROWSER}`, () => {
  const here = atDesk({
    now: "2027-03-03T08:00:00Z",
    async prepare() {
      for (const { id, captions } of [LONG, SHORT]) await layLongEpisode(here.content, id, captions);
    },
  });
  const open = async ({ id }: { readonly id: string }, hash = "") => {
    await here.goTo("");
    await here.goTo(`words/${id}${hash}`);
    await here.own.page.locator(".desk-caption").first().waitFor();
    return here.own.page;
  };
  /** The caption that has the caret; -1: none. */
  const focused = () =>
    here.own.page.evaluate(() => Number(document.activeElement?.closest(".desk-caption")?.id.slice(1) ?? -1));
  const isSeen = (n: number) =>
    here.own.page.evaluate((own) => {
      const box = document.querySelector(`#c${own} .desk-text`)?.getBoundingClientRect();
      const deck = document.querySelector(".desk-deck")?.getBoundingClientRect().bottom ?? 0;
      return box !== undefined && box.top >= deck && box.bottom <= innerHeight;
    }, n);

  test("has no more captions on the page than a short one, and says of each which of how many it is", async () => {
    const short = await rows(await open(SHORT));
    const page = await open(LONG);
    expect(await rows(page)).toBeLessThanOrEqual(short + 8);
    expect(short).toBeLessThan(SHORT.captions);
    const first = page.locator(".desk-captions > li").first();
    expect([await first.getAttribute("aria-posinset"), await first.getAttribute("aria-setsize")]).toEqual([
      "1",
      "6000",
    ]);
    await page.keyboard.press("End");
    await soon(() => page.locator("[data-row='5999']").count()).toBe(1);
    expect(await rows(page)).toBeLessThanOrEqual(2 * short);
    const last = page.locator(".desk-captions > li").last();
    expect(await last.getAttribute("aria-posinset")).toBe("6000");
    await expectSound(page, "at its end");
  });

  test("draws one row for a letter, and as many for what is saved of it as in a short one", async () => {
    const counts: number[] = [];
    for (const episode of [SHORT, LONG]) {
      const page = await open(episode);
      await page.locator("#c3 .desk-text").click();
      await page.keyboard.press("End");
      const letters = await watched(page, () => page.keyboard.type(" and more of it", { delay: 30 }));
      // The words in it, and nothing beside it.
      expect(letters.rows).toBeLessThanOrEqual(1);
      const all = await watched(page, async () => {
        await page.keyboard.type(" all");
        await saved(page);
        await page.waitForTimeout(2500);
      });
      counts.push(all.rows);
      told(`long tasks of typing, ${episode.captions} captions`, [...letters.tasks, ...all.tasks]);
      told(`frames of typing, ${episode.captions} captions`, letters.frames);
    }
    expect(counts[1]).toBeLessThanOrEqual((counts[0] ?? 0) + 1);
    expect(await here.file(LONG.id, "transcript.vtt")).toContain("and more of it all");
  });

  test("is scrolled through: what comes into sight is there", async () => {
    const page = await open(LONG);
    const seen = new Set<string>();
    const work = await watched(page, async () => {
      for (let n = 0; n < 60; n++) {
        await page.mouse.wheel(0, 400);
        await page.waitForTimeout(30);
        const middle = await page.evaluate(() => {
          const own = document.elementFromPoint(innerWidth / 2, innerHeight * 0.75)?.closest<HTMLElement>("[data-row]");
          return own?.dataset.row ?? null;
        });
        if (middle !== null) seen.add(middle);
      }
    });
    expect(seen.size).toBeGreaterThan(50);
    // Those that were passed are off the page again.
    expect(await rows(page)).toBeLessThan(150);
    told("frames of scrolling, 6000 captions", work.frames);
    told("long tasks of scrolling, 6000 captions", work.tasks);
  });

  test("is walked by keyboard: from caption to caption, and from doubt to doubt", async () => {
    const page = await open(LONG);
    await page.locator("#c0 .desk-text").click();
    await page.keyboard.press("Home");
    for (let n = 1; n <= 90; n++) {
      await page.keyboard.press("ArrowDown");
      expect(await focused()).toBe(n);
    }
    expect(await isSeen(90)).toBe(true);
    for (let n = 89; n >= 60; n--) await page.keyboard.press("ArrowUp");
    expect(await focused()).toBe(60);
    // Every tenth turn of seven captions is proposed.
    for (const doubt of [63, 133, 203, 273]) {
      await page.keyboard.press("Tab");
      expect(await focused()).toBe(doubt);
      await soon(() => isSeen(doubt)).toBe(true);
    }
    await page.keyboard.press("Shift+Tab");
    expect(await focused()).toBe(203);
    // What is typed at once goes to where the caret went.
    await page.keyboard.type("Well, ");
    await saved(page);
    expect(await here.file(LONG.id, "transcript.vtt")).toContain("Well, This is");
    await page.keyboard.press("Alt+0");
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe("SELECT");
  });

  test("keeps the caret where it is while somebody looks elsewhere", async () => {
    const page = await open(LONG);
    await page.locator("#c5 .desk-text").click();
    await page.keyboard.press("End");
    await page.evaluate(() => scrollTo(0, 60_000));
    await soon(() => page.locator("#c20").count()).toBe(0);
    expect(await focused()).toBe(5);
    await page.keyboard.type(" still");
    expect(await page.locator("#c5 .desk-text").textContent()).toBe(`${wordsOf(5)} still`);
    await saved(page);
  });

  test("is opened at a moment, and its words are found wherever they stand", async () => {
    const page = await open(LONG, `#t=${(4321 * STANDS) / 1000}`);
    await soon(focused).toBe(4321);
    await soon(() => isSeen(4321)).toBe(true);
    await page.keyboard.press("Control+F");
    await page.keyboard.type(nameOf(5431));
    await page.keyboard.press("Enter");
    await soon(focused).toBe(5431);
    await soon(() => isSeen(5431)).toBe(true);
    const before = await here.file(LONG.id, "transcript.vtt");
    await page.keyboard.press("Control+F");
    await page.keyboard.type("boat");
    await page.keyboard.press("Enter");
    const first = await focused();
    await page.keyboard.press("Control+F");
    await page.keyboard.press("Enter");
    expect(await focused()).toBeGreaterThan(first);
    expect(await here.file(LONG.id, "transcript.vtt")).toBe(before);
  });

  test("nothing went wrong in the console meanwhile", () => {
    expect(here.own.problems).toEqual([]);
  });
});
