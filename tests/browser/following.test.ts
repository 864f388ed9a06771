import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { BROWSER, UNLESS_BROWSER, visit } from "./chromium.ts";
import { expectMoment, openPlayer, seek } from "./playing.ts";
import { visiting } from "./visiting.ts";

const MONDAY = "2026-10-05/";
const WEDNESDAY = "2026-10-07/";

describe.skipIf(BROWSER === null)(`following, and what is withheld${UNLESS_BROWSER}`, () => {
  const here = visiting();

  const open = (path: string): Promise<Page> => openPlayer(here.seen.page, here.demo.url + path);

  describe("following", () => {
    const pressed = (page: Page) => page.getAttribute("button[data-follow]", "aria-pressed");
    const inView = (page: Page) =>
      page.waitForFunction(() => {
        const box = document.querySelector(".cue[aria-current]")?.getBoundingClientRect();
        return box !== undefined && box.top >= 0 && box.bottom <= innerHeight;
      });

    /** Where the page stands once it has stood still for ten frames. */
    const settled = async (page: Page): Promise<number> => {
      const stands = await page.waitForFunction(() => {
        const still = window as unknown as { at?: number; frames?: number };
        still.frames = still.at === scrollY ? (still.frames ?? 0) + 1 : 0;
        still.at = scrollY;
        return still.frames >= 10 ? { at: scrollY } : null;
      });
      return (await stands.jsonValue())?.at ?? 0;
    };

    test("keeps the words in view, until the reader scrolls, until it is turned on again", async () => {
      const page = await open(MONDAY);
      await page.evaluate(() => document.querySelector("video")?.play());
      await seek(page, 300);
      await inView(page);
      expect(await pressed(page)).toBe("true");

      await page.mouse.move(900, 400);
      await page.mouse.wheel(0, -2000);
      await page.waitForSelector("button[data-follow][aria-pressed=false]");
      const before = await settled(page);
      await seek(page, 20);
      await page.waitForFunction(
        () => Number(document.querySelector<HTMLElement>(".cue[aria-current]")?.dataset.in) < 21,
      );
      await seek(page, 350);
      await page.waitForFunction(
        () => Number(document.querySelector<HTMLElement>(".cue[aria-current]")?.dataset.in) > 340,
      );
      expect(await settled(page)).toBe(before);

      await page.click("button[data-follow]");
      await seek(page, 380);
      await inView(page);
    });
    test.each(["PageUp", "ArrowDown", "End"])("%s turns it off", async (key) => {
      const page = await open(MONDAY);
      await page.evaluate(() => document.querySelector("video")?.play());
      await seek(page, 200);
      await inView(page);
      await page.keyboard.press(key);
      await page.waitForSelector("button[data-follow][aria-pressed=false]");
    });
    test("choosing a stamp does not", async () => {
      const page = await open(MONDAY);
      await page.evaluate(() => document.querySelector("video")?.play());
      // A click by the mouse would first bring the stamp into view, which is a scroll of its own.
      await page.locator('a.stamp[href="#t=108"]').evaluate((stamp: HTMLElement) => stamp.click());
      await settled(page);
      expect(await page.evaluate(() => scrollY)).toBeGreaterThan(500);
      expect(await pressed(page)).toBe("true");
    });
    test("nothing moves while nothing plays", async () => {
      const page = await open(MONDAY);
      await seek(page, 350);
      await page.waitForSelector(".cue[aria-current]", { state: "attached" });
      expect(await page.evaluate(() => scrollY)).toBe(0);
    });
    test("the choice lasts for the visit", async () => {
      const page = await open(MONDAY);
      await page.click("button[data-follow]");
      await open(WEDNESDAY);
      expect(await pressed(page)).toBe("false");
    });
    test("works where nothing may be stored", async () => {
      await here.seen.page.addInitScript(() => {
        Object.defineProperty(window, "sessionStorage", {
          get() {
            throw new DOMException("denied", "SecurityError");
          },
        });
      });
      const page = await open(MONDAY);
      await page.click("button[data-follow]");
      expect(await pressed(page)).toBe("false");
      expect(here.seen.problems).toEqual([]);
    });
  });

  describe("what is withheld", () => {
    const skipOf = (page: Page) =>
      page.evaluate(() => {
        const [skip] = JSON.parse(document.querySelector<HTMLElement>(".deck")?.dataset.skips ?? "[]");
        return skip as { from: number; to: number; why: string };
      });

    test("is stepped over while playing, and not a moment of it is heard", async () => {
      const page = await open(WEDNESDAY);
      const { from, to, why } = await skipOf(page);
      await seek(page, from - 0.8);
      await page.evaluate(() => {
        const video = document.querySelector("video");
        const heard: number[] = [];
        const listen = () => {
          if (video !== null && !video.seeking) heard.push(video.currentTime);
          requestAnimationFrame(listen);
        };
        listen();
        Object.assign(window, { heard });
        return video?.play();
      });
      await page.waitForFunction((end) => (document.querySelector("video")?.currentTime ?? 0) > end + 0.3, to);
      const heard = await page.evaluate(() => (window as unknown as { heard: number[] }).heard);
      expect(heard.length).toBeGreaterThan(10);
      expect(heard.filter((at) => at > from && at < to - 0.01)).toEqual([]);
      expect(await page.textContent("[data-skip-note]")).toBe(why);
      expect(await page.isVisible("[data-skip-note]")).toBe(true);
      expect(await page.evaluate(() => document.querySelector("video")?.paused)).toBe(false);
    });
    test("a seek into it ends at its end", async () => {
      const page = await open(WEDNESDAY);
      const { from, to, why } = await skipOf(page);
      await seek(page, (from + to) / 2);
      await expectMoment(page, to);
      expect(await page.textContent("[data-skip-note]")).toBe(why);
      expect(await page.locator(".cue[aria-current]").count()).toBe(0);
      await seek(page, 20);
      await page.waitForSelector("[data-skip-note]", { state: "hidden" });
    });
    test("so does an address", async () => {
      const page = await open(WEDNESDAY);
      const { from, to } = await skipOf(page);
      await page.goto("about:blank");
      await open(`${WEDNESDAY}#t=${Math.ceil(from) + 3}`);
      await expectMoment(page, to);
    });
    test("the browser's menus don't offer the file", async () => {
      const page = await open(WEDNESDAY);
      const offered = await page.evaluate(() => {
        const video = document.querySelector("video");
        return {
          menu: video?.dispatchEvent(new MouseEvent("contextmenu", { bubbles: true, cancelable: true })),
          controls: video?.getAttribute("controlslist"),
        };
      });
      expect(offered).toEqual({ menu: false, controls: "nodownload" });
    });
    test("without script nothing of the recording is asked for, and the page says why", async () => {
      const plain = await visit(here.browser, { javaScriptEnabled: false });
      const asked: string[] = [];
      plain.page.on("request", (request) => asked.push(request.url()));
      await plain.page.goto(here.demo.url + WEDNESDAY);
      expect(await plain.page.isVisible("video")).toBe(false);
      expect(await plain.page.isVisible("[data-no-player]")).toBe(true);
      expect(await plain.page.locator("source, [src*='.mp3'], [src*='.ogg'], a[href*='.mp3']").count()).toBe(0);
      expect(asked.filter((url) => /\.(mp3|ogg)/.test(url))).toEqual([]);
      await plain.close();
      expect(await (await open(WEDNESDAY)).isVisible("[data-no-player]")).toBe(false);
    });
    test("at the end of a recording, it stops before it", async () => {
      await here.seen.page.route(`**/${WEDNESDAY}`, async (route) => {
        const response = await route.fetch();
        const body = (await response.text()).replace(/&quot;to&quot;:[\d.]+/, "&quot;to&quot;:428.898");
        await route.fulfill({ response, body });
      });
      const page = await open(WEDNESDAY);
      const { from, to } = await skipOf(page);
      expect(to).toBe(428.898);
      await seek(page, from - 0.5);
      await page.evaluate(() => document.querySelector("video")?.play());
      await page.waitForFunction(() => document.querySelector("video")?.paused === true);
      const at = await page.evaluate(() => document.querySelector("video")?.currentTime ?? 0);
      expect(at).toBeLessThan(from);
      expect(at).toBeGreaterThan(from - 1);
    });
  });
});
