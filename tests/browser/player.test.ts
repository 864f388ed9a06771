import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { parseVtt } from "../../src/webvtt/parse.ts";
import { BROWSER, UNLESS_BROWSER, visit } from "./chromium.ts";
import { currentWords, expectMoment, openPlayer, seek } from "./playing.ts";
import { visiting } from "./visiting.ts";

const MONDAY = "2026-10-05/";

describe.skipIf(BROWSER === null)(`the player${UNLESS_BROWSER}`, () => {
  const here = visiting();

  const open = (path: string): Promise<Page> => openPlayer(here.seen.page, here.demo.url + path);

  describe("captions and chapters", () => {
    test.each(["2026-10-05", "2026-10-06", "2026-10-07"])("%s has as many cues as its file", async (id) => {
      const { cues } = parseVtt(await readFile(join(here.demo.folder, id, "transcript.vtt"), "utf8"));
      const page = await open(`${id}/`);
      await page.waitForFunction(() => document.querySelector("track")?.readyState === 2);
      const loaded = await page.evaluate(
        () => [...(document.querySelector("video")?.textTracks[0]?.cues ?? [])].length,
      );
      expect(cues.length).toBeGreaterThan(50);
      expect(loaded).toBe(cues.length);
    });

    test("the chapters are the running order of the recording", async () => {
      const page = await open(MONDAY);
      await page.evaluate(() => {
        const chapters = [...(document.querySelector("video")?.textTracks ?? [])].find(
          ({ kind }) => kind === "chapters",
        );
        if (chapters !== undefined) chapters.mode = "hidden";
      });
      await page.waitForFunction(
        () => document.querySelector<HTMLTrackElement>("track[kind=chapters]")?.readyState === 2,
      );
      const [chapters, rows] = await page.evaluate(() => {
        const track = document.querySelector<HTMLTrackElement>("track[kind=chapters]")?.track;
        const order = [...document.querySelectorAll<HTMLElement>(".order-item")].filter(
          (row) => Number(row.dataset.seconds) > 0,
        );
        return [
          [...(track?.cues ?? [])].map((cue) => [cue.startTime, (cue as VTTCue).text]),
          order.map((row) => [Number(row.dataset.in), row.querySelector(".title")?.textContent ?? ""]),
        ];
      });
      expect(chapters).toEqual(rows);
    });

    test("seeking shows the words of that moment, on the page and in the line, with who says them", async () => {
      const { cues } = parseVtt(await readFile(join(here.demo.folder, MONDAY, "transcript.vtt"), "utf8"));
      const page = await open(MONDAY);
      await page.waitForFunction(() => document.querySelector("track")?.readyState === 2);
      for (const at of [3, 40, 77, cues.length - 2]) {
        const cue = cues[at];
        if (cue === undefined) throw new Error("the demo is too short");
        await seek(page, cue.startTime + 0.05);
        const track = await page.waitForFunction((start) => {
          const active = [...(document.querySelector("video")?.textTracks[0]?.activeCues ?? [])] as VTTCue[];
          const [one] = active.filter(({ startTime }) => Math.abs(startTime - start) < 0.002);
          const line = document.querySelector("[data-caption]")?.textContent ?? "";
          const words = (one?.getCueAsHTML().textContent ?? "").replace(/\s+/g, " ").trim();
          return one !== undefined && line.includes(words) ? { words, line } : null;
        }, cue.startTime);
        const { words, line } = (await track.jsonValue()) ?? { words: "", line: "" };
        const name = /<v(?:\.\S+)? ([^>]+)>/.exec(cue.text)?.[1] ?? "";
        expect(line.trim()).toBe(`${name} ${words}`.trim());
        expect(await currentWords(page)).toBe(words);
      }
    });

    test.each([1440, 820, 390])(
      "at %d px the words stand in the line, once playing begins, and only there",
      async (width) => {
        await here.seen.page.setViewportSize({ width, height: 844 });
        const page = await open(`${MONDAY}#t=108`);
        await expectMoment(page, 108.683);
        expect(await page.isVisible("[data-caption]")).toBe(false);
        await page.click(".d-play");
        await page.waitForFunction(() => {
          const line = document.querySelector("[data-caption]");
          const box = line?.getBoundingClientRect();
          return (
            line?.checkVisibility({ visibilityProperty: true }) === true &&
            line.textContent?.includes("People do not travel for fun in January") === true &&
            box !== undefined &&
            box.top >= 0 &&
            box.bottom <= innerHeight &&
            box.height > 30
          );
        });
        expect(await page.evaluate(() => document.querySelector("video")?.textTracks[0]?.mode)).toBe("hidden");
      },
    );

    test("captions chosen in a menu of the browser's own stand in the picture, and not in the line as well", async () => {
      const page = await open(MONDAY);
      await page.click(".d-play");
      await page.waitForSelector("[data-caption]", { state: "visible" });
      await page.evaluate(() => {
        const track = document.querySelector("video")?.textTracks[0];
        if (track !== undefined) track.mode = "showing";
      });
      await page.waitForSelector("[data-caption]", { state: "hidden" });
    });

    test("a film alone on the screen has its captions in the picture, and after it in the line again", async () => {
      const page = await open(MONDAY);
      const mode = (wanted: TextTrackMode) =>
        page.waitForFunction((to) => document.querySelector("video")?.textTracks[0]?.mode === to, wanted);
      await mode("hidden");
      await page.click("h1"); // full screen is granted to a reader's own act only
      await page.evaluate(() => document.querySelector("video")?.requestFullscreen());
      await mode("showing");
      await page.evaluate(() => document.exitFullscreen());
      await mode("hidden");
    });
  });

  describe("playing", () => {
    test("moves the lamps and lights the words", async () => {
      const page = await open(`${MONDAY}#t=36`);
      await page.evaluate(() => document.querySelector("video")?.play());
      await page.waitForFunction(() => (document.querySelector("video")?.currentTime ?? 0) > 37.5);
      const shown = await page.evaluate(() => ({
        cue: document.querySelectorAll(".cue[aria-current=true]").length,
        paragraph: document.querySelectorAll(".words[data-now]").length,
        row: document.querySelector(".order-item[data-now] .title")?.textContent,
        clock: document.querySelector(".order-item[data-now] .now b")?.textContent,
        strip: document.querySelector<HTMLElement>(".log-strip .now")?.style.getPropertyValue("--at"),
      }));
      expect(shown).toMatchObject({ cue: 1, paragraph: 1, row: "Nine sailings a week from Sollen" });
      expect(shown.clock).toMatch(/^0:3[7-9]$/);
      expect(Number(shown.strip)).toBeGreaterThan(36 / 413.91);
    });

    test("a segment's page plays its segment, stops, offers the next, and plays that", async () => {
      const page = await open(`${MONDAY}hallan-light/`);
      const { from, to } = await page.evaluate(() => {
        const { from = "", to = "" } = document.querySelector<HTMLElement>(".deck")?.dataset ?? {};
        return { from: Number(from), to: Number(to) };
      });
      await expectMoment(page, from);
      await seek(page, to - 0.8);
      await page.click(".d-play");
      await page.waitForFunction(() => document.querySelector("video")?.paused === true);
      const at = await page.evaluate(() => document.querySelector("video")?.currentTime ?? 0);
      expect(at).toBeGreaterThan(to - 0.1);
      expect(at).toBeLessThan(to + 1);
      expect(await page.locator("[data-skip-note]").textContent()).toContain("This segment ends here");
      await page.click("text=Next: Former ferry charity treasurer in court");
      await page.waitForURL("**/2026-10-05/fund-court/");
      await page.waitForFunction((start) => (document.querySelector("video")?.currentTime ?? 0) > start + 0.3, to);
    });

    test("who plays on after its end hears what comes", async () => {
      const page = await open(`${MONDAY}hallan-light/`);
      const to = Number(await page.getAttribute(".deck", "data-to"));
      await seek(page, to - 0.5);
      await page.click(".d-play");
      await page.waitForSelector("[data-skip-note] button");
      await page.click(".d-play");
      await page.waitForFunction((end) => (document.querySelector("video")?.currentTime ?? 0) > end + 0.4, to);
      expect(await page.locator(".cue[aria-current]").count()).toBe(0);
    });

    test("the report link has the moment and the words", async () => {
      const page = await open(`${MONDAY}#t=108`);
      await expectMoment(page, 108.683);
      const link = page.locator("a[data-report]");
      expect(await link.textContent()).toContain(" at 1:48");
      const mail = new URLSearchParams((await link.getAttribute("href"))?.split("?")[1]);
      expect(mail.get("subject")).toContain("at 1:48");
      expect(mail.get("body")).toContain(await currentWords(page));
      expect(mail.get("body")).toContain(`${here.demo.url}${MONDAY}#t=108`);
    });
  });

  describe("the moment in the address", () => {
    test.each([
      ["a paragraph: the precise moment of its first words", "#t=108", 108.683],
      ["a moment of its own: exactly that", "#t=100.5", 100.5],
      ["a clock", "#t=01:40", 100],
      ["a clock as people write it", "#t=1:40", 100],
      ["a clock with hours, and where to stop", "#t=0:01:40,1:41", 100],
      ["past the end: the end", "#t=9999", 413.909],
      ["no such time: the beginning", "#t=1:4", 0],
      ["another fragment", "#content", 0],
    ])("%s", async (_why, hash, moment) => {
      await expectMoment(await open(MONDAY + hash), moment);
      expect(here.seen.problems).toEqual([]);
    });

    test("a moment between paragraphs is scrolled to", async () => {
      const page = await open(`${MONDAY}#t=200.5`);
      await page.waitForFunction(() => {
        const box = document.querySelector(".cue[aria-current]")?.getBoundingClientRect();
        return box !== undefined && box.top > 0 && box.bottom < innerHeight;
      });
    });

    test("a stretch is played to its end, once", async () => {
      const page = await open(`${MONDAY}#t=100,101`);
      const play = () => page.evaluate(() => document.querySelector("video")?.play());
      await play();
      await page.waitForFunction(() => document.querySelector("video")?.paused === true);
      const stopped = await page.evaluate(() => document.querySelector("video")?.currentTime ?? 0);
      expect(stopped).toBeGreaterThanOrEqual(100.99);
      expect(stopped).toBeLessThan(101.3);
      await play();
      await page.waitForFunction(() => (document.querySelector("video")?.currentTime ?? 0) > 101.8);
    });

    test("a change of the address seeks", async () => {
      const page = await open(MONDAY);
      await page.evaluate(() => {
        location.hash = "#t=51.25";
      });
      await expectMoment(page, 51.25);
      await page.goBack();
      expect(await page.evaluate(() => document.querySelector("video")?.paused)).toBe(true);
    });
  });

  describe("stamps", () => {
    test("show the words of their own moment in the line, and never a neighbour's", async () => {
      const page = await open(MONDAY);
      await page.waitForFunction(() => document.querySelector("track")?.readyState === 2);
      const wrong = await page.evaluate(async () => {
        const [video, line] = [document.querySelector("video"), document.querySelector("[data-caption]")];
        const cues = [...(video?.textTracks[0]?.cues ?? [])] as VTTCue[];
        const wordsOf = (cue: VTTCue | undefined) =>
          (cue?.getCueAsHTML().textContent ?? "").replace(/\s+/g, " ").trim();
        const seen: string[] = [];
        for (const stamp of document.querySelectorAll<HTMLAnchorElement>("a.stamp[href]")) {
          const first = document.getElementById(stamp.hash.slice(1))?.querySelector<HTMLElement>(".cue[data-in]");
          const own = cues.findIndex(({ startTime }) => Math.abs(startTime - Number(first?.dataset.in)) < 0.002);
          stamp.click();
          for (let frame = 0; frame < 12; frame++) {
            const said = line?.textContent ?? "";
            const others = [wordsOf(cues[own - 1]), wordsOf(cues[own + 1])];
            if (!said.includes(wordsOf(cues[own])) || others.some((words) => words !== "" && said.includes(words)))
              seen.push(`${stamp.hash}, frame ${frame}: ${said}`);
            await new Promise(requestAnimationFrame);
          }
        }
        return seen;
      });
      expect(wrong).toEqual([]);
    });

    test("a click seeks, plays nothing by itself, and changes the address", async () => {
      const page = await open(MONDAY);
      await page.click('a.stamp[href="#t=108"]');
      await expectMoment(page, 108.683);
      expect(page.url()).toContain("#t=108");
      expect(await page.evaluate(() => document.querySelector("video")?.paused)).toBe(true);
    });
    test("a click goes on playing, and seeks again the second time", async () => {
      const page = await open(MONDAY);
      await page.evaluate(() => document.querySelector("video")?.play());
      for (let time = 0; time < 2; time++) {
        await page.click('a.stamp[href="#t=108"]');
        await page.waitForFunction(() => {
          const at = document.querySelector("video")?.currentTime ?? 0;
          return at >= 108.6 && at < 109.2;
        });
        await page.waitForFunction(() => (document.querySelector("video")?.currentTime ?? 0) > 109.3);
      }
      expect(await page.evaluate(() => document.querySelector("video")?.paused)).toBe(false);
    });
    test("Enter does the same, and the focus stays", async () => {
      const page = await open(MONDAY);
      await page.focus('a.stamp[href="#t=108"]');
      await page.keyboard.press("Enter");
      await expectMoment(page, 108.683);
      await page.waitForFunction(() => document.activeElement?.getAttribute("href") === "#t=108");
      await page.keyboard.press("Tab");
      expect(await page.evaluate(() => document.activeElement?.getAttribute("href"))).not.toBe("#t=108");
    });
  });

  describe("without all that it needs", () => {
    test("a recording that can't be loaded leaves the words, the stamps and the address", async () => {
      await here.seen.page.route(/\.(mp3|ogg)$/, (route) => route.abort());
      await here.seen.page.goto(`${here.demo.url}${MONDAY}#t=108`);
      await here.seen.page.waitForSelector('.words[id="t=108"][data-now]');
      await here.seen.page.click('a.stamp[href="#t=123"]');
      await here.seen.page.waitForSelector('.words[id="t=123"][data-now]');
      expect(await here.seen.page.textContent("[data-moment]")).toBe(" at 2:03");
      expect(here.seen.problems.filter((problem) => problem.startsWith("uncaught"))).toEqual([]);
    });

    test("without script: the words, the links and the browser's own captions", async () => {
      const plain = await visit(here.browser, { javaScriptEnabled: false });
      await plain.page.goto(here.demo.url + MONDAY);
      const { page } = plain;
      expect(await page.locator("p.words").count()).toBeGreaterThan(20);
      expect(await page.isVisible("button[data-follow]")).toBe(false);
      expect(await page.isVisible("[data-caption]")).toBe(false);
      expect(await page.isVisible(".now")).toBe(false);
      expect(await page.locator("video[controls] track[kind=captions][default]").count()).toBe(1);
      const stamps = await page
        .locator("a.stamp")
        .evaluateAll((links) => links.map((link) => link.getAttribute("href") ?? ""));
      for (const stamp of stamps) expect(await page.locator(`[id="${stamp.slice(1)}"]`).count(), stamp).toBe(1);
      await page.click('a.stamp[href="#t=108"]');
      expect(page.url()).toContain("#t=108");
      expect(plain.problems).toEqual([]);
      await plain.close();
    });
  });
});
