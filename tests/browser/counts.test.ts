import type { Page } from "playwright-core";
import { afterEach, describe, expect, test } from "vitest";
import { BROWSER, UNLESS_BROWSER } from "./chromium.ts";
import { visiting } from "./visiting.ts";

const SOON = { timeout: 20_000 };

describe.skipIf(BROWSER === null)(`counts beside the filters${UNLESS_BROWSER}`, () => {
  const here = visiting();
  afterEach(() => expect(here.seen.problems).toEqual([]));

  const open = async (query: string): Promise<Page> => {
    const { page } = here.seen;
    await page.goto(`${here.demo.url}search/${query}`);
    await page.waitForFunction(() => /\bsegments?\b/i.test(document.querySelector(".found")?.textContent ?? ""));
    return page;
  };
  /** When they are counted. */
  const counted = async (query: string): Promise<Page> => {
    const page = await open(query);
    await page.waitForFunction(() => document.querySelector("select option[aria-label]") !== null, null, SOON);
    return page;
  };
  /** What each choice says it would leave. */
  const offered = (page: Page) =>
    page.evaluate(() => {
      const choices: { name: string; value: string; count: number }[] = [];
      for (const option of document.querySelectorAll<HTMLOptionElement>("select option:not([value=''])"))
        choices.push({
          name: option.closest("select")?.name ?? "",
          value: option.value,
          count: Number(/, (\d+) segments?$/.exec(option.ariaLabel ?? "")?.[1]),
        });
      for (const box of document.querySelectorAll<HTMLInputElement>("[name=kind], [name=corrected]"))
        choices.push({
          name: box.name,
          value: box.value,
          count: Number(
            /^(\d+) segments?$/.exec(box.closest("label")?.querySelector(".k-count")?.textContent ?? "")?.[1],
          ),
        });
      return choices;
    });
  /** How many segments the page says that it has found. */
  const segments = async (page: Page): Promise<number> => {
    const said = (await page.textContent("p.found")) ?? "";
    const counts = [...said.matchAll(/(\d+) (?:more )?segments?/g)].map(([, count]) => Number(count));
    return counts.reduce((sum, count) => sum + count, 0);
  };

  /** How many segments there are with this value chosen, alone in its group, and all else as it was. */
  const chosen = async (page: Page, query: string, name: string, value: string): Promise<number> => {
    const address = new URLSearchParams(query);
    address.delete(name);
    address.append(name, value);
    await page.evaluate((next) => {
      history.pushState(null, "", `?${next}`);
      dispatchEvent(new PopStateEvent("popstate"));
    }, String(address));
    await page.waitForFunction(() => document.querySelector(".results")?.ariaBusy === "false");
    return segments(page);
  };

  test.each([
    "?q=sailings",
    "?q=lighthouse+steps+winter",
    "?q=harbour+office",
    "?q=Osmond+Tarick",
    `?q=${encodeURIComponent('"sailings a week"')}`,
    "?q=evening&kind=weather",
    "?q=sailings&speaker=Ilse+Marrane",
    "?place=Sollen",
    "?q=the&kind=package&kind=two-way&corrected=1",
  ])("each choice leaves what stands beside it: %s", async (query) => {
    const choices = await offered(await counted(query));
    expect(choices.length).toBeGreaterThan(20);
    const left: typeof choices = [];
    for (const { name, value } of choices)
      left.push({ name, value, count: await chosen(here.seen.page, query, name, value) });
    expect(choices).toEqual(left);
  });
});
