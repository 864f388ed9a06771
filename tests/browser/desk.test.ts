import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { misheardNote } from "../../src/model/misheardNames.ts";
import { EVENING } from "../support/evening.ts";
import { atDesk, expectSound, soon } from "./atDesk.ts";
import { BROWSER, UNLESS_BROWSER, visit } from "./chromium.ts";

const ID = "2027-03-01";

/** The words that the page shows of those at its beginning, a caption each. */
const captions = (page: Page) => page.locator(".desk-text").allTextContents();
const field = (page: Page, n: number) => page.locator(`#c${n} .desk-text`);
/** How many captions there are, as a screen reader is told. */
const count = async (page: Page) => Number(await page.locator("[data-row]").first().getAttribute("aria-setsize"));
const saved = (page: Page) => page.locator(".desk-saved", { hasText: /^Saved$/ }).waitFor();

describe.skipIf(BROWSER === null)(`the desk${UNLESS_BROWSER}`, () => {
  const here = atDesk({ now: "2027-03-02T08:00:00Z" });
  const transcript = () => here.file(ID, "transcript.vtt");

  /** Presses a button for as long as there is something left for it. */
  const pressAll = async (name: string) => {
    const button = here.own.page.getByRole("button", { name });
    while (await button.isEnabled()) {
      const before = await transcript();
      await button.click();
      await soon(transcript).not.toBe(before);
      await here.own.page.waitForTimeout(100);
    }
  };

  test("an episode is begun from files, and what was assumed is told", async () => {
    await here.goTo("");
    await here.own.page.getByRole("link", { name: "Begin an episode" }).click();
    await here.own.page.getByLabel(/^Date/).fill(ID);
    await here.own.page
      .locator("input[type=file]")
      .setInputFiles([join(EVENING, "raw.vtt"), join(EVENING, "order.csv")]);
    await here.own.page.getByRole("button", { name: "Begin" }).click();
    await here.own.page
      .getByText("There is no recording")
      .or(here.own.page.getByText(/captions, \d+ segments/))
      .first()
      .waitFor();
    await here.own.page.getByRole("link", { name: "Go to the words" }).click();
    await here.own.page.locator(".desk-caption").first().waitFor();
    expect((await captions(here.own.page)).join(" ")).toContain("Good evening");
  });

  test("words are corrected, parted, joined and given a speaker by keyboard; each change is in the file", async () => {
    const { page } = here.own;
    await here.goTo(`words/${ID}`);
    const [before, all] = [await captions(page), await count(page)];
    await field(page, 0).click();
    await page.keyboard.press("End");
    await page.keyboard.type(" indeed");
    await saved(page);
    expect(await transcript()).toContain("indeed");
    await page.keyboard.press("Home");
    const [first = ""] = (before[0] ?? "").split(" ");
    for (let n = 0; n < first.length + 1; n++) await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Enter");
    await soon(() => count(page)).toBe(all + 1);
    expect((await captions(page))[0]).toBe(first);
    // The caret stands at the beginning of the second half.
    await page.waitForFunction(() => document.activeElement?.closest("#c1") !== null);
    await page.keyboard.press("Backspace");
    await soon(() => count(page)).toBe(all);
    expect((await captions(page))[0]).toBe(`${before[0]} indeed`);
    await page.keyboard.press("Alt+2");
    const second =
      (await page.locator("select[aria-label^='Who speaks']").first().locator("option").nth(2).textContent()) ?? "";
    await page.waitForFunction(
      (name) => document.querySelector<HTMLSelectElement>("select[aria-label='Who speaks']")?.value === name,
      second.replace(/ \(Alt.*/, ""),
    );
    expect(await transcript()).toContain(`<v ${second.replace(/ \(Alt.*/, "")}>`);
  });

  test("undo goes back through the whole session, also after the server was started anew", async () => {
    const now = await transcript();
    await here.away();
    await here.back();
    await here.goTo(`words/${ID}`);
    await pressAll("Undo");
    expect(await transcript()).not.toContain("indeed");
    await pressAll("Do again");
    expect(await transcript()).toBe(now);
  });

  test("who is in no list is named by hand, and is in the list from then on", async () => {
    const { page } = here.own;
    await here.goTo(`words/${ID}`);
    const before = await transcript();
    await field(page, 0).click();
    await page.keyboard.press("Alt+0");
    await page.keyboard.press("End");
    await page.keyboard.press("Enter");
    const name = page.getByLabel("Name of the speaker");
    await soon(() => name.evaluate((own) => own === document.activeElement)).toBe(true);
    // Nothing is changed by Escape.
    await page.keyboard.type("Nobody");
    await page.keyboard.press("Escape");
    await soon(() => name.count()).toBe(0);
    expect(await transcript()).toBe(before);
    const list = page.locator("select[aria-label^='Who speaks']").first();
    await list.dispatchEvent("pointerdown");
    await list.selectOption("Somebody else…");
    await name.fill("  Perran <O'Dowd>  & Sons ");
    await page.keyboard.press("Enter");
    await soon(transcript).toContain("<v Perran &lt;O'Dowd&gt; &amp; Sons>");
    await soon(() =>
      page.locator("select[aria-label^='Who speaks']").nth(1).locator("option").allTextContents(),
    ).toContainEqual(expect.stringContaining("Perran <O'Dowd> & Sons"));
    await page.getByRole("button", { name: "Undo" }).click();
    await soon(transcript).toBe(before);
  });

  test("a file that was changed elsewhere is not overwritten, and what was typed is still there", async () => {
    const { page } = here.own;
    await here.goTo(`words/${ID}`);
    const path = join(here.content, "episodes/2027", ID, "transcript.vtt");
    const theirs = (await transcript()).replace("indeed", "to you");
    await writeFile(path, theirs);
    await field(page, 0).click();
    await page.keyboard.press("End");
    await page.keyboard.type(" friends");
    await page.locator(".desk-mine").waitFor();
    expect(await transcript()).toBe(theirs);
    expect(await page.locator(".desk-mine").textContent()).toContain("friends");
    await page.getByRole("button", { name: "Put mine in" }).click();
    await soon(transcript).toContain("friends");
  });

  test("what is typed while the server is away is sent when it is back", async () => {
    const { page } = here.own;
    await here.goTo(`words/${ID}`);
    const { port } = here.desk;
    await here.away();
    await field(page, 1).click();
    await page.keyboard.press("End");
    await page.keyboard.type(" lately");
    await page.getByText("does not answer").first().waitFor();
    // The page is loaded anew with the new server's token: the browser kept what was typed.
    await here.back(port);
    await here.goTo(`words/${ID}`);
    await soon(transcript).toContain("lately");
    expect((await captions(page)).join(" ")).toContain("lately");
  });

  test("an in point is set where it is heard, and undone", async () => {
    const { page } = here.own;
    await here.goTo(`words/${ID}`);
    const episode = () => here.file(ID, "episode.md");
    const before = await episode();
    await page.getByRole("button", { name: "0.1 s later" }).first().click();
    await soon(episode).not.toBe(before);
    await page.getByRole("button", { name: "Undo" }).click();
    await soon(episode).toBe(before);
  });

  test("the recording is played from a caption, and the word that is being said is marked", async () => {
    const { page } = here.own;
    await here.goTo("words/2026-10-05");
    const row = page.locator(".desk-caption").nth(6);
    await row.locator(".desk-at").click();
    await page.waitForFunction(() => document.querySelector(".desk-caption[data-said]") !== null);
    expect(await page.locator(".desk-caption[data-said]").first().getAttribute("id")).toBe(
      await row.getAttribute("id"),
    );
    const marked = await page.evaluate(() => [...(CSS.highlights.get("said") ?? [])].map(String).join(""));
    expect((await row.locator(".desk-text").textContent())?.split(" ")).toContain(marked);
    // The next caption is marked when its voice comes, and not before.
    const next = page.locator(".desk-caption").nth(7);
    await page.waitForFunction(
      (id) => document.querySelector(`#${id}[data-said]`) !== null,
      await next.getAttribute("id"),
    );
    const [at, starts] = await page.evaluate(async () => {
      const words = await (await fetch("/api/words/2026-10-05")).json();
      return [document.querySelector("audio")?.currentTime ?? 0, words.captions[7].start / 1000];
    });
    expect(at).toBeGreaterThanOrEqual(starts - 0.02);
    await page.getByRole("button", { name: "Pause" }).click();
  });

  test("a name that was heard is one key away, and one button", async () => {
    const { page } = here.own;
    const file = join(here.content, "episodes/2027", ID, "transcript.vtt");
    const before = await transcript();
    const { captions: all } = await page.evaluate(async (id) => (await fetch(`/api/words/${id}`)).json(), ID);
    const heard = [6, 9].map((n) => {
      const { start: at, text } = all[n];
      return { at, name: "Ruan Skelland", words: text.split(" ").slice(0, 2).join(" ") };
    });
    await writeFile(file, before.replace("WEBVTT\n", `WEBVTT\n\nNOTE\n${misheardNote(heard)}\n`));
    await here.goTo(`words/${ID}`);
    const doubts = (n: number) => page.locator(`#c${n} .desk-doubts`);
    await doubts(6).getByText(`The recording says Ruan Skelland where “${heard[0]?.words}” stands.`).waitFor();
    await field(page, 6).click();
    await page.keyboard.press("Alt+w");
    await soon(() => field(page, 6).textContent()).toMatch(/^Ruan Skelland /);
    await doubts(9).getByRole("button", { name: "Write Ruan Skelland" }).click();
    await soon(() => field(page, 9).textContent()).toMatch(/^Ruan Skelland /);
    await page.waitForFunction(() => document.activeElement?.closest("#c9") !== null);
    await saved(page);
    expect((await transcript()).match(/>Ruan Skelland/g)).toHaveLength(2);
    // What is mended is told no more, and what was noted stays in the file.
    await soon(() => page.getByText("The recording says Ruan Skelland").count()).toBe(0);
    await page.keyboard.press("Control+z");
    await soon(() => field(page, 9).textContent()).toBe(all[9].text);
    await writeFile(file, before);
  });

  test("figures are ticked, and ticks stay; a finding is let stand with a reason", async () => {
    const { page } = here.own;
    await here.goTo(`look/${ID}`);
    const box = page.locator(".desk-figures input").first();
    await box.check();
    await here.goTo(`look/${ID}`);
    expect(await box.isChecked()).toBe(true);
    const first = page.locator(".desk-findings li", { has: page.locator(".desk-let") }).first();
    const says = (await first.textContent()) ?? "";
    const count = () => page.locator(".desk-findings li").count();
    const before = await count();
    await first.locator("summary").click();
    await first.getByLabel("Why it stands").fill("It was said so.");
    await first.getByLabel("Who answers for it").fill("Desk");
    await first.getByRole("button", { name: "Take it off the list" }).click();
    await soon(count).toBeLessThan(before);
    expect(await page.locator(".desk-findings").allTextContents()).not.toContain(says);
    expect(await here.file(ID, "episode.md")).toContain("It was said so.");
  });

  test("a segment is labelled, beside what is usual and the station's own code", async () => {
    const { page } = here.own;
    await here.goTo(`look/${ID}`);
    expect(await page.getByRole("link", { name: "your station's own code" }).getAttribute("href")).toMatch(/^https:/);
    await page.getByText("While a case is open").first().waitFor();
    const box = page.locator("[aria-labelledby=labels] input").first();
    await box.check();
    const episode = () => here.file(ID, "episode.md");
    await soon(episode).toContain("cautions: [ court ]");
    await soon(() => box.isChecked()).toBe(true);
    // What is loaded while the change is on its way is older, and must not bring the tick back for a moment.
    await page.route("**/api/words/**", async (route) => {
      const answer = await route.fetch();
      await new Promise((resolve) => setTimeout(resolve, 500));
      await route.fulfill({ response: answer });
    });
    await box.uncheck();
    await box.check();
    await box.uncheck();
    const cameBack = await box.evaluate(async (input) => {
      for (let frame = 0; frame < 180; frame++) {
        if ((input as HTMLInputElement).checked) return true;
        await new Promise(requestAnimationFrame);
      }
      return false;
    });
    expect(cameBack).toBe(false);
    await page.unrouteAll({ behavior: "wait" });
    await soon(episode).not.toContain("cautions:");
  });

  test("words that nobody said in the break are taken out: they stand in the way", async () => {
    const { page } = here.own;
    await here.goTo(`publish/${ID}`);
    await page.getByText("stand in the break").waitFor();
    await here.goTo(`words/${ID}`);
    const inBreak = () =>
      page.evaluate(async (id) => {
        const words = await (await fetch(`/api/words/${id}`)).json();
        const pause = words.segments.find(({ kind }: { kind: string }) => kind === "break");
        const caption = words.captions.find(
          ({ start, end }: { start: number; end: number }) => start < pause.out && end > pause.in,
        );
        return { at: caption?.start ?? null, count: words.captions.length };
      }, ID);
    for (let now = await inBreak(); now.at !== null; now = await inBreak()) {
      await here.goTo(`publish/${ID}`);
      await here.goTo(`words/${ID}#t=${now.at / 1000}`);
      await page.waitForFunction(() => document.activeElement?.closest(".desk-caption") !== null);
      await page.keyboard.press("Control+A");
      await page.keyboard.press("Delete");
      await page.keyboard.press("Escape");
      await soon(() => count(page)).toBe(now.count - 1);
    }
  });

  test("words go out as text and come in again", async () => {
    const { page } = here.own;
    await here.goTo(`words/${ID}`);
    const text = await (await fetch(`${here.desk.url}api/text/${ID}`)).text();
    const changed = join(here.place, "text.txt");
    await writeFile(changed, text.replace("friends", "friends of ours"));
    await page.getByRole("button", { name: "As text" }).click();
    await page.locator("input[type=file]").setInputFiles(changed);
    await page.getByRole("button", { name: "Put it in" }).click();
    await soon(async () => (await transcript()).replace(/\s+/g, " ")).toContain("friends of ours");
  });

  test("what is published is listed, built and audited", async () => {
    const { page } = here.own;
    await here.goTo(`publish/${ID}`);
    const box = page.getByLabel("I have checked them");
    if ((await box.count()) > 0) await box.check();
    await page.getByRole("button", { name: "Publish" }).click({ timeout: 10_000 });
    await page.getByText("Nothing of them changed in silence").waitFor({ timeout: 60_000 });
    expect(await readFile(join(here.place, "site", ID, "index.html"), "utf8")).toContain("friends");
    // What could be undone is gone with publishing: nothing is changed from here on.
    expect(await readdir(join(here.content, "episodes/2027", ID))).not.toContain(".replaced");
    await here.goTo(`words/${ID}`);
    expect(await field(page, 0).getAttribute("contenteditable")).toBe("false");
    await here.goTo("");
    expect(await page.locator(".desk-evening").first().textContent()).toContain("Published");
  });

  test.each(["light", "dark"] as const)("no page has a fault that axe finds, %s", async (colorScheme) => {
    const other = await visit(here.browser, { colorScheme, viewport: { width: 820, height: 900 } });
    for (const path of [
      "",
      "begin",
      `words/${ID}`,
      "words/2026-10-05",
      `look/${ID}`,
      "look/2026-10-07",
      `publish/${ID}`,
    ]) {
      await here.goTo(path, other.page);
      await expectSound(other.page, path);
    }
    await other.close();
  });
});
