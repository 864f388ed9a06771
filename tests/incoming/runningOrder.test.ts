import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { parseRunningOrder } from "../../src/read/incoming/runningOrder.ts";
import { rulesOf } from "./raw.ts";

const parse = (text: string | Uint8Array) =>
  parseRunningOrder(
    { file: "order.csv", bytes: typeof text === "string" ? new TextEncoder().encode(text) : text },
    { frameRate: 25, slotAt: "18:30" },
  );
const rows = (text: string) => {
  const read = parse(text);
  if (!read.ok) throw new Error(rulesOf(read.findings).join());
  return read.value;
};

test("the demo's running order", () => {
  const read = parse(readFileSync(join(import.meta.dirname, "../fixtures/raw/evening/order.csv")));
  expect(read.findings).toEqual([]);
  expect(
    read.ok && read.value.map(({ slug, kind, planned, in: start, by }) => [slug, kind, planned, start, by[0]]),
  ).toEqual([
    ["headlines", "headlines", 40_000, 0, "Tamsin Hathersay"],
    ["ferry-timetable", "package", 100_000, 40_000, "Ilse Marrane"],
    ["hallan-light", "interview", 85_000, 140_000, "Tamsin Hathersay"],
    ["fund-court", "two-way", 70_000, 225_000, "Joss Tolvey"],
    ["break", "break", 30_000, 295_000, undefined],
    ["mainland-talks", "agency", 45_000, 325_000, "Lucan Threave"],
    ["sport", "sport", 55_000, 370_000, "Dermot Quennick"],
    ["weather", "weather", 40_000, 425_000, "Bettany Vellick"],
    ["close", "close", 20_000, 465_000, "Tamsin Hathersay"],
  ]);
});

describe("sheets as they come", () => {
  test.each([
    ["semicolons", "Title;Kind;Duration\nFerries, boats;VT;1:40\n"],
    ["tabs, another order", "Duration\tTitle\tKind\n1:40\tFerries, boats\tpackage\n"],
    ["quotes, CRLF, a byte order mark", '\uFEFF"title","kind","dur"\r\n"Ferries, boats","package","1:40"\r\n'],
    ["timecode", 'title,kind,length\n"Ferries, boats",package,00:01:40:00\n'],
    ["whole seconds", 'TITLE,Type,planned_duration\n"Ferries, boats",report,100\n'],
    ["columns nobody knows, rows of nothing", 'page,title,kind,est\n1,"Ferries, boats",package,1:40\n,,,\n'],
  ])("%s", (_why, text) => {
    expect(rows(text).map(({ title, kind, planned, slug }) => [title, kind, planned, slug])).toEqual([
      ["Ferries, boats", "package", 100_000, "ferries-boats"],
    ]);
  });

  test.each([
    ["from nothing", "0:00", "1:00", [0, 60_000]],
    ["times of day", "18:30:00", "18:31:00", [0, 60_000]],
    ["hours and minutes of the day", "18:30", "18:31", [0, 60_000]],
    ["timecode from ten", "10:00:00:00", "10:01:00:12", [0, 60_480]],
  ])("in points: %s", (_why, first, second, wanted) => {
    expect(rows(`title,in\nOne,${first}\nTwo,${second}\n`).map((row) => row.in)).toEqual(wanted);
  });

  test("a line break in a quoted title keeps the lines of the rows after it", () => {
    expect(rows('title,planned\n"Ferries\nand boats",1:00\nClose,0:20\n').map(({ at }) => at.line)).toEqual([2, 4]);
  });

  test("titles that give one slug, and one that the site keeps", () => {
    expect(rows("title\nWeather\nWeather\nIndex\n").map(({ slug }) => slug)).toEqual([
      "weather",
      "weather-2",
      "index-2",
    ]);
  });
});

describe("what is wrong is told, with its place", () => {
  test.each([
    ["a time that is none", "title,planned\nFerries,1:75\n", ["order-time-unreadable"], 2, 9],
    ["a kind that is none", "title,kind\nFerries,packag\n", ["order-kind-unknown"], 2, 1],
    ["a row with no title", "title,planned\nFerries,1:00\n,0:20\n", ["order-row-bare"], 3, 1],
  ])("%s", (_why, text, rules, line, column) => {
    const { ok, findings } = parse(text);
    expect(ok).toBe(true);
    const [first] = findings.filter(({ rule }) => rules.includes(rule));
    expect([first?.rule, first?.level, first?.at.line, first?.at.column]).toEqual([rules[0], "warns", line, column]);
  });

  test.each([
    ["nothing", "", "order-empty"],
    ["a header alone", "title,kind\n", "order-empty"],
    ["no title column", "page,planned\n1,0:20\n", "order-columns"],
  ])("%s blocks", (_why, text, rule) => {
    const read = parse(text);
    expect(read.ok).toBe(false);
    expect(rulesOf(read.findings)).toContain(rule);
  });

  test("a quotation mark that is not closed does not bring it down", () => {
    expect(() => parse('title,planned\n"Ferries,1:00\nClose,0:20\n')).not.toThrow();
  });
});
