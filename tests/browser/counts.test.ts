import type { Page } from "playwright-core";
import { afterEach, describe, expect, test } from "vitest";
import { barriers } from "./barriers.ts";
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

  test("a name with none can't be chosen; the one that is stays so", async () => {
    const page = await counted("?q=sailings&speaker=Ilse+Marrane&kind=weather");
    const option = (value: string) => page.locator("select[name=speaker] option", { hasText: value });
    expect(await option("Ilse Marrane").textContent()).toBe("Ilse Marrane (0)");
    expect(await option("Ilse Marrane").isEnabled()).toBe(true);
    expect(await option("Tamsin Hathersay").isDisabled()).toBe(true);
    expect(await page.locator("select[name=speaker] option:checked").count()).toBe(1);
  });

  test("Back to a name that had none meanwhile: the form still says it", async () => {
    const page = await counted("?speaker=Ilse+Marrane");
    await page.selectOption("select[name=speaker]", "");
    await page.check("[name=kind][value=weather]");
    const option = page.locator("select[name=speaker] option", { hasText: "Ilse Marrane" });
    await expect.poll(() => option.isDisabled(), SOON).toBe(true);
    const form = () =>
      page.evaluate(() =>
        String(new FormData(document.querySelector("form#finder") as HTMLFormElement).get("speaker")),
      );
    const said = await page.evaluate(() => {
      const list = document.querySelector<HTMLSelectElement>("select[name=speaker]");
      history.replaceState(null, "", "?speaker=Ilse+Marrane");
      dispatchEvent(new PopStateEvent("popstate"));
      return list?.selectedOptions[0]?.disabled;
    });
    expect(said).toBe(false);
    expect(await form()).toBe("Ilse Marrane");
  });

  test("the figures are read as segments, name the choice, and are no barrier", async () => {
    const page = await counted("?q=sailings");
    const box = page.locator("label:has([name=kind][value=package])");
    expect(await box.textContent()).toMatch(/Package\s+1 segment$/);
    expect(await page.getByRole("checkbox", { name: "Package 1 segment", exact: true }).count()).toBe(1);
    expect(await barriers(page)).toEqual([]);
  });

  test("nothing is announced, nothing moves, and the focus stays", async () => {
    const { page } = here.seen;
    for (const width of [1440, 390]) {
      await page.setViewportSize({ width, height: 900 });
      await page.route("**/assets/counts-*.js", async (route) => {
        await new Promise((resolve) => setTimeout(resolve, 800));
        await route.continue();
      });
      await open("?q=sailings");
      if (width === 390) await page.click(".narrow-by > summary");
      await page.focus("select[name=topic]");
      const before = await page.evaluate(() => {
        const said: string[] = [];
        const live = document.querySelectorAll("[role=status], [aria-live], [role=alert]");
        for (const region of live)
          new MutationObserver(() => said.push(region.textContent ?? "")).observe(region, {
            childList: true,
            subtree: true,
          });
        Object.assign(globalThis, { said });
        return [...document.querySelectorAll(".filters *:not(.k-bar, .k-bar *, .k-count, .k-count *), li.result")].map(
          (own) => String(own.getBoundingClientRect().top),
        );
      });
      await page.waitForFunction(
        () => document.querySelector("[name=speaker] option[aria-label]") !== null,
        null,
        SOON,
      );
      const after = await page.evaluate(() => ({
        said: (globalThis as unknown as { said: string[] }).said,
        focused: document.activeElement?.getAttribute("name"),
        height: document.querySelector(".filters")?.getBoundingClientRect().height,
        places: [...document.querySelectorAll(".filters *:not(.k-bar, .k-bar *, .k-count, .k-count *), li.result")].map(
          (own) => String(own.getBoundingClientRect().top),
        ),
      }));
      expect(after.said).toEqual([]);
      expect(after.focused).toBe("topic");
      expect(after.places).toEqual(before);
      await page.unroute("**/assets/counts-*.js");
    }
  });

  test("a list that is open stays open, and as it is", async () => {
    const { page } = here.seen;
    let go: () => Promise<void> = async () => undefined;
    await page.route("**/assets/counts-*.js", (route) => {
      go = () => route.continue();
    });
    await open("?q=sailings");
    await page.locator("select[name=topic]").click();
    const isOpen = () => page.evaluate(() => document.querySelector("select[name=topic]")?.matches(":open"));
    expect(await isOpen()).toBe(true);
    await go();
    await page.waitForFunction(() => document.querySelector("[name=speaker] option[aria-label]") !== null, null, SOON);
    expect(await isOpen()).toBe(true);
    expect(await page.locator("[name=topic] option[aria-label]").count()).toBe(0);
    await page.keyboard.press("Escape");
    await page.locator("select[name=topic]").blur();
    await expect.poll(() => page.locator("[name=topic] option[aria-label]").count(), SOON).toBeGreaterThan(0);
  });

  test("nothing is counted where nothing is asked, nor fetched before the filters are seen", async () => {
    const { page } = here.seen;
    const fetched = () => here.seen.requests.filter((address) => address.includes("/assets/counts-"));
    await page.setViewportSize({ width: 390, height: 900 });
    await open("?q=sailings");
    await page.waitForLoadState("networkidle");
    expect(fetched()).toEqual([]);
    await page.click(".narrow-by > summary");
    await page.waitForFunction(() => document.querySelector("option[aria-label]") !== null, null, SOON);
    expect(fetched()).toHaveLength(1);
    await page.fill("input[name=q]", "");
    await page.keyboard.press("Enter");
    await expect.poll(() => page.locator("option[aria-label], option:disabled").count(), SOON).toBe(0);
    expect((await page.locator(".k-count").allTextContents()).join("")).toBe("");
  });

  test("where what counts can't be loaded, nothing is said, and narrowing works", async () => {
    const { page } = here.seen;
    await page.route("**/assets/counts-*.js", (route) => route.abort());
    await open("?q=sailings");
    await page.waitForLoadState("networkidle");
    await page.check("[name=kind][value=package]");
    await page.waitForFunction(() => document.querySelectorAll("li.result").length === 1);
    expect((await page.locator(".k-count").allTextContents()).join("")).toBe("");
    expect(here.seen.problems.filter((problem) => problem.startsWith("uncaught"))).toEqual([]);
    here.seen.problems.length = 0; // of the file that was kept away
  });
});
