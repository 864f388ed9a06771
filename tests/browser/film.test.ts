import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { BROWSER, UNLESS_BROWSER } from "./chromium.ts";
import { CONTENT, type Demo, openDemo } from "./demo.ts";
import { openPlayer } from "./playing.ts";
import { visiting } from "./visiting.ts";

const FILM = fileURLToPath(new URL("../fixtures/film.webm", import.meta.url));
const MONDAY = "2026-10-05/";

/** The demo with a film for its first broadcast: forty seconds of one colour. */
async function openFilm(): Promise<Demo> {
  const around = await mkdtemp(join(tmpdir(), "film-"));
  const content = join(around, "content");
  await cp(CONTENT, content, { recursive: true });
  await cp(join(CONTENT, "../templates/own"), join(around, "templates/own"), { recursive: true });
  const folder = join(content, "episodes/2026/2026-10-05");
  await cp(FILM, join(folder, "film.webm"));
  const episode = await readFile(join(folder, "episode.md"), "utf8");
  const media = 'media:\n  - { src: film.webm, type: "video/webm" }\n';
  await writeFile(join(folder, "episode.md"), episode.replace(/media:\n(?: {2}- .*\n)+/, media));
  const demo = await openDemo(content);
  return {
    ...demo,
    async close() {
      await demo.close();
      await rm(around, { recursive: true, force: true });
    },
  };
}

describe.skipIf(BROWSER === null)(`a film in the deck${UNLESS_BROWSER}`, () => {
  const here = visiting(openFilm);
  const open = (path: string) => openPlayer(here.seen.page, here.demo.url + path);

  test("has its picture over the bar, at every width", async () => {
    for (const width of [1440, 820, 390]) {
      await here.seen.page.setViewportSize({ width, height: 900 });
      const page = await open(MONDAY);
      const [picture, bar] = [await page.locator("video").boundingBox(), await page.locator(".deck-bar").boundingBox()];
      expect(picture?.height, `${width} px`).toBeGreaterThan(120);
      expect(bar?.y, `${width} px`).toBeGreaterThanOrEqual((picture?.y ?? 0) + (picture?.height ?? 0));
    }
  });

  test("fills the screen with its captions and its controls, by F, and gives it back", async () => {
    const page = await open(`${MONDAY}#t=6`);
    await page.keyboard.press("f");
    await page.waitForFunction(() => document.fullscreenElement?.matches(".deck"));
    await page.click(".d-play");
    await page.waitForFunction(() => {
      const line = document.querySelector(".caption-line");
      return line?.checkVisibility({ visibilityProperty: true }) === true && line.textContent !== "";
    });
    const over = await page.evaluate(() => {
      const boxOf = (selector: string) => document.querySelector(selector)?.getBoundingClientRect();
      const [picture, line, bar] = [boxOf("video"), boxOf(".caption-line"), boxOf(".deck-bar")];
      return { inOrder: (picture?.bottom ?? 1) <= (line?.top ?? 0) + 1, ends: bar?.bottom, high: innerHeight };
    });
    expect(over.inOrder).toBe(true);
    expect(over.ends).toBe(over.high);
    await page.click(".d-full");
    await page.waitForFunction(() => document.fullscreenElement === null);
    expect(here.seen.problems).toEqual([]);
  });

  test("on a low screen the picture goes and the bar stays", async () => {
    await here.seen.page.setViewportSize({ width: 640, height: 360 });
    const page = await open(MONDAY);
    await page.evaluate(() => scrollTo({ top: 3000, behavior: "instant" }));
    const bar = await page.locator(".deck-bar").boundingBox();
    expect(bar?.y).toBeGreaterThanOrEqual(0);
    expect((bar?.y ?? 0) + (bar?.height ?? 0)).toBeLessThan(180);
  });
});
