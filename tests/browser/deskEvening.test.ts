import { mkdir, readdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { auditContent } from "../../src/actions/audit.ts";
import type { DeskCaption, DeskWords } from "../../src/model/desk.ts";
import { parseVtt, validateVtt } from "../../src/webvtt/index.ts";
import { EVENING, truthOf } from "../support/evening.ts";
import { readTree, textOf } from "../support/site.ts";
import { atDesk, soon } from "./atDesk.ts";
import { BROWSER, UNLESS_BROWSER } from "./chromium.ts";
import { CONTENT } from "./demo.ts";
import { handsOn } from "./hands.ts";

const ID = "2026-10-05";
/** Of so many captions the words are typed anew; with WHOLE=1, of all. */
const TYPED = process.env.WHOLE === undefined ? 30 : Number.POSITIVE_INFINITY;
/** What the recording lacks: the break, and an item of an agency's. */
const CUTS = "4:51.464-5:15.714=break 5:15.714-5:53.019=rights";
const RAW = [join(EVENING, "raw.vtt"), join(EVENING, "order.csv"), join(CONTENT, `episodes/2026/${ID}/web.mp3`)];

const truth = truthOf(EVENING);
/** What was said, word by word, each with the moment in the middle of it: words of a sentence share its time. */
const SAID = truth.sentences.flatMap(({ start, end, speaker, text, spoken }) => {
  const words = text.split(" ");
  const at = (n: number) => (start + ((end - start) * (n + 0.5)) / words.length) * 1000;
  return words.map((word, n) => ({ word, at: at(n), speaker, spoken: n === 0 ? spoken : "" }));
});
const saidIn = ({ start, end }: Pick<DeskCaption, "start" | "end">) => SAID.filter(({ at }) => at >= start && at < end);
const bare = (text: string) =>
  text
    .toLowerCase()
    .replace(/[^a-z ]/g, "")
    .trim();

describe.skipIf(BROWSER === null)(`an evening at the desk, by keyboard alone${UNLESS_BROWSER}`, () => {
  const here = atDesk({
    now: "2026-10-05T19:30:00Z",
    async prepare() {
      // Nothing has been published yet.
      await rm(join(here.content, "episodes"), { recursive: true });
      await mkdir(join(here.content, "episodes"));
    },
  });
  const transcript = () => here.file(ID, "transcript.vtt");
  const episode = () => here.file(ID, "episode.md");
  /** Somebody's hands for a part of the evening. With FIGURES=1 it is told how many keys they pressed. */
  const part = async (called: string, act: (hands: ReturnType<typeof handsOn>) => Promise<void>) => {
    const hands = handsOn(here.own.page);
    await act(hands);
    if (process.env.FIGURES !== undefined) console.info(`${called}: ${hands.presses} keys`);
  };
  const words = async (): Promise<DeskWords> => (await fetch(`${here.desk.url}api/words/${ID}`)).json();
  /** All that was typed is in the file. */
  const saved = () => here.own.page.locator(".desk-saved", { hasText: /^Saved$/ }).waitFor();
  const focused = () =>
    here.own.page.evaluate(() => Number(document.activeElement?.closest(".desk-caption")?.id.slice(1) ?? -1));
  const settled = () => here.own.page.waitForLoadState("networkidle");

  test("is begun from raw files", async () => {
    const { page } = here.own;
    await here.goTo("");
    await part("Begin", async (hands) => {
      await hands.tabTo("Begin an episode");
      await hands.press("Enter");
      await page.locator("input[type=file]").waitFor();
      // No key chooses files in a browser without windows.
      await page.locator("input[type=file]").setInputFiles(RAW);
      await hands.tabTo(/^Date/);
      await hands.type(ID);
      await hands.tabTo(/^What the recording lacks/);
      await hands.type(CUTS);
      await hands.press("Enter");
      await page.getByText(/\d+ captions, 9 segments/).waitFor({ timeout: 60_000 });
      await hands.tabTo("Go to the words");
      await hands.press("Enter");
      await page.locator(".desk-caption").first().waitFor();
      await settled();
    });
    expect(await transcript()).toContain(".proposed");
  });

  test("names are written as registered, and words are found and replaced", async () => {
    const { page } = here.own;
    await part("Names, find and replace", async (hands) => {
      await hands.tabTo("Names as registered");
      await hands.press("Enter");
      await page.getByText(/\d+ names changed/).waitFor();
      await hands.press("Control+F");
      await page.locator(".desk-find:focus").waitFor();
      await hands.type("oldest friend");
      await hands.tabTo("Write instead");
      await hands.type("Aldous Frayne,");
      await hands.press("Enter");
      await page.getByText("1 place changed").waitFor();
    });
    expect(await transcript()).toContain("Aldous Frayne,");
    expect(await transcript()).not.toContain("sollen");
  });

  test("a caption is parted, joined, and put back as it was", async () => {
    const before = await transcript();
    await part("Part, join, undo", async (hands) => {
      await hands.press("Escape");
      await hands.tabTo(/^Next doubt/);
      await hands.press("Enter");
      await soon(focused).toBe(0);
      await hands.press("ArrowDown", 2);
      await hands.press("Control+ArrowRight", 3);
      await hands.press("Enter");
      await soon(focused).toBe(3);
      expect((await words()).captions.slice(2, 4).map(({ text }) => text)).toEqual([
        "This is the",
        "Evening Tide from Sollen.",
      ]);
      await hands.press("Backspace");
      await soon(focused).toBe(2);
      await hands.press("Control+z");
      await soon(transcript).not.toBe(before);
      await hands.press("Control+z");
      await soon(transcript).toBe(before);
    });
  });

  test("every caption is gone through: what was heard wrongly is typed anew, and who speaks is said or accepted", async () => {
    await part("Words", async (hands) => {
      await hands.press("Escape");
      await hands.tabTo(/^Next doubt/);
      await hands.press("Enter");
      await soon(focused).toBe(0);
      for (let n = 0; ; n = await focused()) {
        const { captions, speakers } = await words();
        const own = captions[n];
        if (own === undefined) break;
        const said = saidIn(own);
        const text = said.map(({ word }) => word).join(" ");
        if (text !== "") await name(hands, own, { who: said[said.length >> 1]?.speaker ?? "", speakers });
        if (bare(own.text) !== bare(text)) {
          await hands.press("Control+a");
          // Where nobody said anything, it was the recogniser's own.
          if (text === "") await hands.press("Delete");
          else await hands.type(text);
        }
        if (n === captions.length - 1 || n > TYPED) break;
        while ((await focused()) === n && (await startOfFocused()) === own.start) await hands.press("ArrowDown");
        await saved();
      }
      // What is still doubtful: captions that were cut from others, and what the checks found.
      await hands.press("Escape");
      await saved();
      await settled();
      await hands.tabTo(/^Next doubt/);
      await hands.press("Enter");
      // Behind the last one, Tab leads on to the next button.
      const isInWords = () => here.own.page.evaluate(() => document.activeElement?.matches(".desk-text") ?? false);
      while (await isInWords()) {
        const own = (await words()).captions[await focused()];
        if (own?.proposed) await hands.press("Alt+y");
        // Where nobody said anything, it was the recogniser's own.
        if (own !== undefined && !own.isSound && saidIn(own).length === 0) {
          await hands.press("Control+a");
          await hands.press("Delete");
        }
        await hands.press("Tab");
      }
      await soon(transcript).not.toContain("<v.proposed");
    });
    expect(validateVtt(parseVtt(await transcript()), "captions", "transcript.vtt")).toEqual([]);
  }, 400_000);

  /** When the caption begins that has the caret, in milliseconds. */
  const startOfFocused = () =>
    here.own.page.evaluate(() =>
      Number(document.activeElement?.closest<HTMLElement>("[data-row]")?.dataset.key?.split(" ")[0] ?? -1),
    );

  /** Says who speaks from a caption on, or that it is right: by number, or in the list where no number leads. */
  const name = async (
    hands: ReturnType<typeof handsOn>,
    { start, voice, proposed }: DeskCaption,
    { who, speakers }: { readonly who: string; readonly speakers: readonly string[] },
  ) => {
    if (voice === who && !proposed) return;
    const number = speakers.indexOf(who) + 1;
    if (voice === who) await hands.press("Alt+y");
    else if (number > 0 && number < 10) await hands.press(`Alt+${number}`);
    else {
      // Whom the register does not know stays without a name.
      await hands.press("Alt+0");
      await hands.type(number === 0 ? "Speaker" : who);
      await hands.press("Enter");
    }
    const expected = [number === 0 ? null : who, false];
    await soon(async () => {
      const now = (await words()).captions.find((caption) => caption.start === start);
      return [now?.voice, now?.proposed];
    }).toEqual(expected);
    await soon(startOfFocused).toBe(start);
  };

  test("in points are moved to where it was heard, accepted, and a segment is withheld", async () => {
    const { page } = here.own;
    await part("Running order", async (hands) => {
      await hands.press("Escape");
      await hands.tabTo("Running order", "a", "Shift+Tab");
      await hands.press("Enter");
      await page.locator(".desk-order").first().waitFor();
      await settled();
      await hands.tabTo(/^In point of Nine/);
      for (const { slug, in: heard } of truth.segments.slice(1)) {
        const { segments } = await words();
        const own = segments.find((segment) => segment.slug === slug);
        if (own === undefined) throw new Error(`There is no ${slug}.`);
        let left = Math.round(heard * 1000) - own.in;
        for (const [key, step] of [
          ["Shift+", 1000],
          ["", 100],
          ["Alt+", 40],
        ] as const) {
          const times = Math.round(Math.abs(left) / step);
          await hands.press(`${key}${left < 0 ? "ArrowLeft" : "ArrowRight"}`, times);
          left -= Math.sign(left) * times * step;
        }
        if (own.proposed && Math.abs(own.in - heard * 1000) < 20) await hands.press("y");
        await soon(async () => (await words()).segments.find((segment) => segment.slug === slug)?.proposed).toBe(false);
        if (slug !== "close") await hands.press("ArrowDown");
      }
      await hands.press("ArrowUp", 3);
      await hands.tabTo("Rights");
      await hands.type("Withheld: n");
      await soon(episode).toContain("show: nothing");
      await hands.tabTo(/^I have listened/);
      await hands.press("Space");
      await soon(episode).toContain("edges: heard");
    });
    const { segments, order } = await words();
    expect(segments.map(({ proposed }) => proposed)).not.toContain(true);
    expect(order.lines.flatMap(({ withheld }, k) => (withheld === null ? [] : [segments[k]?.slug]))).toEqual([
      "mainland-talks",
    ]);
  });

  test("figures are ticked, and a finding is let stand", async () => {
    const { page } = here.own;
    await part("Second look", async (hands) => {
      await hands.tabTo("Second look", "a", "Shift+Tab");
      await hands.press("Enter");
      await page.locator(".desk-figures").waitFor();
      await settled();
      const findings = await page.locator(".desk-findings li").count();
      await hands.tabTo("Let it stand");
      await hands.press("Enter");
      await hands.tabTo("Why it stands");
      await hands.type("Both were said.");
      await hands.tabTo("Who answers for it");
      await hands.type("Online desk");
      await hands.press("Enter");
      await page.getByText("It is off the list.").waitFor();
      await soon(() => page.locator(".desk-findings li").count()).toBe(findings - 1);
      const figures = await page.locator(".desk-figures input").count();
      for (let n = 0; n < figures; n++) {
        await hands.tabTo(/heard, and right$/);
        await hands.press("Space");
      }
    });
    expect(await page.locator(".desk-figures input:not(:checked)").count()).toBe(0);
    expect(await episode()).toContain("Both were said.");
  });

  test("it is published, built and audited", async () => {
    const { page } = here.own;
    const all = await words();
    await part("Publish", async (hands) => {
      await hands.tabTo("Publish", "a", "Shift+Tab");
      await hands.press("Enter");
      await page.getByText("This will be entered in the record").waitFor();
      await hands.tabTo("Publish", "button");
      await hands.press("Enter");
      await page.getByText("Nothing of them changed in silence").waitFor({ timeout: 60_000 });
    });
    const record = (await here.file(ID, "record.jsonl")).trim().split("\n");
    expect(record).toHaveLength(1);
    expect(await readdir(join(here.content, "episodes/2026", ID))).not.toContain(".replaced");
    expect(await transcript()).not.toContain("<v.proposed");
    expect(await episode()).not.toContain("# proposed");
    const site = await readTree(join(here.place, "site"));
    const page1 = site.get(`${ID}/index.html`)?.toString() ?? "";
    const shown = page1.replace(/<[^>]*>/g, "").replace(/\s+/g, " ");
    for (const { text } of truth.sentences.slice(2, 6)) expect(shown).toContain(text);
    // What is withheld is in no file.
    const talks = all.segments.find(({ slug }) => slug === "mainland-talks");
    const withheld = all.captions.filter(
      ({ start, text }) => talks !== undefined && start > talks.in && start < talks.out && text.length > 25,
    );
    expect(withheld.length).toBeGreaterThan(3);
    for (const [path, bytes] of site)
      for (const { text } of withheld) expect(textOf(bytes).includes(text), `${path}: ${text}`).toBe(false);
    const { findings, published } = await auditContent(
      { content: here.content, episodes: [], against: null, site: join(here.place, "site") },
      new Date("2026-10-05T20:00:00Z"),
    );
    expect([published, findings]).toEqual([1, []]);
  });

  test("nothing went wrong in the console meanwhile", () => {
    expect(here.own.problems).toEqual([]);
  });
});
