import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { BROWSER, launch, visit } from "../browser/chromium.ts";
import { openDemo } from "../browser/demo.ts";
import { NothingMeasured } from "../support/broadcasts.ts";
import { newFolder, removeFolder } from "../support/site.ts";
import { generateArchive, LAST, SHORT_MS } from "./generate.ts";

/** So many topics and places beside the eight of each evening. */
const [TOPICS, PLACES] = [600, 300];
const SEGMENTS = 8;
/** What nothing, a word nearly everywhere, some words and one choice leave. */
const QUERIES = ["?kind=package", "?q=the&order=newest", "?q=government+harbour", "?q=people&topic=harbour"];

/** Each in a browser that has nothing yet. */
const TIMES = 5;

/** Opens the search of a made-up archive with many values, and looks how long figures beside them take, and in what tasks. */
export async function benchCounts(episodes = 250): Promise<void> {
  if (BROWSER === null) throw new NothingMeasured("No browser was found, and counting is measured in one.");
  const folder = await newFolder();
  const content = join(folder, "content");
  await generateArchive(content, episodes, LAST, SHORT_MS, withValues);
  const [demo, browser] = await Promise.all([openDemo(content), launch()]);
  try {
    console.log(
      "| query | values | tiers | figures after at most, ms | longest task, ms | tasks over 50 ms |\n|---|---|---|---|---|---|",
    );
    for (const query of QUERIES) {
      const runs: Awaited<ReturnType<typeof visitOnce>>[] = [];
      for (let time = 0; time < TIMES; time++) runs.push(await visitOnce(browser, `${demo.url}search/${query}`));
      const tasks = runs.flatMap((run) => run.tasks);
      const [longest, long] = [Math.max(0, ...tasks), tasks.filter((ms) => ms > 50).length];
      const took = Math.max(...runs.map((run) => run.took));
      console.log(
        `| ${query} | ${runs[0]?.values} | ${runs[0]?.tiers} | ${took.toFixed(0)} | ${longest.toFixed(0)} | ${long} |`,
      );
    }
  } finally {
    await browser.close();
    await demo.close();
    await removeFolder(folder);
  }
}

async function visitOnce(browser: Browser, address: string) {
  const { page, requests, close } = await visit(browser);
  await watchTasks(page);
  await page.goto(address);
  const seen = await counted(page);
  const tiers = new Set(requests.flatMap((own) => /\/index\/(\d{4}[^/]*)\//.exec(own)?.[1] ?? [])).size;
  await close();
  return { ...seen, tiers };
}

/** A topic and a place more for each segment, so that all of them come around. */
function withValues(order: string, n: number): string {
  let at = n * SEGMENTS;
  return order.replace(/topics: \[(\w+)\]/g, (_, topic) => {
    const own = `topics: [${topic}, matter ${at % TOPICS}], places: [Place ${at % PLACES}]`;
    at++;
    return own;
  });
}

/** The tasks of the page's own thread of 50 ms and more, and when results were shown. */
const watchTasks = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    const seen = Object.assign(window, { tasks: [] as { from: number; ms: number }[], shown: 0, counted: 0 });
    new PerformanceObserver((list) => {
      for (const { startTime, duration } of list.getEntries()) seen.tasks.push({ from: startTime, ms: duration });
    }).observe({ type: "longtask", buffered: true });
    new MutationObserver(() => {
      if (seen.shown === 0 && document.querySelector("li.result")) seen.shown = performance.now();
      if (seen.counted === 0 && document.querySelector("option[aria-label]")) seen.counted = performance.now();
    }).observe(document, { childList: true, subtree: true, attributes: true });
  });

/** When figures stand beside all values. */
async function counted(page: Page): Promise<{ values: number; took: number; tasks: readonly number[] }> {
  await page.waitForFunction(() => document.querySelector("option[aria-label]") !== null, null, { timeout: 60_000 });
  return page.evaluate(async () => {
    await new Promise((resolve) => setTimeout(resolve, 500)); // tasks are told after they end
    const seen = window as unknown as { tasks: { from: number; ms: number }[]; shown: number; counted: number };
    // The script that counts comes last: what took long before it is the search's own.
    const fetched = performance.getEntriesByType("resource").find(({ name }) => name.includes("/assets/counts-"));
    const begun = (fetched as PerformanceResourceTiming).responseEnd;
    const own = seen.tasks.filter(({ from, ms }) => from + ms > begun);
    return {
      values: document.querySelectorAll("select option:not([value='']), [name=kind], [name=corrected]").length,
      took: seen.counted - seen.shown,
      tasks: own.map(({ ms }) => ms),
    };
  });
}
