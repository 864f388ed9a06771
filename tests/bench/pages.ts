import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { beginStation } from "../../src/actions/begin.ts";
import { BROWSER, goTo, launch, visit } from "../browser/chromium.ts";
import { openDemo } from "../browser/demo.ts";
import { NothingMeasured } from "../support/broadcasts.ts";
import { layLongEpisode, STANDS } from "../support/longEpisode.ts";
import { wavOf } from "../support/sounds.ts";

/** So many captions; the first is the floor that the others are held against. */
const SIZES = [100, 2000];
const ID = "2026-10-06";
/** Samples a second. */
const RATE = 8000;

interface Frames {
  /** Milliseconds between two frames: in the middle, and of the slowest in twenty. */
  readonly middle: number;
  readonly slow: number;
  /** Tasks of more than 50 ms. */
  readonly longTasks: number;
}

/**
 * Opens the page of an episode with so many captions, and plays it while it follows the words and is scrolled through: how
 * long frames take, how many long tasks there are, and how much the page shifts while it opens.
 */
export async function benchPages(sizes: readonly number[] = SIZES): Promise<void> {
  if (BROWSER === null) throw new NothingMeasured("No browser was found, and pages are measured in one.");
  console.log(
    "| captions | what | frame, ms | slowest in 20, ms | tasks over 50 ms | layout shift |\n|---|---|---|---|---|---|",
  );
  for (const size of sizes) {
    const around = await mkdtemp(join(tmpdir(), "frames-"));
    try {
      await benchPage(size, await longStation(around, size));
    } finally {
      await rm(around, { recursive: true, force: true });
    }
  }
}

/** A station with an episode of so many captions, and a recording as long. */
async function longStation(around: string, captions: number): Promise<string> {
  const content = join(around, "content");
  const url = "https://tide.example.org/";
  await beginStation(content, { title: "The Evening Tide", timezone: "Europe/London", language: "en-GB", url });
  await layLongEpisode(content, ID, captions);
  const folder = join(content, "episodes", ID.slice(0, 4), ID);
  const silence = new Float32Array((captions * STANDS * RATE) / 1000);
  await writeFile(join(folder, "web.wav"), wavOf([silence], RATE, "u8"));
  const episode = await readFile(join(folder, "episode.md"), "utf8");
  const media = "media: [{ src: web.wav, type: audio/wav }]";
  await writeFile(join(folder, "episode.md"), episode.replace("\nclock:", `\n${media}\nclock:`));
  return content;
}

async function benchPage(captions: number, content: string): Promise<void> {
  const [demo, browser] = await Promise.all([openDemo(content), launch()]);
  try {
    const { page } = await visit(browser);
    await page.addInitScript(() => {
      const seen = Object.assign(window, { shifted: 0, long: 0 });
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) seen.shifted += (entry as PerformanceEntry & { value: number }).value;
      }).observe({ type: "layout-shift", buffered: true });
      new PerformanceObserver((list) => {
        seen.long += list.getEntries().length;
      }).observe({ type: "longtask", buffered: true });
    });
    await goTo(page, `${demo.url}${ID}/`);
    const shifted = await page.evaluate(() => (window as unknown as { shifted: number }).shifted);
    const row = (what: string, { middle, slow, longTasks }: Frames) =>
      console.log(
        `| ${captions} | ${what} | ${middle.toFixed(1)} | ${slow.toFixed(1)} | ${longTasks} | ${shifted.toFixed(3)} |`,
      );
    await page.getByRole("button", { name: "Play", exact: true }).click();
    row("playing and following", await framesOf(page, 10_000, false));
    row("playing and scrolling", await framesOf(page, 10_000, true));
  } finally {
    await browser.close();
    await demo.close();
  }
}

/** @param ms how long it is looked at. @param scrolls through the page meanwhile, from its top to its end. */
async function framesOf(page: Page, ms: number, scrolls: boolean): Promise<Frames> {
  const { times, longTasks } = await page.evaluate(
    async ([length, isScrolling]) => {
      const seen = window as unknown as { long: number };
      const [before, times, begin] = [seen.long, [] as number[], performance.now()];
      const height = document.documentElement.scrollHeight - innerHeight;
      for (let last = begin; last - begin < length; ) {
        if (isScrolling) scrollTo({ top: ((last - begin) / length) * height, behavior: "instant" });
        const now = await new Promise<number>(requestAnimationFrame);
        times.push(now - last);
        last = now;
      }
      return { times, longTasks: seen.long - before };
    },
    [ms, scrolls] as const,
  );
  const ordered = times.toSorted((a, b) => a - b);
  const at = (part: number) => ordered[Math.floor(ordered.length * part)] ?? 0;
  return { middle: at(0.5), slow: at(0.95), longTasks };
}
