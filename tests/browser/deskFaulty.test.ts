import { readdir, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { layLongEpisode } from "../support/longEpisode.ts";
import { atDesk, expectSound, soon } from "./atDesk.ts";
import { BROWSER, UNLESS_BROWSER, type Visit, visit } from "./chromium.ts";

const [ID, LOST, BROKEN] = ["2027-03-01", "2026-10-05", "2026-10-06"] as const;

const field = (page: Page, n: number) => page.locator(`#c${n} .desk-text`);
const wordsAt = (page: Page, n: number) => field(page, n).textContent();
const typeAtEnd = async (page: Page, n: number, words: string) => {
  await field(page, n).focus();
  await page.keyboard.press("End");
  await page.keyboard.type(words);
};
const saved = (page: Page) => page.locator(".desk-saved", { hasText: /^Saved$/ }).waitFor();

describe.skipIf(BROWSER === null)(`a desk where something is amiss${UNLESS_BROWSER}`, () => {
  const here = atDesk({
    now: "2027-03-02T08:00:00Z",
    async prepare() {
      await layLongEpisode(here.content, ID, 40);
      await rm(join(folderOf(LOST), "web.mp3"));
      for (const file of await readdir(folderOf(BROKEN)))
        if (/\.(mp3|ogg)$/.test(file)) await writeFile(join(folderOf(BROKEN), file), "no sound at all");
    },
  });
  const folderOf = (id: string) => join(here.content, "episodes/2026", id);
  const transcript = () => here.file(ID, "transcript.vtt");

  test("a recording that is not there is told with its place and the mend", async () => {
    const { page } = here.own;
    await here.goTo(`words/${LOST}`);
    await page.getByRole("alert").getByText("There is no file web.mp3 beside episode.md. Put it there").waitFor();
    await expectSound(page, "no recording");
  });

  test("a recording that can't be played is told, and the words are shown", async () => {
    const { page } = here.own;
    await here.goTo(`words/${BROKEN}`);
    await page.getByRole("alert").getByText("The recording can't be played here").waitFor();
    expect(await page.locator(".desk-caption").count()).toBeGreaterThan(5);
    await expectSound(page, "broken recording");
  });

  test("who plays an episode without a recording is told that it has none", async () => {
    const { page } = here.own;
    await here.goTo(`words/${ID}`);
    await page.getByRole("button", { name: "Play", exact: true }).click();
    await page.getByRole("alert").getByText("This episode has no recording").waitFor();
    await typeAtEnd(page, 0, " all the same");
    await saved(page);
    expect(await transcript()).toContain("all the same");
  });

  describe.each([
    ["of one browser", false, 0],
    ["of two people", true, 2],
  ])("two windows %s on one episode", (_who, isApart, from) => {
    const yours = ` yours${from}`;
    let other: Visit | null = null;
    let [first, second]: [Page, Page] = [here.own?.page, here.own?.page];
    beforeAll(async () => {
      first = here.own.page;
      if (isApart) other = await visit(here.browser);
      second = other?.page ?? (await first.context().newPage());
    });
    afterAll(() => (other === null ? second.close() : other.close()));
    const openBoth = async () => {
      await here.goTo(`words/${ID}`, first);
      await here.goTo(`words/${ID}`, second);
    };

    test("both correct, each another caption: all of it is in the file", async () => {
      await openBoth();
      await typeAtEnd(first, from + 3, " by one");
      await saved(first);
      await typeAtEnd(second, from + 5, " by another");
      await saved(second);
      await soon(() => wordsAt(second, from + 3)).toContain(" by one");
      expect(await transcript()).toMatch(/ by one[\s\S]* by another/);
      expect(await second.locator(".desk-mine").count()).toBe(0);
    });

    test("both type in one caption: nobody's words are overwritten, and the second is asked", async () => {
      await openBoth();
      await typeAtEnd(first, from + 8, " mine");
      await saved(first);
      await typeAtEnd(second, from + 8, yours);
      const asked = second.locator(".desk-mine");
      await asked.waitFor();
      expect(await asked.textContent()).toMatch(/You typed “.* yours\d”.*There it says now “.* mine”/);
      expect(await transcript()).not.toContain(yours);
      // What stands there now is shown, and what was typed can't be typed over.
      await soon(() => wordsAt(second, from + 8)).toContain(" mine");
      expect(await wordsAt(second, from + 8)).not.toContain(yours);
      expect(await field(second, from + 8).getAttribute("aria-readonly")).toBe("true");
      await expectSound(second, "asked");
      // It is asked again after the page was left.
      await here.goTo(`words/${ID}`, second);
      await asked.waitFor();
      await second.getByRole("button", { name: "Put mine in" }).click();
      await soon(transcript).toContain(yours);
      await saved(second);
      expect(await wordsAt(second, from + 8)).not.toContain(" mine");
      expect(await asked.count()).toBe(0);
    });

    test("who leaves the other's words as they are goes on typing behind them", async () => {
      await openBoth();
      await typeAtEnd(first, from + 10, ` theirs${from}`);
      await saved(first);
      await typeAtEnd(second, from + 10, ` dropped${from}`);
      await second.getByRole("button", { name: "Leave it as it is" }).click();
      await soon(() => wordsAt(second, from + 10)).toContain(" theirs");
      await typeAtEnd(second, from + 10, " too");
      await saved(second);
      expect(await transcript()).toContain(` theirs${from} too`);
      expect(await transcript()).not.toContain(`dropped${from}`);
    });

    test("what was typed in a caption that is joined elsewhere is still there to be read", async () => {
      await openBoth();
      await field(first, from + 13).focus();
      await first.keyboard.press("Home");
      await first.keyboard.press("Backspace");
      await soon(() => wordsAt(first, from + 12)).toMatch(/\. .*\./);
      await typeAtEnd(second, from + 13, " homeless");
      const asked = second.locator(".desk-mine");
      await asked.waitFor();
      expect(await asked.textContent()).toMatch(/ homeless”.*No caption begins there any more/);
      expect(await second.getByRole("button", { name: "Put mine in" }).count()).toBe(0);
      await second.getByRole("button", { name: "Leave it as it is" }).click();
      await saved(second);
      await first.getByRole("button", { name: "Undo" }).click();
      await soon(() => wordsAt(first, from + 12)).not.toMatch(/\. .*\./);
    });
  });
});
