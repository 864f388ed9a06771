import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { beginStation } from "../../src/actions/begin.ts";
import { BROWSER, goTo, UNLESS_BROWSER } from "./chromium.ts";
import { type Demo, openDemo } from "./demo.ts";
import { clipboard, markedWords, plainWords, select } from "./quoting.ts";
import { visiting } from "./visiting.ts";

const WAIT = { timeout: 20_000 };
const PAGE = "2026-10-05/";
/** Invented, and read from right to left. */
const ARABIC = "سفينة البريد تصل غدا إلى الميناء القديم";
const LONG = "Llan".repeat(1250);

/** A station in which somebody speaks Arabic, and somebody says a word without end. */
async function openOthers(): Promise<Demo> {
  const around = await mkdtemp(join(tmpdir(), "others-"));
  const content = join(around, "content");
  const url = "https://tide.example.org/";
  await beginStation(content, { title: "The Evening Tide", timezone: "Europe/London", language: "en-GB", url });
  const file = join(content, "episodes/2026/2026-10-05/transcript.vtt");
  const text = await readFile(file, "utf8");
  const said = [`<lang ar>${ARABIC}.</lang>`, `${LONG} is where it lands.`];
  let n = 0;
  await writeFile(
    file,
    text.replace(/^(<v [^>]+>).*$/gm, (line, voice: string) => (n < said.length ? `${voice}${said[n++]}` : line)),
  );
  const demo = await openDemo(content);
  return {
    ...demo,
    async close() {
      await demo.close();
      await rm(around, { recursive: true, force: true });
    },
  };
}

describe.skipIf(BROWSER === null)(`a quotation of words of other kinds${UNLESS_BROWSER}`, () => {
  const here = visiting(openOthers);

  async function quoted(words: string, width: number): Promise<string> {
    const { page } = here.seen;
    await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
    await page.setViewportSize({ width, height: 800 });
    await goTo(page, here.demo.url + PAGE);
    await select(page, words);
    const panel = page.locator("section.quote");
    await panel.waitFor(WAIT);
    expect((await panel.locator(".quote-words").textContent())?.trim()).toBe(words);
    const [over, beyond] = await panel.evaluate((own) => [
      document.documentElement.scrollWidth - innerWidth,
      own.getBoundingClientRect().right - innerWidth,
    ]);
    expect([over, beyond].filter((px) => (px ?? 1) > 0)).toEqual([]);
    await panel.getByRole("button", { name: "Copy text" }).click();
    await expect.poll(() => panel.locator(".quote-done").textContent(), WAIT).toBe("Copied.");
    expect((await clipboard(page)).split("\n")[0]).toBe(`“${words}”`);
    await panel.getByRole("button", { name: "Copy HTML" }).click();
    await expect.poll(() => clipboard(page), WAIT).toContain(`<p dir="auto">${words}</p>`);
    return (await panel.getByRole("link").getAttribute("href")) ?? "";
  }

  test.each([1440, 390])("from right to left: its address opens on exactly these; %s px", async (width) => {
    const address = await quoted(ARABIC, width);
    expect(await markedWords(here.browser, address)).toBe(plainWords(ARABIC));
  });

  // Chromium marks no word as long as this one, so the address is looked at.
  test.each([1440, 390])("of five thousand letters: its address names the whole word; %s px", async (width) => {
    expect(await quoted(LONG, width)).toMatch(new RegExp(`#:~:text=(?:[^,]+-,)?${LONG}$`));
  });
});
