import type { Locator, Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { barriers } from "./barriers.ts";
import { BROWSER, goTo, UNLESS_BROWSER, visit } from "./chromium.ts";
import { clipboard, markedWords, plainWords, select } from "./quoting.ts";
import { visiting } from "./visiting.ts";

const WAIT = { timeout: 20_000 };
const EPISODE = "2026-10-05/";
const panelOf = (page: Page): Locator => page.locator("section.quote");

async function quote(page: Page, from: string, to: string = from): Promise<Locator> {
  await select(page, from, to);
  const panel = panelOf(page);
  await panel.waitFor(WAIT);
  return panel;
}

async function copied(page: Page, way: string): Promise<string> {
  await panelOf(page).getByRole("button", { name: way }).click();
  await expect.poll(() => panelOf(page).locator(".quote-done").textContent(), WAIT).toBe("Copied.");
  return clipboard(page);
}

describe.skipIf(BROWSER === null)(`a quotation${UNLESS_BROWSER}`, () => {
  const here = visiting();
  const open = async (path: string): Promise<Page> => {
    const { page } = here.seen;
    await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
    await goTo(page, here.demo.url + path);
    return page;
  };

  test("is fetched when words are selected, and no sooner", async () => {
    const page = await open(EPISODE);
    const asked = () => here.seen.requests.filter((address) => /\/assets\/quote/.test(address)).length;
    expect(asked()).toBe(0);
    const panel = await quote(page, "Our reporter");
    expect(asked()).toBe(2);
    expect(await panel.locator(".quote-source").textContent()).toMatch(
      /^Tamsin Hathersay, “.+”, The Evening Tide, .*5 October 2026, at 0:46\.$/,
    );
    expect(here.seen.problems).toEqual([]);
  });

  test("is copied as text, as HTML, as a citation and as a link", async () => {
    const page = await open(EPISODE);
    await quote(page, "From next Monday", "to the outer islands");
    const [text, html, citation, link] = [
      await copied(page, "Copy text"),
      await copied(page, "Copy HTML"),
      await copied(page, "Copy citation"),
      await copied(page, "Copy link"),
    ];
    const words = "From next Monday there will be 11 sailings a week from Sollen to the outer islands";
    // Said wrong, and corrected since: who quotes it quotes that too.
    const said = "On-air error corrected on 6 October 2026.";
    expect(text).toMatch(new RegExp(`^“${words}”\n\nTamsin Hathersay, .+, at 0:36\\. ${said}\nhttp`));
    expect(html).toContain(`<p dir="auto">${words}</p>`);
    expect(html).toContain(`<blockquote cite="${link.replaceAll("&", "&amp;")}" lang="en-GB">`);
    expect(citation).toMatch(new RegExp(`^Tamsin Hathersay, .+ ${said} http`));
    expect(link).toMatch(/\/2026-10-05\/#t=36\.15:~:text=/);
  });

  test.each([
    ["a few words", "Our reporter", "Our reporter"],
    ["words that stand in a title too", "Good evening", "Good evening"],
    ["words with a mark of a correction among them", "From next Monday", "to the outer islands"],
    ["half a word", "eporte", "eporte"],
    ["a paragraph and the next", "carried empty seats", "has been down"],
    ["many paragraphs", "First tonight", "16"],
  ])("its address opens on exactly these words: %s", async (_why, from, to) => {
    const page = await open(EPISODE);
    const panel = await quote(page, from, to);
    const words = (await panel.locator(".quote-words").textContent()) ?? "";
    const address = await panel.getByRole("link").getAttribute("href");
    expect(await markedWords(here.browser, address ?? "")).toBe(plainWords(words));
  });

  test("across what is withdrawn has what is there, with a mark; words without a moment have none", async () => {
    const page = await open("2026-10-06/");
    const segment = page.locator("#sport");
    expect(await segment.locator(".words").count()).toBe(0);
    const ids = await page.evaluate(() => {
      const all = [...document.querySelectorAll(".words, #sport")];
      const gone = all.findIndex(({ id }) => id === "sport");
      const [before, after] = [all[gone - 1], all[gone + 1]];
      if (before === undefined || after === undefined) return null;
      getSelection()?.setBaseAndExtent(before, 0, after, after.childNodes.length);
      return [before.id, after.id];
    });
    expect(ids?.[0]).toMatch(/^aired=/);
    const panel = panelOf(page);
    await panel.waitFor(WAIT);
    expect(await panel.locator(".quote-words").textContent()).toContain("[Left out: something that is withdrawn]");
    expect(await panel.locator(".quote-source").textContent()).not.toMatch(/at \d+:\d\d/);
    expect(await panel.getByRole("link").getAttribute("href")).toMatch(/#:~:text=/);
  });

  test("of several speakers says who said what", async () => {
    const page = await open(EPISODE);
    await page.evaluate(() => {
      const turns = [...document.querySelectorAll(".turn")];
      const second = turns.findIndex(
        (turn, n) => n > 0 && turn.querySelector("b")?.textContent !== turns[n - 1]?.querySelector("b")?.textContent,
      );
      const [from, to] = [
        turns[second - 1]?.querySelector(".words:last-of-type"),
        turns[second]?.querySelector(".words"),
      ];
      if (from && to) getSelection()?.setBaseAndExtent(from, 0, to, to.childNodes.length);
    });
    await panelOf(page).waitFor(WAIT);
    expect(await copied(page, "Copy text")).toMatch(
      /^Tamsin Hathersay: “[^”]+”\n\nIlse Marrane: “[^”]+”\n\nTamsin Hathersay, Ilse Marrane, “/,
    );
  });

  test("neither takes the focus nor keys, and goes with Escape", async () => {
    const page = await open(EPISODE);
    const before = await page.evaluate(() => document.activeElement?.tagName);
    const [x, y] = await page.evaluate(() => {
      const cue = [...document.querySelectorAll(".cue")].find((own) => own.textContent?.startsWith("Our reporter"));
      cue?.scrollIntoView({ block: "center", behavior: "instant" });
      const box = cue?.getClientRects()[0];
      return [(box?.left ?? 0) + 12, (box?.top ?? 0) + 12] as const;
    });
    await page.mouse.dblclick(x, y);
    const panel = panelOf(page);
    await panel.waitFor(WAIT);
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe(before);
    await expect.poll(() => page.locator("[data-quote-says]").textContent(), WAIT).toMatch(/^Quotation ready: Tamsin/);
    const words = panel.locator(".quote-words");
    const short = await words.textContent();
    for (let n = 0; n < 9; n++) await page.keyboard.press("Shift+ArrowRight");
    await expect.poll(() => words.textContent(), WAIT).not.toBe(short);
    await page.keyboard.press("Tab");
    expect(await panel.evaluate((own) => own.contains(document.activeElement))).toBe(true);
    await page.keyboard.press("Escape");
    expect(await panel.isVisible()).toBe(false);
    expect(await page.evaluate(() => getSelection()?.isCollapsed)).toBe(false);
  });

  test("of a paragraph needs no selection: its time offers it", async () => {
    const page = await open(EPISODE);
    const stamp = page.locator(".words .stamp").nth(2);
    await stamp.focus();
    const button = page.getByRole("button", { name: "Quote this paragraph" });
    await button.waitFor(WAIT);
    await page.keyboard.press("Tab");
    expect(await button.evaluate((own) => own === document.activeElement)).toBe(true);
    await page.keyboard.press("Enter");
    const panel = panelOf(page);
    await panel.waitFor(WAIT);
    expect(await panel.evaluate((own) => own.contains(document.activeElement))).toBe(true);
    const said = (await page.locator(".words").nth(2).locator(".cue").allTextContents()).join(" ");
    expect(await panel.locator(".quote-words").textContent()).toBe(said.replace(/\s+/g, " ").trim());
    await page.keyboard.press("Escape");
    expect(await panel.isVisible()).toBe(false);
    expect(await stamp.evaluate((own) => own === document.activeElement)).toBe(true);
  });

  test.each([1440, 390])("no time and no number of a note gets into what the browser copies; %s px", async (width) => {
    const page = await open(EPISODE);
    await page.setViewportSize({ width, height: 800 });
    await page.evaluate(() => {
      const marked = document.querySelector(".mark")?.closest(".words");
      if (marked) getSelection()?.setBaseAndExtent(marked, 0, marked, marked.childNodes.length);
    });
    await page.keyboard.press("Control+C");
    const words = await page.evaluate(() =>
      [...(document.querySelector(".mark")?.closest(".words")?.querySelectorAll(".cue") ?? [])]
        .map((cue) => cue.textContent)
        .join(" "),
    );
    expect((await clipboard(page)).replace(/\s+/g, " ").trim()).toBe(words.replace(/\s+/g, " ").trim());
  });

  test.each([1440, 390])("copied across notes it has words alone, as text and as HTML; %s px", async (width) => {
    const page = await open("2026-10-07/");
    await page.setViewportSize({ width, height: 800 });
    await quote(page, "Good evening", "And Sollen Town win");
    await page.keyboard.press("Control+C");
    const [text = "", html = ""] = await page.evaluate(async () => {
      const [item] = await navigator.clipboard.read();
      const types = ["text/plain", "text/html"];
      return Promise.all(types.map(async (type) => (await item?.getType(type))?.text()));
    });
    const said = await page.locator("#headlines .cue").allTextContents();
    const words = plainWords(said.join(" ").replace(/(And Sollen Town win).*/s, "$1"));
    expect(plainWords(text)).toBe(words);
    expect(plainWords(html.replace(/<!--.*?-->|<[^>]*>/gs, " "))).toBe(words);
  });

  test("copied with a note at its end it has the note", async () => {
    const page = await open("2026-10-07/");
    await quote(page, "Good evening", "And Sollen Town win");
    await page.evaluate(() => {
      const words = document.querySelector("#headlines .words");
      const note = document.querySelector("#note-1 .note-body p");
      if (words && note) getSelection()?.setBaseAndExtent(words, 0, note, note.childNodes.length);
    });
    await page.keyboard.press("Control+C");
    expect(await clipboard(page)).toMatch(/^Good evening.+The work would cost 2\.3 million/s);
  });

  test("of a moment is a link that the deck copies", async () => {
    const page = await open(`${EPISODE}#t=108`);
    await page.getByRole("button", { name: "Copy a link to this moment" }).click();
    await expect.poll(() => page.locator(".deck-says").textContent(), WAIT).toMatch(/^The link to 1:4\d is copied\./);
    expect(await clipboard(page)).toMatch(/\/2026-10-05\/#t=10\d$/);
  });

  test.each(["light", "dark"] as const)("its panel has no barrier that axe knows: %s", async (colorScheme) => {
    const seen = await visit(here.browser, { colorScheme });
    await goTo(seen.page, here.demo.url + EPISODE);
    await quote(seen.page, "Our reporter");
    for (const width of [1440, 390]) {
      await seen.page.setViewportSize({ width, height: 800 });
      expect(await barriers(seen.page), `${width} px`).toEqual([]);
    }
    await seen.close();
  });
});
