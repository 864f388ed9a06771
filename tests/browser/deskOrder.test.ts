import { readdir, rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeEach, describe, expect, test } from "vitest";
import { HAS_FFMPEG, UNLESS_FFMPEG } from "../support/sound.ts";
import { atDesk, expectSound, soon } from "./atDesk.ts";
import { BROWSER, UNLESS_BROWSER, visit } from "./chromium.ts";

const ID = "2026-10-05";

describe.skipIf(BROWSER === null)(`the desk's running order${UNLESS_BROWSER}`, () => {
  let before: string;
  const here = atDesk({
    now: "2026-10-06T08:00:00Z",
    async prepare() {
      // As it was before it was published, with some of it proposed.
      for (const name of ["record.jsonl", "corrections"])
        await rm(join(folder(), name), { recursive: true, force: true });
      before = (await episode())
        .replace("in: 2:21.901", "in: 2:21.901 # proposed: clear, as measured")
        .replace("why: break }", "why: break } # proposed");
      await writeFile(join(folder(), "episode.md"), before);
    },
  });
  const folder = () => join(here.content, "episodes/2026", ID);
  const episode = () => here.file(ID, "episode.md");
  /** An in point as it stands in the file. */
  const inOf = async (slug: string) => new RegExp(`slug: ${slug}\\n.*\\n.*\\n    in: (.*)`).exec(await episode())?.[1];
  const point = (title: string) => here.own.page.getByRole("slider", { name: `In point of ${title}` });
  const button = (name: string) => here.own.page.getByRole("button", { name, exact: true });
  const pick = (title: string) => here.own.page.locator(".desk-pick", { hasText: title }).click();
  const titles = () => here.own.page.locator(".desk-pick").allTextContents();
  /** Where the recording is, in seconds, when it has stopped. */
  const stopped = async () => {
    await here.own.page.waitForFunction(() => document.querySelector("audio")?.paused === false);
    await here.own.page.waitForFunction(() => document.querySelector("audio")?.paused === true, null, {
      timeout: 15_000,
    });
    return here.own.page.evaluate(() => document.querySelector("audio")?.currentTime ?? 0);
  };

  beforeEach(async () => {
    // In one go: the server may be reading it.
    await writeFile(join(here.place, "episode.md"), before);
    await rename(join(here.place, "episode.md"), join(folder(), "episode.md"));
    await here.goTo(`order/${ID}`);
  });
  const undo = async () => {
    await button("Undo").click();
    await soon(episode).toBe(before);
  };

  test("planned stands against actual, and what is proposed looks unlike what is accepted", async () => {
    const row = (title: string) => here.own.page.locator(".desk-line", { hasText: title });
    expect(await row("Nine sailings").locator("td, th").allTextContents()).toEqual([
      "Package",
      "Nine sailings a week from Sollen",
      "0:34.001",
      "2:21.901",
      "1:47",
      "1:40",
      "+0:07",
      "0:35",
    ]);
    const style = (title: string) => point(title).evaluate((node) => getComputedStyle(node).fontStyle);
    expect([await style("The last keeper"), await style("Nine sailings")]).toEqual(["italic", "normal"]);
    await button("That is right: in point of The last keeper leaves Hallan Light").click();
    await soon(() => inOf("hallan-light")).toBe("2:21.901");
    await soon(() => style("The last keeper")).toBe("normal");
    await undo();
  });

  test("an in point is moved with keys: presses that follow each other are one change", async () => {
    const { page } = here.own;
    await point("Nine sailings").focus();
    await page.keyboard.press("ArrowDown");
    expect(await page.evaluate(() => document.activeElement?.getAttribute("aria-label"))).toContain("last keeper");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("ArrowRight");
    await soon(() => inOf("ferry-timetable")).toBe("0:34.101");
    await page.keyboard.press("Control+z");
    await soon(episode).toBe(before);
    await soon(() => button("Undo").isDisabled()).toBe(true);
    // Pressed by the page itself: on a busy machine the browser's driver may take longer than the pause between two.
    await page.evaluate(async () => {
      const keys = [
        { code: "ArrowRight" },
        { code: "ArrowRight" },
        { code: "ArrowLeft", shiftKey: true },
        { code: "ArrowRight", altKey: true },
      ];
      for (const key of keys) {
        document.activeElement?.dispatchEvent(new KeyboardEvent("keydown", { ...key, bubbles: true }));
        await new Promise((done) => setTimeout(done, 20));
      }
    });
    await soon(() => inOf("ferry-timetable")).toBe("0:33.241");
    await page.keyboard.press("Control+z");
    await soon(episode).toBe(before);
    await soon(() => button("Undo").isDisabled()).toBe(true);
  });

  test("an in point goes to the nearest pause, and to the moment", async () => {
    const { page } = here.own;
    await point("Windy").focus();
    await page.keyboard.press("p");
    await soon(() => inOf("weather")).not.toBe("6:55.158");
    const [, seconds = ""] = /^6:(.*)$/.exec((await inOf("weather")) ?? "") ?? [];
    expect(Math.abs(Number(seconds) - 55.158)).toBeLessThanOrEqual(1.5);
    await undo();
    await page.locator(".desk-whole").focus();
    for (let n = 0; n < 5; n++) await page.keyboard.press("PageDown");
    await point("The last keeper").focus();
    await page.keyboard.press("m");
    await soon(() => inOf("hallan-light")).toBe("2:30");
    await undo();
  });

  test("two seconds before an in point and after are heard, and both sides of a cut", async () => {
    await point("Nine sailings").focus();
    await here.own.page.keyboard.press("Space");
    expect(Math.abs((await stopped()) - 36.001)).toBeLessThan(0.4);
    // Both cuts lie at one moment of the recording: 4:51.464.
    await button("Hear both sides of the cut at 5:15").click();
    expect(Math.abs((await stopped()) - 293.464)).toBeLessThan(0.4);
  });

  test("a mark is dragged on the strip: it tells its time, and is one change", async () => {
    const { page } = here.own;
    // What lies around 0:30.
    await page.locator(".desk-whole").focus();
    await page.keyboard.press("PageDown");
    const mark = page.locator(".desk-near [data-mark=ferry-timetable]");
    const { x, y, width, height } = (await mark.boundingBox()) ?? { x: 0, y: 0, width: 0, height: 0 };
    await page.mouse.move(x + width / 2, y + height / 2);
    await page.mouse.down();
    await page.mouse.move(x + width / 2 + 40, y + height / 2);
    await page.mouse.move(x + width / 2 + 80, y + height / 2);
    const told = await page.locator(".desk-near .desk-mark-time").textContent();
    expect(await episode()).toBe(before);
    await page.mouse.up();
    await soon(async () => (await inOf("ferry-timetable"))?.replace(/\d$/, "")).toBe(told?.replace(/\d$/, ""));
    const strip = (await page.locator(".desk-near").boundingBox())?.width ?? 1;
    const [, moment = ""] = /^0:(.*)$/.exec(told ?? "") ?? [];
    expect(Math.abs(Number(moment) - (34.001 + (80 / strip) * 24))).toBeLessThan(0.05);
    await undo();
  });

  test("a segment is split, named, given a kind, withheld and joined again", async () => {
    const { page } = here.own;
    const all = await titles();
    await page.locator(".desk-whole").focus();
    for (let n = 0; n < 2; n++) await page.keyboard.press("PageDown");
    await pick("Nine sailings");
    await button("Split at the moment").click();
    // Its title waits to be typed over.
    await page.waitForFunction(() => document.activeElement?.closest(".desk-fields") !== null);
    await page.keyboard.type("On the quay");
    await page.keyboard.press("Enter");
    await soon(titles).toEqual([...all.slice(0, 2), "On the quay", ...all.slice(2)]);
    await page.getByLabel("Kind").selectOption({ label: "Interview" });
    await page.getByRole("combobox", { name: /^Rights/ }).selectOption({ label: "Withheld: nothing shown" });
    const made = "  - slug: on-the-quay\n    kind: interview\n    title: On the quay\n    in: 1:00\n";
    await soon(episode).toContain(`${made}    rights: { withheld: true, show: nothing }\n`);
    await page.getByLabel("May be given from this day on").fill("2027-01-04");
    await page.getByLabel("Who holds the rights").fill("Farwater News");
    await page.keyboard.press("Enter");
    await soon(episode).toContain("show: nothing, until: 2027-01-04, holder: Farwater News }");
    await pick("Nine sailings");
    await button("Join with the next one").click();
    await page.getByText("have not the same rights").waitFor();
    await pick("On the quay");
    await page.getByRole("combobox", { name: /^Rights/ }).selectOption({ label: "May be given" });
    await soon(episode).toContain("withheld: false");
    await button("Undo").click();
    await soon(episode).not.toContain("withheld: false");
    for (const called of ["May be given from this day on", "Who holds the rights"]) {
      await page.getByLabel(called).fill("");
      await page.keyboard.press("Tab");
    }
    await soon(episode).toContain(`${made}    rights: { withheld: true, show: nothing }\n`);
    await page.getByRole("combobox", { name: /^Rights/ }).selectOption({ label: "May be given" });
    await soon(episode).not.toContain(`${made}    rights:`);
    await pick("Nine sailings");
    await button("Join with the next one").click();
    await soon(titles).toEqual(all);
    expect(await episode()).toBe(before);
    while (await button("Undo").isEnabled()) {
      const was = await episode();
      await button("Undo").click();
      await soon(episode).not.toBe(was);
      await page.waitForTimeout(100);
    }
    expect(await episode()).toBe(before);
    await soon(() => button("Undo").isDisabled()).toBe(true);
  });

  test("a nudge is not lost when the page is left before it was sent", async () => {
    await point("Nine sailings a week from Sollen").focus();
    await here.own.page.keyboard.press("ArrowRight");
    await here.own.page.goto(`${here.desk.url}words/${ID}`);
    await soon(() => inOf("ferry-timetable")).toBe("0:34.101");
  });

  test("a cut lies elsewhere, keeps its length, and goes; another one is added", async () => {
    const { page } = here.own;
    const edges = () => page.locator("[aria-labelledby=cuts] tbody td").allTextContents();
    await button("Change the cut at 4:51").click();
    const [from = "", , length = ""] = await edges();
    await page.getByRole("group", { name: "It lacks from" }).getByRole("button", { name: "1 frame earlier" }).click();
    await button("Set it so").click();
    const earlier = `${from.slice(0, -3)}${Number(from.slice(-3)) - 40}`;
    await soon(async () => [(await edges())[0], (await edges())[2]]).toEqual([earlier, length]);
    expect(await episode()).not.toContain("# proposed\n  -");
    await button("Change the cut at 4:51").click();
    await button("The recording has it").click();
    await soon(async () => (await edges()).length).toBe(4);
    await page.locator("summary", { hasText: "lacks a stretch" }).focus();
    await page.keyboard.press("Enter");
    await page.getByLabel("It lacks from").last().fill("0:10");
    await page.getByLabel("To", { exact: true }).fill("0:12.5");
    await page.keyboard.press("Tab");
    await button("The recording lacks it").click();
    await soon(episode).toContain("{ from: 0:10, to: 0:12.500, why: break }");
  });

  test.skipIf(!HAS_FFMPEG)(
    `a stretch is left out by ear: both sides are heard, the web files are made and put in${UNLESS_FFMPEG}`,
    async () => {
      const { page } = here.own;
      const plan = page.locator("[aria-labelledby=webfile]");
      await soon(() => plan.getByText("can be given as it is").count()).toBe(1);
      await plan.getByLabel("Leave out from").first().fill("1:00");
      await plan.getByLabel("Leave out to").first().fill("1:10");
      await page.keyboard.press("Tab");
      await plan.getByLabel("Why").selectOption("technical");
      await soon(() => plan.locator("tbody tr").allTextContents()).toEqual([
        expect.stringContaining("stays"),
        expect.stringMatching(/goestechnical1:00\.0001:10\.0000:10/),
        expect.stringContaining("stays"),
      ]);
      await plan.getByRole("button", { name: "Hear both sides" }).click();
      const at = await stopped();
      expect(at).toBeGreaterThan(71.9);
      expect(at).toBeLessThan(72.6);
      await plan.getByRole("button", { name: "Make web.2.mp3 and web.2.ogg" }).click();
      await page.getByText("made, measured, and put in").waitFor({ timeout: 150_000 });
      expect(await episode()).toContain("src: web.2.mp3");
      expect(await episode()).toMatch(
        /cuts:[^\n]*\n? *(- )?\{ from: 1:00, to: 1:10, why: technical \}|from: 1:00, to: 1:10, why: technical/,
      );
      expect(await readdir(folder())).toEqual(expect.arrayContaining(["web.mp3", "web.2.mp3", "web.2.ogg"]));
      // The page plays the new file, by the new cuts.
      await soon(() => page.evaluate(() => document.querySelector("audio")?.currentSrc ?? "")).toContain("web.2");
      await undo();
    },
    240_000,
  );

  test("a cut is accepted, and what is published is shown and not changed", async () => {
    await button("That is right: the cut at 4:51").click();
    await soon(episode).toContain("why: break }\n");
    await undo();
    await here.goTo("order/2026-10-06");
    await here.own.page.locator(".desk-pick").nth(1).click();
    expect(await here.own.page.locator("[role=slider].desk-in, .desk-fields").count()).toBe(0);
    await here.own.page.getByText("is published").waitFor();
  });

  test.each(["light", "dark"] as const)("it has no fault that axe finds, and fits, %s", async (colorScheme) => {
    const other = await visit(here.browser, { colorScheme, viewport: { width: 820, height: 900 } });
    for (const id of [ID, "2026-10-06"]) {
      await here.goTo(`order/${id}`, other.page);
      await other.page.locator(".desk-pick").nth(2).click();
      await expectSound(other.page, id);
    }
    expect(other.problems).toEqual([]);
    await other.close();
  });

  test("nothing went wrong in the console meanwhile", () => {
    expect(here.own.problems).toEqual([]);
  });
});
