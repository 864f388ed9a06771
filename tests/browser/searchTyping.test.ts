import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { BROWSER, UNLESS_BROWSER } from "./chromium.ts";
import { visiting } from "./visiting.ts";

const SOON = { timeout: 20_000 };

describe.skipIf(BROWSER === null)(`search while somebody types${UNLESS_BROWSER}`, () => {
  const here = visiting();
  const field = (page: Page) => page.locator("input[name=q]");
  const open = async (): Promise<Page> => {
    await here.seen.page.goto(`${here.demo.url}search/`);
    return here.seen.page;
  };
  const found = (page: Page) => page.textContent("p.found");
  const ofTheIndex = () => here.seen.requests.filter((address) => address.includes("/search/index/"));

  test("results come without Enter, the focus stays, and Back leads to where one came from", async () => {
    const { page } = here.seen;
    await page.goto(here.demo.url);
    const before = await page.evaluate(() => history.length);
    await open();
    await field(page).pressSequentially("lighthouse", { delay: 20 });
    await expect.poll(() => found(page), SOON).toMatch(/have lighthouse/);
    await field(page).pressSequentially(" keeper", { delay: 20 });
    await expect.poll(() => found(page), SOON).toMatch(/lighthouse keeper/);
    expect(await page.locator("li.result").count()).toBeGreaterThan(0);
    expect(page.url()).toContain("?q=lighthouse+keeper");
    expect(await field(page).evaluate((own) => own === document.activeElement)).toBe(true);
    expect(await page.evaluate(() => history.length)).toBe(before + 1);
    await page.goBack();
    expect(page.url()).toBe(here.demo.url);
    expect(here.seen.problems).toEqual([]);
  });

  test("nothing of the index is asked for before something is typed, and no two letters are looked for", async () => {
    const page = await open();
    await field(page).focus();
    await page.waitForLoadState("networkidle");
    expect(ofTheIndex()).toEqual([]);
    await field(page).pressSequentially("sa");
    await expect.poll(() => ofTheIndex().length, SOON).toBeGreaterThan(0); // it is made ready
    await page.waitForFunction(() => document.querySelector(".found")?.ariaBusy === "false");
    expect(await found(page)).toBe("");
    expect(new URL(page.url()).search).toBe("");
  });

  test("a space at the end stays, and the same words are not looked for again", async () => {
    const page = await open();
    await field(page).pressSequentially("sailings ");
    await expect.poll(() => found(page), SOON).toMatch(/have sailings/);
    expect(await field(page).inputValue()).toBe("sailings ");
    const first = await page.locator("li.result").first().elementHandle();
    await field(page).pressSequentially(" ");
    await page.waitForFunction(() => document.querySelector(".found")?.ariaBusy === "false");
    expect(await field(page).inputValue()).toBe("sailings  ");
    expect(await first?.evaluate((own) => own.isConnected)).toBe(true);
  });

  test("an answer that comes late is not shown over a newer one", async () => {
    const page = await open();
    await field(page).pressSequentially("dredging");
    await expect.poll(() => found(page), SOON).toMatch(/dredging/);
    const late: (() => Promise<void>)[] = [];
    let holds = true;
    await page.route("**/search/index/**/fragment/**", async (route) => {
      if (holds) late.push(() => route.continue());
      else await route.continue();
    });
    await field(page).fill("lighthouse");
    await expect.poll(() => late.length, SOON).toBeGreaterThan(0);
    holds = false;
    await field(page).fill("dredging");
    await expect.poll(() => page.url(), SOON).toContain("q=dredging");
    await expect.poll(() => found(page), SOON).toMatch(/dredging/);
    const shown = await page.locator("li.result h3").allTextContents();
    const arrived = page.waitForResponse("**/search/index/**/fragment/**");
    await Promise.all(late.map((go) => go()));
    await arrived;
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 500)));
    expect(await found(page)).toMatch(/dredging/);
    expect(await page.locator("li.result h3").allTextContents()).toEqual(shown);
  });

  test("letters that are still being put together are not looked for", async () => {
    const page = await open();
    const put = (type: string, isComposing: boolean) =>
      field(page).evaluate(
        (own: HTMLInputElement, [name, composing]) => {
          own.value = "sailings";
          own.dispatchEvent(new InputEvent(name, { bubbles: true, isComposing: composing }));
        },
        [type, isComposing] as const,
      );
    await put("input", true);
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 1500))); // longer than any rest
    expect(new URL(page.url()).search).toBe("");
    await put("compositionend", false);
    await expect.poll(() => found(page), SOON).toMatch(/have sailings/);
  });

  test("what was found is read aloud when typing rests, not before", async () => {
    const page = await open();
    const said = page.locator("p.found");
    await page.evaluate(() => {
      const region = document.querySelector(".found");
      const seen: string[] = [];
      Object.assign(globalThis, { seen });
      new MutationObserver(() => {
        if (region?.ariaBusy !== "true") seen.push(region?.textContent ?? "");
      }).observe(region as Element, { childList: true, attributes: true });
    });
    await field(page).pressSequentially("sailings", { delay: 300 });
    await expect.poll(() => said.getAttribute("aria-busy"), SOON).toBe("false");
    await expect.poll(() => found(page), SOON).toMatch(/have sailings/);
    const heard = await page.evaluate(() => (globalThis as unknown as { seen: string[] }).seen);
    expect(new Set(heard.filter((text) => !text.startsWith("Searching")))).toEqual(new Set([await found(page)]));
  });
});
