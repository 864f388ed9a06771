import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { serve } from "../../src/desk/serve.ts";
import { BROWSER, launch } from "../browser/chromium.ts";
import { NothingMeasured } from "../support/broadcasts.ts";
import { build, DEMO, DEMO_DAY, newFolder, removeFolder } from "../support/site.ts";

/** The questions that the search may be changed by, and those that are kept for a last figure: nobody looks into them before. */
const SETS = ["tuned", "locked"];

interface Tally {
  asked: number;
  first: number;
  amongFive: number;
}

/** What people ask of the demo's search, closest first, in a browser: where what answers it comes. @param set `locked` or `tuned`. */
export async function benchSearch(set = "tuned"): Promise<void> {
  if (!SETS.includes(set)) throw new NothingMeasured(`There are no questions ${set}. There are: ${SETS.join(", ")}.`);
  if (BROWSER === null) throw new NothingMeasured("No browser was found, and the search is measured in one.");
  const questions = readQuestions(await readFile(join(import.meta.dirname, "search", `${set}.txt`), "utf8"));
  const folder = await newFolder();
  const site = join(folder, "site");
  await build(DEMO, site, DEMO_DAY);
  const [serving, browser] = await Promise.all([serve({ folder: site, base: "/", port: 0 }), launch()]);
  try {
    const page = await browser.newPage();
    await page.clock.setFixedTime(DEMO_DAY); // by which "last Tuesday" is meant
    const kinds = new Map<string, Tally>();
    for (const { kind, words, answers } of questions) {
      const five = (await foundFor(page, serving.url, words)).slice(0, 5);
      for (const name of [kind, "all"]) {
        const tally = kinds.get(name) ?? { asked: 0, first: 0, amongFive: 0 };
        tally.asked++;
        if (answers.includes(five[0] ?? "")) tally.first++;
        if (five.some((path) => answers.includes(path))) tally.amongFive++;
        kinds.set(name, tally);
      }
    }
    console.log(`\n| ${set} | asked | first | among five |\n|---|---|---|---|`);
    // All of them at the end.
    const rows = [...kinds].sort(([a], [b]) => Number(a === "all") - Number(b === "all"));
    for (const [kind, { asked, first, amongFive }] of rows)
      console.log(`| ${kind} | ${asked} | ${first} | ${amongFive} |`);
  } finally {
    await browser.close();
    await serving.close();
    await removeFolder(folder);
  }
}

/** The addresses of the segments that are found for some words, closest first. @param url the site's. */
export async function foundFor(page: Page, url: string, words: string): Promise<readonly string[]> {
  await page.goto(`${url}search/?order=closest&q=${encodeURIComponent(words)}`);
  await page.waitForFunction(() => !/^$|Searching/.test(document.querySelector(".found")?.textContent ?? ""));
  return page.locator(".result h3 a").evaluateAll((all) => all.map((own) => (own as HTMLAnchorElement).pathname));
}

/** A question a line: `kind | words | address address`, the addresses that answer it. */
const readQuestions = (text: string) =>
  text
    .split("\n")
    .filter((line) => line !== "")
    .map((line) => {
      const [kind = "", words = "", answers = ""] = line.split(" | ");
      return { kind, words, answers: answers.split(" ") };
    });
