import { describe, expect, test } from "vitest";
import { BROWSER, UNLESS_BROWSER, visit } from "./chromium.ts";
import { opening } from "./visiting.ts";

const EPISODE = "2026-10-05/";
const WITHDRAWN = "2026-10-06/";

describe.skipIf(BROWSER === null)(`what folds on narrow pages${UNLESS_BROWSER}`, () => {
  const here = opening();

  const open = async (path: string, width: number, javaScriptEnabled = true) => {
    const seen = await visit(here.browser, { viewport: { width, height: 844 }, javaScriptEnabled });
    await seen.page.goto(here.demo.url + path, { waitUntil: "load" });
    return seen;
  };

  test.each([EPISODE, `${EPISODE}ferry-timetable/`])(
    "the words of /%s begin in the first window of a phone",
    async (path) => {
      const seen = await open(path, 390);
      const tops = await seen.page.evaluate(() =>
        ["h1", ".standfirst", ".deck", ".segment"].map(
          (part) => document.querySelector(part)?.getBoundingClientRect().top,
        ),
      );
      expect(tops).toEqual(tops.toSorted((a, b) => Number(a) - Number(b)));
      expect(tops.at(-1)).toBeLessThan(844);
      await seen.close();
    },
  );

  test.each([true, false])("each is one line that opens, and a link in it leads on; script: %s", async (script) => {
    const { page, close } = await open(EPISODE, 390, script);
    for (const [part, link] of [
      [".correction-summary", 'a[href="#note-3"]'],
      [".running-order", 'a:has-text("Windy until Wednesday")'],
    ] as const) {
      const inside = page.locator(part).locator(link);
      expect(await inside.isVisible()).toBe(false);
      await page.locator(`${part} summary`).click();
      expect(await inside.isVisible()).toBe(true);
      const href = await inside.getAttribute("href");
      await inside.click();
      expect(page.url().endsWith(href ?? "?")).toBe(true);
      const goal = page.locator(`[id="${href?.slice(1)}"]`);
      const from = () => goal.evaluate((element) => element.getBoundingClientRect().top);
      await expect.poll(from, { timeout: 20_000 }).toBeLessThan(844);
    }
    await close();
  });

  test("an address of what is folded opens it", async () => {
    const seen = await open(EPISODE, 390);
    await seen.page.evaluate(() => document.querySelector(".order-item:nth-child(7)")?.setAttribute("id", "wanted"));
    await seen.page.evaluate(() => location.assign("#wanted"));
    await expect.poll(() => seen.page.locator("#wanted").isVisible(), { timeout: 20_000 }).toBe(true);
    await seen.close();
  });

  test.each([
    [1440, false, []],
    [1100, false, [".correction-summary"]],
    [820, false, [".correction-summary", ".running-order"]],
    [390, false, [".correction-summary", ".running-order"]],
    [390, true, []],
    [820, true, []],
  ] as const)("%s px wide, on paper: %s, what is to be opened: %j", async (width, onPaper, folded) => {
    const { page, close } = await open(EPISODE, width);
    if (onPaper) await page.emulateMedia({ media: "print" });
    const closed = await page.evaluate(() =>
      [".correction-summary", ".running-order"].filter(
        (part) => document.querySelector(`${part} ol a`)?.checkVisibility({ contentVisibilityAuto: false }) !== true,
      ),
    );
    expect(closed).toEqual(folded);
    // What shows all anyway has no control to stop at; its heading stays.
    for (const part of [".correction-summary", ".running-order"]) {
      expect(await page.locator(`${part} h2`).isVisible()).toBe(true);
      const stops = await page.locator(`${part} summary`).evaluate((line) => {
        (line as HTMLElement).focus();
        return line === document.activeElement;
      });
      if (!onPaper) expect(stops).toBe((folded as readonly string[]).includes(part));
    }
    await close();
  });

  test("what is withdrawn is said without opening anything", async () => {
    const seen = await open(WITHDRAWN, 390);
    const said = seen.page.locator(".correction-summary > ol a");
    expect(await said.allTextContents()).toEqual(["A segment is withdrawn"]);
    expect(await said.isVisible()).toBe(true);
    await seen.close();
  });

  test.each([EPISODE, WITHDRAWN, "2026-10-07/"])(
    "a correction is told twice on /%s: in the summary, and at its words",
    async (path) => {
      const seen = await open(path, 390);
      const told = await seen.page.evaluate(() =>
        [...document.querySelectorAll(".margin-note")].map(
          ({ id }) => document.querySelectorAll(`a[href="#${id}"]:not(.mark-ref)`).length,
        ),
      );
      expect(told.length).toBeGreaterThan(2);
      expect(told).toEqual(told.map(() => 1));
      await seen.close();
    },
  );
});
