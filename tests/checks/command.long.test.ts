import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { checkContent } from "../../src/actions/check.ts";
import { fixNames } from "../../src/actions/fixNames.ts";
import { placesBelow } from "../../src/actions/places.ts";
import { figuresSheet } from "../../src/cli/figures.ts";
import { fixesText } from "../../src/cli/fixesText.ts";
import { readingOf } from "../../src/cli/reading.ts";
import { asText, sorted } from "../../src/cli/report.ts";
import { parseTranscript } from "../../src/read/transcript.ts";
import { copyDemo } from "../support/site.ts";

const FIXTURE = join(import.meta.dirname, "../fixtures/checks/content");
const NOW = new Date("2026-10-12T12:00:00Z");
const ID = "2026-10-05";
const TRANSCRIPT = `episodes/2026/${ID}/transcript.vtt`;
let content = "";

beforeAll(() => {
  content = mkdtempSync(join(tmpdir(), "afterair-checks-"));
  cpSync(FIXTURE, content, { recursive: true });
});
afterAll(() => rmSync(content, { recursive: true }));

/** What `afterair check` tells of the content. */
const check = async () => sorted(await checkContent({ ...options(), episodes: [] }));

const options = () => ({ content, on: "2026-10-12", now: NOW });

describe("places of words in a transcript", () => {
  const file = "transcript.vtt";
  const at = (payload: string, word: string, ends = "\n"): string => {
    const folder = mkdtempSync(join(tmpdir(), "afterair-places-"));
    const text = ["WEBVTT", "", "1", "00:01.000 --> 00:04.000", ...payload.split("\n"), ""].join(ends);
    writeFileSync(join(folder, file), text);
    const read = parseTranscript({ file, bytes: new TextEncoder().encode(text) });
    const [cue] = read.ok ? read.value : [];
    if (cue === undefined) throw new Error("no cue");
    const piece = cue.pieces.findIndex(({ words }) => words.includes(word));
    const place = placesBelow(folder)(cue, piece, cue.pieces[piece]?.words.indexOf(word) ?? 0);
    rmSync(folder, { recursive: true });
    return `${place.line}:${place.column}`;
  };

  test.each([
    ["plain", "Good evening", "evening", "\n", "5:6"],
    ["after a voice", "<v Ilse Marrane>Good evening</v>", "evening", "\n", "5:22"],
    ["on the second line", "Good\nevening all", "all", "\n", "6:9"],
    ["after a reference", "Marks &amp; Sons of &#x4C; said", "said", "\n", "5:28"],
    ["inside a tag", "it is <i>not</i> so", "not", "\n", "5:10"],
    ["after a time", "one <00:02.000>two", "two", "\n", "5:16"],
    ["of the second voice", "<v Ann>Was it?</v>\n<v Bob>It was", "It was", "\n", "6:8"],
    [
      "under a hundred thousand voices",
      `${"<v Ann>".repeat(100_000)}Was it?${"</v>".repeat(100_000)}`,
      "it?",
      "\n",
      "5:700005",
    ],
    ["with other line ends", "Good\nevening all", "all", "\r\n", "6:9"],
  ])("%s", (_why, payload, word, ends, place) => {
    expect(at(payload, word, ends)).toBe(place);
  });
});

describe("afterair check", () => {
  test("tells editorial findings with their place, and leaves out what was accepted", async () => {
    const findings = await check();
    const rows = findings.map(({ rule, at }) => `${rule} ${at.file.split("/").at(-1)}:${at.line}:${at.column}`);
    expect(rows).toContain("name-near-miss transcript.vtt:4:34");
    expect(rows).toContain("weekday-not-date transcript.vtt:8:23");
    expect(rows.filter((row) => row.startsWith("programme-initials"))).toEqual([]);
    expect(rows).toContain("acceptance-stale episode.md:12:5");
  });

  test("shows the line, a caret and counts by group", async () => {
    const findings = (await check()).filter(({ rule }) => rule === "weekday-not-date");
    expect(asText(findings, "content", readingOf(content)).split("\n")).toEqual([
      "episodes/2026/2026-10-05: figures",
      "",
      `content/${TRANSCRIPT}:8:23  0:08  warns  weekday-not-date`,
      "    | The new pier opens on Thursday, 7 October.</v>",
      "    |                       ^",
      "    “Thursday, 7 October”: the 7th is a Wednesday (2026-10-07).",
      "    Find out whether the weekday or the date is right.",
      "",
      "0 faults, 1 warning: figures 1",
    ]);
  });

  test("gives the figures sheet", async () => {
    expect(await figuresSheet(ID, options())).toContain("Wednesday 2026-10-07");
    await expect(figuresSheet("2026-10-06", options())).rejects.toThrow("no episode 2026-10-06");
  });
});

describe("afterair check --fix names", () => {
  const text = () => readFileSync(join(content, TRANSCRIPT), "utf8");

  test("shows what it would change, changes it, and nothing else", async () => {
    const before = text();
    const planned = await fixNames({ ...options(), id: ID, dryRun: true });
    expect(text()).toBe(before);
    expect(fixesText(planned, true).split("\n")).toEqual([
      "   0:02  Elsa Moraine > Ilse Marrane",
      "   0:04  sollen > Sollen",
      `2 names would be changed in ${TRANSCRIPT}`,
    ]);
    await fixNames({ ...options(), id: ID, dryRun: false });
    expect(text()).toBe(before.replace("Elsa Moraine", "Ilse Marrane").replace("sollen", "Sollen"));
    expect((await fixNames({ ...options(), id: ID, dryRun: false })).fixed).toEqual([]);
  });

  test("refuses a published transcript", async () => {
    writeFileSync(join(content, `episodes/2026/${ID}/record.jsonl`), "{}\n");
    await expect(fixNames({ ...options(), id: ID, dryRun: false })).rejects.toThrow("is published");
    rmSync(join(content, `episodes/2026/${ID}/record.jsonl`));
  });
});

describe("an episode that is asked for alone", () => {
  const demo = mkdtempSync(join(tmpdir(), "afterair-checks-demo-"));
  afterAll(() => rmSync(demo, { recursive: true }));
  const alone = (...episodes: readonly string[]) => checkContent({ ...options(), content: demo, episodes });

  test("is held against what the others have: the numbers of corrections, and topics", async () => {
    copyDemo(demo);
    const before = await alone("2026-10-07");
    const of = (id: string, name: string) => join(demo, `episodes/2026/${id}`, name);
    const more = "---\ndated: 2026-10-09T20:00:00+01:00\nkind: update\nsigned: Online desk\n---\nMore.\n";
    writeFileSync(of("2026-10-07", "corrections/2026-10-09-1.md"), more);
    const [topic = ""] = /(?<=topics: \[)[^,\]]+/.exec(readFileSync(of("2026-10-05", "episode.md"), "utf8")) ?? [];
    const text = readFileSync(of("2026-10-07", "episode.md"), "utf8");
    writeFileSync(of("2026-10-07", "episode.md"), text.replace(/(?<=topics: \[)[^,\]]+/, topic.toUpperCase()));
    const now = (await alone("2026-10-07")).filter(({ says }) => before.every((own) => own.says !== says));
    expect(now.map(({ rule }) => rule)).toEqual(expect.arrayContaining(["address-taken", "topic-two-spellings"]));
    const clash = now.find(({ rule }) => rule === "address-taken");
    expect([clash?.at.file, ...(clash?.see ?? []).map(({ file }) => file)].sort()).toEqual([
      "episodes/2026/2026-10-06/corrections/2026-10-09-1.md",
      "episodes/2026/2026-10-07/corrections/2026-10-09-1.md",
    ]);
  });

  test("that is not there is a fault of the call", async () => {
    await expect(alone("2026-10-08")).rejects.toThrow("There is no episode 2026-10-08");
  });
});
