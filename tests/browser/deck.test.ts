import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { soon } from "./atDesk.ts";
import { barriers } from "./barriers.ts";
import { BROWSER, UNLESS_BROWSER, visit } from "./chromium.ts";
import { expectMoment, openPlayer, seek } from "./playing.ts";
import { visiting } from "./visiting.ts";

const [MONDAY, TUESDAY, WEDNESDAY] = ["2026-10-05/", "2026-10-06/", "2026-10-07/"] as const;

const paused = (page: Page) => page.evaluate(() => document.querySelector("video")?.paused);
const moment = (page: Page) => page.evaluate(() => document.querySelector("video")?.currentTime ?? -1);
const waitPlaying = (page: Page) =>
  page.waitForFunction(() => {
    const video = document.querySelector("video");
    return video !== null && !video.paused && video.readyState >= 3;
  });

describe.skipIf(BROWSER === null)(`the deck${UNLESS_BROWSER}`, () => {
  const here = visiting();
  const open = (path: string): Promise<Page> => openPlayer(here.seen.page, here.demo.url + path);

  describe("its controls", () => {
    test("stand in the place of the browser's, and play and pause by a button that says which", async () => {
      const page = await open(MONDAY);
      expect(await page.locator("video[controls]").count()).toBe(0);
      await page.getByRole("button", { name: "Play", exact: true }).click();
      await waitPlaying(page);
      await page.getByRole("button", { name: "Pause", exact: true }).click();
      await page.getByRole("button", { name: "Play", exact: true }).waitFor();
      expect(await paused(page)).toBe(true);
      expect(here.seen.problems).toEqual([]);
    });

    test("sound alone has no picture slot, and nothing black while nothing is said", async () => {
      const page = await open(MONDAY);
      expect(await page.isVisible("video")).toBe(false);
      expect(await page.isVisible(".caption-line")).toBe(false);
      await page.click(".d-play");
      await waitPlaying(page);
      await seek(page, 2); // music
      // Both at one moment: the recording goes on to where something is said.
      await page.waitForFunction(() => {
        const line = document.querySelector(".caption-line");
        const isSeen = line?.checkVisibility({ visibilityProperty: true }) !== false;
        return line?.querySelector("span")?.textContent === "" && !isSeen;
      });
    });

    test("on a telephone it is one bar, and stays in view", async () => {
      await here.seen.page.setViewportSize({ width: 390, height: 844 });
      const page = await open(MONDAY);
      await page.evaluate(() => scrollTo({ top: 3000, behavior: "instant" }));
      const box = await page.locator(".deck").boundingBox();
      expect(box?.y).toBe(0);
      expect(box?.height).toBeGreaterThan(50);
      expect(box?.height).toBeLessThan(62);
      expect(box?.width).toBe(390);
    });

    test("the slider has the moment and the segment as its text, and goes by keys", async () => {
      const page = await open(`${MONDAY}#t=100`);
      await expectMoment(page, 100);
      const slider = page.getByRole("slider", { name: "Place in the recording" });
      const says = (text: string) => page.waitForSelector(`.d-seek[aria-valuetext="${text}"]`);
      await says("1:40, Nine sailings a week from Sollen");
      await slider.focus();
      for (const [key, to] of [
        ["ArrowRight", 105],
        ["ArrowUp", 110],
        ["ArrowLeft", 105],
        ["ArrowDown", 100],
      ] as const) {
        await page.keyboard.press(key);
        await expectMoment(page, to);
      }
      await page.keyboard.press("PageUp");
      await says("2:21, The last keeper leaves Hallan Light");
      await page.keyboard.press("PageDown");
      await says("0:34, Nine sailings a week from Sollen");
      await page.keyboard.press("Home");
      await says("0:00, Headlines");
      await page.keyboard.press("ArrowLeft");
      await expectMoment(page, 0);
      expect(await paused(page)).toBe(true);
      await page.keyboard.press(" ");
      await waitPlaying(page);
    });

    test("a click on the strip seeks there, and plays", async () => {
      const page = await open(MONDAY);
      const box = await page.locator(".log-strip").boundingBox();
      if (box === null) throw new Error("no strip");
      await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
      expect(await page.textContent(".d-hint")).toBe("3:26, The last keeper leaves Hallan Light");
      await page.mouse.down();
      await page.mouse.up();
      await waitPlaying(page);
      expect(Math.abs((await moment(page)) - 413.91 / 2)).toBeLessThan(3);
    });

    test("next and previous pass over what is withheld", async () => {
      const page = await open(WEDNESDAY);
      const starts = await page.evaluate(() =>
        (
          JSON.parse(document.querySelector<HTMLElement>(".deck")?.dataset.chapters ?? "[]") as {
            from: number;
            held: null;
          }[]
        )
          .filter(({ held }) => held === null)
          .map(({ from }) => from),
      );
      for (const start of starts.slice(1)) {
        await page.click(".d-next");
        await expectMoment(page, start);
      }
      await page.click(".d-next");
      await expectMoment(page, starts.at(-1) ?? -1);
      for (const start of starts.slice(0, -1).reverse()) {
        await page.click(".d-previous");
        await expectMoment(page, start);
      }
    });

    test("what is withheld is hatched on the strip, and what is withdrawn too, in the order as well", async () => {
      const hatched = (page: Page) =>
        page.evaluate(() => ({
          strip: [...document.querySelectorAll(".log-strip .held")].map((rect) => rect.getAttribute("x")),
          rows: [...document.querySelectorAll(".order-item.is-withheld")].map((row) => row.textContent ?? ""),
        }));
      expect(await hatched(await open(WEDNESDAY))).toMatchObject({
        strip: [expect.any(String)],
        rows: [expect.stringContaining("withheld")],
      });
      const { strip, rows } = await hatched(await open(TUESDAY));
      expect(strip).toHaveLength(1);
      expect(rows.filter((row) => row.includes("withdrawn"))).toHaveLength(1);
      expect(await here.seen.page.locator(".log-strip .weave").count()).toBe(1);
    });

    test("speed, captions and sound are as they were left, on the next page too", async () => {
      const page = await open(MONDAY);
      await page.getByLabel("Speed").selectOption("1.5");
      await page.click(".d-captions");
      await page.click(".d-sound");
      await page.locator(".d-volume").fill("0.4");
      await open(WEDNESDAY);
      expect(
        await page.evaluate(() => {
          const video = document.querySelector("video");
          return [video?.playbackRate, video?.muted, video?.volume];
        }),
      ).toEqual([1.5, false, 0.4]);
      expect(await page.getAttribute(".d-captions", "aria-pressed")).toBe("false");
      await page.click(".d-play");
      await seek(page, 20);
      await page.waitForSelector(".cue[aria-current]");
      expect(await page.isVisible("[data-caption]")).toBe(false);
      await page.click(".d-captions");
      await page.waitForSelector("[data-caption]", { state: "visible" });
    });

    test("a choice of sound is kept at once, for the page may be left before the browser tells of it", async () => {
      const page = await open(MONDAY);
      const kept = await page.evaluate(() => {
        const volume = document.querySelector<HTMLInputElement>(".d-volume");
        if (volume === null) return [];
        volume.value = "0.3";
        volume.dispatchEvent(new Event("input"));
        const moved = localStorage.getItem("afterair-deck");
        document.querySelector<HTMLElement>(".d-sound")?.click();
        return [moved, localStorage.getItem("afterair-deck")];
      });
      expect(kept.map((text) => JSON.parse(text ?? "null"))).toMatchObject([
        { volume: 0.3, muted: false },
        { volume: 0.3, muted: true },
      ]);
    });

    test("where nothing may be stored, all of it works", async () => {
      await here.seen.page.addInitScript(() => {
        for (const name of ["localStorage", "sessionStorage"])
          Object.defineProperty(window, name, {
            get() {
              throw new DOMException("denied", "SecurityError");
            },
          });
      });
      const page = await open(MONDAY);
      await page.getByLabel("Speed").selectOption("1.25");
      await page.click(".d-play");
      await waitPlaying(page);
      await page.click(".d-play");
      expect(here.seen.problems).toEqual([]);
    });
  });

  describe("keys", () => {
    test("letters play, step, and turn things on and off, with a link in focus too", async () => {
      const page = await open(`${MONDAY}#t=108`);
      await expectMoment(page, 108.683);
      await page.focus('a.stamp[href="#t=108"]');
      await page.keyboard.press("l");
      await expectMoment(page, 118.683);
      await page.keyboard.press("j");
      await expectMoment(page, 108.683);
      await page.keyboard.press("n");
      await page.keyboard.press("p");
      await page.keyboard.press("c");
      expect(await page.getAttribute(".d-captions", "aria-pressed")).toBe("false");
      await page.keyboard.press("m");
      expect(await page.evaluate(() => document.querySelector("video")?.muted)).toBe(true);
      await page.keyboard.press("s");
      expect(await page.evaluate(() => document.querySelector("video")?.playbackRate)).toBe(1.25);
      await page.keyboard.press("k");
      await waitPlaying(page);
    });

    test("none with a modifier, none in a field, none of a button's or the page's own, none once turned off", async () => {
      const page = await open(`${MONDAY}#t=108`);
      await expectMoment(page, 108.683);
      const still = async () => {
        expect(await paused(page)).toBe(true);
        await expectMoment(page, 108.683);
      };
      for (const key of ["Control+k", "Alt+l", "Meta+j", "Shift+n", "Shift+k"]) await page.keyboard.press(key);
      await still();
      await page.focus(".d-speed select");
      for (const key of ["k", "l", "n"]) await page.keyboard.press(key);
      await still();
      await page.evaluate(() => {
        const field = document.createElement("textarea");
        document.querySelector("h1")?.append(field);
        field.focus();
      });
      await page.keyboard.type("jklnpm?");
      await still();
      expect(await page.locator("dialog").count()).toBe(0);
      // The space bar is the page's, and on a button the button's.
      await page.evaluate(() => (document.activeElement as HTMLElement).blur());
      await page.keyboard.press(" ");
      await still();
      await page.focus("button[data-follow]");
      await page.keyboard.press(" ");
      await still();
      expect(await page.getAttribute("button[data-follow]", "aria-pressed")).toBe("false");
      await page.keyboard.press("?");
      await page.getByLabel("These keys work anywhere on the page").uncheck();
      await page.keyboard.press("Escape");
      await page.keyboard.press("k");
      await still();
      await page.reload();
      await page.keyboard.press("k");
      expect(await paused(page)).toBe(true);
    });

    test("? shows the list, and puts it away", async () => {
      const page = await open(MONDAY);
      await page.keyboard.press("?");
      await page.getByRole("dialog", { name: "Keys" }).waitFor();
      expect(await page.locator(".deck-help dt").allTextContents()).toEqual([..."KJLPNSCM?"]);
      await page.keyboard.press("?");
      await page.locator("dialog").waitFor({ state: "hidden" });
      await page.click(".d-help");
      await page.getByRole("button", { name: "Close" }).click();
      expect(await page.evaluate(() => document.activeElement?.className)).toBe("d-help");
    });
  });

  describe("the place where one stopped", () => {
    const stopAt = async (page: Page, at: number) => {
      await page.click(".d-play");
      await waitPlaying(page);
      await seek(page, at);
      await page.waitForFunction((from) => (document.querySelector("video")?.currentTime ?? 0) > from + 0.2, at);
      await page.click(".d-play");
    };
    test("is gone on from, told, and left on request", async () => {
      const page = await open(MONDAY);
      await stopAt(page, 200);
      await open(MONDAY);
      await expectMoment(page, 200);
      expect(await page.textContent("[data-skip-note]")).toContain("Goes on at 3:20, where you stopped");
      expect(await paused(page)).toBe(true);
      await page.click("text=From the beginning");
      await expectMoment(page, 0);
      expect(await page.isVisible("[data-skip-note]")).toBe(false);
    });
    test("an address is stronger, and a segment's page goes on in its own segment alone", async () => {
      const page = await open(MONDAY);
      await stopAt(page, 200);
      await page.goto("about:blank");
      await open(`${MONDAY}#t=100`);
      await expectMoment(page, 100);
      await open(`${MONDAY}hallan-light/`);
      await expectMoment(page, 200);
      await open(`${MONDAY}ferry-timetable/`);
      await expectMoment(page, Number(await page.getAttribute(".deck", "data-from")));
    });
    test("is forgotten on request, and not kept again by this page", async () => {
      const page = await open(MONDAY);
      await stopAt(page, 200);
      await page.keyboard.press("?");
      await page.click("text=Forget where I stopped");
      expect(await page.textContent("dialog [role=status]")).toContain("no place is kept");
      await page.keyboard.press("Escape");
      await page.click(".d-play");
      await waitPlaying(page);
      await open(MONDAY);
      await expectMoment(page, 0);
      expect(await page.evaluate(() => localStorage.getItem("afterair-places"))).toBeNull();
    });
    test("is not kept of who has not played", async () => {
      const page = await open(`${MONDAY}#t=200`);
      await expectMoment(page, 200);
      await open(WEDNESDAY);
      expect(await page.evaluate(() => localStorage.getItem("afterair-places"))).toBeNull();
    });
  });

  describe("the running order plays", () => {
    const currentRow = (page: Page) => page.locator(".order-item > a[aria-current] .title").allTextContents();
    test("a row seeks, plays and is the current one; its address is the segment's", async () => {
      const page = await open(MONDAY);
      await soon(() => currentRow(page)).toEqual(["Headlines"]);
      await page.click("text=Windy until Wednesday");
      await waitPlaying(page);
      expect(page.url()).toContain("#weather");
      await soon(() => currentRow(page)).toEqual(["Windy until Wednesday"]);
      await page.click('.order-item > a:has-text("Headlines")');
      await page.waitForFunction(() => (document.querySelector("video")?.currentTime ?? 99) < 5);
      await soon(() => currentRow(page)).toEqual(["Headlines"]);
      expect(await page.getAttribute("button[data-follow]", "aria-pressed")).toBe("true");
    });
    test("the first row is the current one also where the recording was there before the script", async () => {
      const { page } = here.seen;
      await page.route(/player-[^/]*\.js$/, async (route) => {
        await page.waitForFunction(() => (document.querySelector("video")?.readyState ?? 0) >= 1);
        await route.continue();
      });
      await open(MONDAY);
      await soon(() => currentRow(page)).toEqual(["Headlines"]);
    });
    test("a row of what is withheld leads to the reason, and plays nothing", async () => {
      const page = await open(WEDNESDAY);
      await page.click("text=A deal on the Skerrow Bank");
      expect(page.url()).toContain("#bank-deal");
      expect(await paused(page)).toBe(true);
      await expectMoment(page, 0);
    });
    test("on a segment's page, its own row plays it, and the others lead to their pages", async () => {
      const page = await open(`${MONDAY}weather/`);
      const from = Number(await page.getAttribute(".deck", "data-from"));
      await seek(page, 20);
      await page.click('.order-item > a:has-text("Windy until Wednesday")');
      await waitPlaying(page);
      await page.waitForFunction((at) => (document.querySelector("video")?.currentTime ?? 0) >= at, from);
      await page.click('.order-item > a:has-text("Headlines")');
      await page.waitForURL("**/headlines/");
    });
    test("a row of the home page leads to the moment", async () => {
      const { page } = here.seen;
      await page.goto(here.demo.url);
      const row = page.locator(".order-item:not(.is-withheld, .is-cut)").nth(2);
      const at = Number(await row.getAttribute("data-in"));
      await row.locator("a").click();
      await page.waitForSelector(".deck");
      await expectMoment(page, at);
      expect(await paused(page)).toBe(true);
    });
  });

  describe("a recording that can't be had", () => {
    test("says so, keeps the words, and tries again on request", async () => {
      const { page } = here.seen;
      await page.route(/\.(mp3|ogg)$/, (route) => route.abort());
      await page.goto(`${here.demo.url}${MONDAY}#t=108`);
      await page.waitForSelector("[data-skip-note]:not([hidden])");
      expect(await page.textContent("[data-skip-note]")).toContain("The recording can’t be had just now");
      await page.focus(".d-seek");
      await page.keyboard.press("PageUp");
      await page.waitForSelector(".d-seek[aria-valuetext^='2:21, The last keeper']");
      expect(await page.locator(".cue[aria-current]").count()).toBe(1);
      await page.unroute(/\.(mp3|ogg)$/);
      await page.click("text=Try again");
      await waitPlaying(page);
      expect(await moment(page)).toBeGreaterThan(140);
      expect(await page.isVisible("[data-skip-note]")).toBe(false);
      expect(here.seen.problems.filter((problem) => problem.startsWith("uncaught"))).toEqual([]);
    });
    test("the first format failing, the second is played and nothing is said", async () => {
      const { page } = here.seen;
      await page.route(/\.mp3$/, (route) => route.abort());
      await open(MONDAY);
      await page.click(".d-play");
      await waitPlaying(page);
      expect(await page.isVisible("[data-skip-note]")).toBe(false);
    });
  });

  describe("axe finds no barrier", () => {
    const pressMore = async (page: Page) => {
      if (await page.isVisible(".d-more")) await page.click(".d-more");
    };
    const captioned = (page: Page) => page.waitForSelector("[data-caption]", { state: "visible" });
    /** What the deck may look like, and where that is looked at; each is reached from the one before. */
    const STATES: Readonly<Record<string, (page: Page) => Promise<string>>> = {
      async failed(page) {
        await page.route(/\.(mp3|ogg)$/, (route) => route.abort());
        await page.goto(here.demo.url + MONDAY);
        await page.waitForSelector("[data-skip-note]:not([hidden])");
        await page.unroute(/\.(mp3|ogg)$/);
        return ".deck";
      },
      async "with the menu open"(page) {
        await openPlayer(page, here.demo.url + MONDAY);
        await pressMore(page);
        return ".deck";
      },
      async "with the list of keys"(page) {
        await pressMore(page);
        await page.keyboard.press("?");
        await page.waitForSelector("dialog[open]");
        return "dialog[open]";
      },
      async playing(page) {
        await page.keyboard.press("Escape");
        await page.locator("dialog").waitFor({ state: "hidden" });
        await page.click(".d-play");
        await seek(page, 109);
        await captioned(page);
        return ".deck";
      },
      async paused(page) {
        await page.click(".d-play");
        await seek(page, 109);
        await captioned(page);
        return ".deck";
      },
      async ended(page) {
        await seek(page, 413.2);
        await page.click(".d-play");
        await page.waitForFunction(() => document.querySelector("video")?.ended === true);
        return ".deck";
      },
    };
    // The whole page is looked at elsewhere.
    test.each([1440, 820, 390])("in any state, in light and dark, at %d px", async (width) => {
      const { page, close } = await visit(here.browser, { viewport: { width, height: 900 } });
      for (const [state, reach] of Object.entries(STATES)) {
        const within = await reach(page);
        for (const colorScheme of ["light", "dark"] as const) {
          await page.emulateMedia({ colorScheme });
          expect(await barriers(page, { within }), `${state}, ${colorScheme}`).toEqual([]);
        }
      }
      await close();
    });
  });

  test("the menu of a telephone opens, closes by Escape with the focus back, and by a touch elsewhere", async () => {
    await here.seen.page.setViewportSize({ width: 390, height: 844 });
    const page = await open(MONDAY);
    await page.click(".d-more");
    await page.getByRole("button", { name: "Next segment" }).click();
    await expectMoment(page, Number(await page.locator(".order-item").nth(1).getAttribute("data-in")));
    expect(await page.getAttribute(".d-more", "aria-expanded")).toBe("true");
    await page.keyboard.press("Escape");
    expect(await page.isVisible(".d-tools")).toBe(false);
    expect(await page.evaluate(() => document.activeElement?.className)).toBe("d-more");
    await page.click(".d-more");
    await page.mouse.click(200, 700);
    expect(await page.getAttribute(".d-more", "aria-expanded")).toBe("false");
  });
});
