import { readdir, readFile } from "node:fs/promises";
import { basename, join } from "node:path";
import type { Page } from "playwright-core";
import { serve } from "../../src/desk/serve.ts";
import { grouped } from "../../src/model/grouped.ts";
import { BROWSER, launch } from "../browser/chromium.ts";
import { NothingMeasured } from "../support/broadcasts.ts";
import { build, DEMO, DEMO_DAY, newFolder, removeFolder } from "../support/site.ts";

const QUESTIONS = join(import.meta.dirname, "search");

interface Placed {
  readonly kind: string;
  /** Of the first that answers, from 0; -1: none does. */
  readonly place: number;
}

/**
 * What people ask of the demo's search, closest first, in a browser: where what answers it comes. @param asked sets of questions; without
 * any, those that the search may be changed by (`tuned…`), each by itself and together. The others are kept for a last figure: nobody
 * looks into them before.
 */
export async function benchSearch(asked: readonly string[]): Promise<void> {
  const all = (await readdir(QUESTIONS)).map((file) => basename(file, ".txt")).sort();
  const strange = asked.find((set) => !all.includes(set));
  if (strange !== undefined)
    throw new NothingMeasured(`There are no questions ${strange}. There are: ${all.join(", ")}.`);
  const sets = asked.length > 0 ? asked : all.filter((set) => set.startsWith("tuned"));
  if (BROWSER === null) throw new NothingMeasured("No browser was found, and the search is measured in one.");
  const folder = await newFolder();
  const site = join(folder, "site");
  await build(DEMO, site, DEMO_DAY);
  const [serving, browser] = await Promise.all([serve({ folder: site, base: "/", port: 0 }), launch()]);
  try {
    const page = await browser.newPage();
    await page.clock.setFixedTime(DEMO_DAY); // by which "last Tuesday" is meant
    const together: Placed[] = [];
    for (const set of sets) {
      const questions = readQuestions(await readFile(join(QUESTIONS, `${set}.txt`), "utf8"));
      const placed: Placed[] = [];
      for (const { kind, words, answers } of questions) {
        const found = await foundFor(page, serving.url, words);
        placed.push({ kind, place: found.findIndex((path) => answers.includes(path)) });
      }
      printTable(set, placed);
      together.push(...placed);
    }
    if (sets.length > 1) printTable(sets.join(" and "), together);
  } finally {
    await browser.close();
    await serving.close();
    await removeFolder(folder);
  }
}

/** By kind, and all of them at the end. */
function printTable(title: string, placed: readonly Placed[]): void {
  console.log(`\n| ${title} | asked | first | among five |\n|---|---|---|---|`);
  for (const [kind, own] of [...grouped(placed, (one) => one.kind), ["all", placed] as const]) {
    const within = (most: number) => own.filter(({ place }) => place >= 0 && place < most).length;
    console.log(`| ${kind} | ${own.length} | ${within(1)} | ${within(5)} |`);
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
