import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { auditContent } from "../../src/actions/audit.ts";
import type { CorrectionKind } from "../../src/model/correctionKinds.ts";
import { readTree, textOf } from "../support/site.ts";
import { atDesk } from "./atDesk.ts";
import { BROWSER, UNLESS_BROWSER } from "./chromium.ts";

const ID = "2026-10-05";

interface Asked {
  /** The kind, as the page calls it. */
  readonly called: string;
  readonly note: string;
  /** What else is filled in, by its label. */
  readonly fields?: Readonly<Record<string, string>>;
  /** What is chosen, by its label. */
  readonly choices?: Readonly<Record<string, string>>;
  /** The segment on whose page the note stands; left out: it stands on the episode's. */
  readonly segment?: string;
}

const SAID = "The exact published words concerned";
const BECOMES = "What they become";

/** One of each kind; the compiler asks for a new one. A withdrawal comes last: what it takes away is gone. */
const EACH: Readonly<Record<CorrectionKind, Asked>> = {
  "on-air": {
    called: "On-air error",
    note: "The ship carries 240 passengers.",
    fields: { [SAID]: "The ship has room for 220." },
    segment: "ferry-timetable",
  },
  transcript: {
    called: "Transcript error",
    note: "We wrote the bank where the reef was said.",
    fields: { [SAID]: "Great Verrin stays mostly dry", [BECOMES]: "Great Verrin stays wholly dry" },
    segment: "weather",
  },
  page: {
    called: "Page error",
    note: "The title named no place.",
    fields: { [SAID]: "Windy until Wednesday", [BECOMES]: "Windy at Sollen until Wednesday" },
    choices: { Segment: "weather", "Which part of the page": "title" },
    segment: "weather",
  },
  clarification: {
    called: "Clarification",
    note: "The league has eight clubs.",
    fields: { [SAID]: "three goals to one" },
    segment: "sport",
  },
  update: { called: "Update", note: "The council has met since, and has put it off." },
  withdrawal: {
    called: "Withdrawal",
    note: "Taken away, because the court has forbidden it.",
    choices: { Segment: "fund-court" },
    segment: "fund-court",
  },
};

/** What was said in the segment that is withdrawn, and nowhere else. */
const GONE = ["no pension has been missed", "answer the charges at the proper time", "retired ferry workers"];

describe.skipIf(BROWSER === null)(`a correction of each kind, entered at the desk${UNLESS_BROWSER}`, () => {
  const here = atDesk({ now: "2026-10-14T08:00:00Z" });
  const names = new Map<CorrectionKind, string>();

  test.each(Object.entries(EACH) as readonly (readonly [CorrectionKind, Asked])[])(
    "%s",
    async (kind, { called, note, fields = {}, choices = {} }) => {
      const { page } = here.own;
      await here.goTo(`correct/${ID}`);
      await page.getByLabel(called).check();
      for (const [label, value] of Object.entries(choices))
        await page.getByRole("combobox", { name: label }).selectOption(value);
      for (const [label, value] of Object.entries(fields)) await page.getByLabel(label).fill(value);
      await page.getByLabel("The note that the public reads").fill(note);
      await page.getByLabel("Signed").fill("Standards editor");
      await page.getByRole("button", { name: "Show what it will do" }).click();
      await page.getByRole("heading", { name: "As the public will see it" }).waitFor();
      await page.getByLabel(kind === "withdrawal" ? "I know that this takes" : "It is right.").check();
      await page.getByRole("button", { name: kind === "withdrawal" ? "Withdraw" : "Enter the correction" }).click();
      await page.getByText("Nothing of them changed in silence").waitFor({ timeout: 60_000 });
      const entered = (await page.getByText(/^Entered as /).textContent()) ?? "";
      names.set(kind, /Entered as (\S+)\.$/.exec(entered)?.[1] ?? "");
    },
    120_000,
  );

  test("each note stands on the pages that it belongs to, what was replaced is replaced, and the audit is clean", async () => {
    const site = await readTree(join(here.place, "site"));
    const pageAt = (path: string) => textOf(site.get(`${path}index.html`) ?? Buffer.from(`no ${path}`));
    for (const [kind, { note, segment }] of Object.entries(EACH) as readonly (readonly [CorrectionKind, Asked])[]) {
      const own = segment === undefined ? `${ID}/` : `${ID}/${segment}/`;
      for (const path of [`${ID}/`, own, "corrections/", `corrections/${names.get(kind)}/`])
        expect(pageAt(path), `${kind} on ${path}`).toContain(note);
      expect(textOf(site.get("corrections/feed.xml") ?? Buffer.from("")), kind).toContain(note);
    }
    expect(pageAt(`${ID}/weather/`)).toContain("Windy at Sollen until Wednesday");
    expect(textOf(site.get(`${ID}/transcript.txt`) ?? Buffer.from("")).replace(/\s+/g, " ")).toContain(
      "Great Verrin stays wholly dry",
    );
    const { findings } = await auditContent(
      { content: here.content, episodes: [], against: null, site: join(here.place, "site") },
      new Date("2026-10-14T09:00:00Z"),
    );
    expect(findings).toEqual([]);
  });

  test("what was withdrawn is in no file of the site, nor on the desk's own pages", async () => {
    for (const [path, bytes] of await readTree(join(here.place, "site"))) {
      const text = textOf(bytes).replace(/\s+/g, " ");
      for (const words of GONE) expect(text.includes(words), `“${words}” in ${path}`).toBe(false);
    }
    for (const path of ["words", "look", "order", "publish", "correct"]) {
      await here.goTo(`${path}/${ID}`);
      const text = (await here.own.page.locator("body").textContent()) ?? "";
      const answer = await (await fetch(`${here.desk.url}api/${path === "order" ? "words" : path}/${ID}`)).text();
      for (const words of GONE) expect([text.includes(words), answer.includes(words)], path).toEqual([false, false]);
    }
  });

  test("nothing went wrong in the console meanwhile", () => {
    expect(here.own.problems).toEqual([]);
  });
});
