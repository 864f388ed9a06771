import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { beginStation } from "../../src/actions/begin.ts";
import { BROWSER, goTo, UNLESS_BROWSER, visit } from "./chromium.ts";
import { type Demo, openDemo } from "./demo.ts";
import { opening } from "./visiting.ts";

const PAGES = [
  "",
  "2026-10-05/",
  "2026-10-05/#t=108",
  "2026-10-05/#t=108.9",
  "2026-10-05/hallan-light/",
  "2026-10-07/",
  "corrections/",
  "corrections/2026-10-06-1/",
  "search/",
  "search/?q=sailings",
  "2026/",
  "corrections-policy/",
  "record/",
];

describe.skipIf(BROWSER === null)(`pages stand still while they open${UNLESS_BROWSER}`, () => {
  const here = opening();

  test.each(PAGES)("/%s", async (path) => {
    for (const width of [1440, 820, 390]) {
      const seen = await visit(here.browser, { viewport: { width, height: 900 } });
      await seen.page.addInitScript(() => {
        // Layout Instability: the sum of all shifts that no reader asked for.
        const sum = { shifted: 0 };
        Object.assign(window, sum);
        new PerformanceObserver((list) => {
          for (const entry of list.getEntries()) sum.shifted += (entry as unknown as { value: number }).value;
          Object.assign(window, sum);
        }).observe({ type: "layout-shift", buffered: true });
      });
      await goTo(seen.page, here.demo.url + path);
      await seen.page.waitForFunction(() => document.querySelector(".deck:not([data-ready])") === null);
      await seen.page.evaluate(async () => {
        for (let frame = 0; frame < 20; frame++) await new Promise(requestAnimationFrame);
      });
      const shifted = await seen.page.evaluate(() => (window as unknown as { shifted: number }).shifted);
      expect(shifted, `${width} px`).toBeLessThan(0.02);
      await seen.close();
    }
  });
});

const LONG = "Llan".repeat(1250);

/** A station whose titles, people and words have no place where a line may end. */
async function openLong(): Promise<Demo> {
  const around = await mkdtemp(join(tmpdir(), "long-"));
  const content = join(around, "content");
  const url = "https://tide.example.org/";
  await beginStation(content, { title: LONG, timezone: "Europe/London", language: "en-GB", url });
  const folder = join(content, "episodes/2026/2026-10-05");
  const change = async (file: string, from: RegExp, to: string) => {
    const path = join(folder, file);
    await writeFile(path, (await readFile(path, "utf8")).replace(from, to));
  };
  await change("episode.md", /title: .*/g, `title: ${LONG}`);
  await change("transcript.vtt", /<v [^>]+>/g, `<v ${LONG}>${LONG} `);
  await cp("content/episodes/2026/2026-10-05/web.mp3", join(folder, "web.mp3"));
  await change("episode.md", /\nclock:/, "\nmedia: [{ src: web.mp3, type: audio/mpeg }]\nclock:");
  const demo = await openDemo(content);
  return {
    ...demo,
    async close() {
      await demo.close();
      await rm(around, { recursive: true, force: true });
    },
  };
}

describe.skipIf(BROWSER === null)(`a word of five thousand letters${UNLESS_BROWSER}`, () => {
  const here = opening(openLong);

  test("runs over the edge of no page", async () => {
    for (const width of [1440, 820, 390, 320]) {
      const seen = await visit(here.browser, { viewport: { width, height: 900 } });
      for (const path of here.demo.pages) {
        await goTo(seen.page, here.demo.url + path);
        const over = await seen.page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect.soft(over, `/${path}, ${width} px`).toBeLessThanOrEqual(0);
      }
      await seen.close();
    }
  });
});
