import { expect, test } from "vitest";
import type { Group, PlannedYear } from "../../src/build/groups.ts";
import { keyOf } from "../../src/build/state.ts";
import { yearNames } from "../../src/build/walkNames.ts";
import { nameGroups } from "../../src/build/walkPlan.ts";
import { factsOf } from "../../src/pages/facts.ts";
import { NO_ASSETS, pageContextOf } from "../../src/pages/site.ts";
import type { WalkEpisode } from "../../src/pages/walk.ts";
import { evening } from "../pages/evenings.ts";
import { readArchive } from "../support/readArchive.ts";
import { DEMO } from "../support/site.ts";

const programme = readArchive(DEMO).archive?.programme;
if (programme === undefined) throw new Error("the demo has no programme");
const context = pageContextOf(programme, NO_ASSETS);

const yearOf = (year: string, walk: readonly WalkEpisode[], onRead = (): void => undefined): PlannedYear => ({
  facts: factsOf(year, []),
  corrections: [],
  claimed: [],
  listed: "",
  readListings: () => [],
  readClaims: () => [],
  readNames: () => yearNames(walk, keyOf),
  readWalk() {
    onRead();
    return walk;
  },
});

/** So many evenings of a year, each about the harbour. */
const many = (year: number, count: number, topic = "Harbour"): readonly WalkEpisode[] =>
  Array.from({ length: count }, (_, n) => {
    const [month, day] = [Math.floor(n / 28) + 1, (n % 28) + 1].map((part) => String(part).padStart(2, "0"));
    return evening(`${year}-${month}-${day}`, [topic]);
  });

const groupsOf = (...years: readonly (readonly WalkEpisode[])[]): readonly Group[] =>
  nameGroups({ context, years: years.map((own, n) => yearOf(String(2024 + n), own)), tiers: [], stories: {} });
const keysOf = (groups: readonly Group[]) => Object.fromEntries(groups.map(({ name, key }) => [name, key]));
const topics = (groups: readonly Group[]) =>
  groups.map(({ name }) => name).filter((name) => name.startsWith("topics/harbour"));

test.each([
  ["a year alone, as much as a page can show", [60], ["topics/harbour/"]],
  ["a year alone with more", [61], ["topics/harbour/", "topics/harbour/2024/01/", "topics/harbour/2024/02/"]],
  [
    "a year that is over with more",
    [57, 1, 61, 2],
    [
      "topics/harbour/",
      "topics/harbour/2024/",
      "topics/harbour/2025/",
      "topics/harbour/2026/",
      "topics/harbour/2026/01/",
      "topics/harbour/2026/02/",
    ],
  ],
  ["a few editions of several years", [20, 20, 20], ["topics/harbour/"]],
  ["more than a page can show", [20, 20, 21], ["topics/harbour/", "topics/harbour/2024/", "topics/harbour/2025/"]],
  ["a year without it has no page", [60, 0, 1], ["topics/harbour/", "topics/harbour/2024/"]],
])("%s", (_why, counts, names) => {
  expect(topics(groupsOf(...counts.map((count, n) => many(2024 + n, count))))).toEqual(names);
});

test("an evening makes no page of an earlier month again, nor does the next year", () => {
  const year = many(2024, 61);
  const old = keysOf(groupsOf(year));
  const sameMonth = keysOf(groupsOf([...year, evening("2024-03-28", ["Harbour"])]));
  const nextMonth = keysOf(groupsOf([...year, evening("2024-04-01", ["Harbour"])]));
  const nextYear = keysOf(groupsOf(year, [evening("2025-01-01", ["Harbour"])]));
  for (const now of [sameMonth, nextMonth, nextYear]) {
    const kept = Object.keys(old).filter((name) => now[name] === old[name]);
    expect(kept).toEqual(expect.arrayContaining(["topics/harbour/2024/01/", "topics/harbour/2024/02/"]));
    expect(kept).not.toContain("topics/harbour/");
  }
  const added = (now: typeof old) => Object.keys(now).filter((name) => old[name] === undefined);
  expect(added(sameMonth)).toEqual([]);
  expect(added(nextMonth)).toEqual(["topics/harbour/2024/03/"]);
  expect(added(nextYear)).toEqual(["topics/harbour/2024/"]);
});

test("months and years lead to one another, and each segment is on one page", async () => {
  const groups = groupsOf(many(2024, 61), many(2025, 70));
  const made = await Promise.all(
    groups.filter(({ name }) => name.startsWith("topics/harbour")).map(({ make }) => make()),
  );
  const pages = made
    .flat()
    .flatMap((output) => ("page" in output && output.page.kind === "walk" ? [output.page.page] : []));
  const leadsTo = (n: number) => pages[n]?.ways.slice(0, -1).map(({ title, links }) => [title, links]);
  const way = (title: string, href: string, count: number | null, current = false) => ({ title, href, count, current });
  expect(pages.map(({ heading, items }) => [heading, items.length])).toEqual([
    ["Harbour", 14],
    ["Harbour, January 2025", 28],
    ["Harbour, February 2025", 28],
    ["Harbour, 2024", 5],
    ["Harbour, January 2024", 28],
    ["Harbour, February 2024", 28],
  ]);
  expect(pages[0]?.dateline).toBe("131 segments in 131 editions");
  expect(leadsTo(0)).toEqual([
    [
      "Months",
      [
        way("March 2025", "/topics/harbour/", 14, true),
        way("February 2025", "/topics/harbour/2025/02/", 28),
        way("January 2025", "/topics/harbour/2025/01/", 28),
      ],
    ],
    ["Years", [way("2025", "/topics/harbour/", 70, true), way("2024", "/topics/harbour/2024/", 61)]],
  ]);
  expect(leadsTo(1)).toEqual([["Years", [way("All years", "/topics/harbour/", null)]]]);
  expect(pages[3]?.dateline).toBe("61 segments in 61 editions");
  expect(leadsTo(3)).toEqual([
    [
      "Months",
      [
        way("March 2024", "/topics/harbour/2024/", 5, true),
        way("February 2024", "/topics/harbour/2024/02/", 28),
        way("January 2024", "/topics/harbour/2024/01/", 28),
      ],
    ],
    ["Years", [way("All years", "/topics/harbour/", null)]],
  ]);
});

test("an evening makes the pages of its own names again, and none of an earlier year", () => {
  const before = [many(2024, 60), many(2025, 30)] as const;
  const [old, now] = [
    keysOf(groupsOf(...before)),
    keysOf(groupsOf(before[0], [...before[1], evening("2025-06-01", ["harbour"], ["Courts"])])),
  ];
  const changed = Object.keys(now).filter((name) => now[name] !== old[name]);
  expect(changed).toEqual(["topics/", "topics/harbour/", "topics/courts/"]);
  expect(Object.keys(old).filter((name) => now[name] === undefined)).toEqual([]);
});

test("pages of earlier years are made without reading any other, and so is the front of a name that has them", async () => {
  const read: string[] = [];
  const years = [2024, 2025, 2026].map((year) =>
    yearOf(String(year), many(year, 40), () => {
      read.push(String(year));
    }),
  );
  for (const { name, make } of nameGroups({ context, years, tiers: [], stories: {} })) {
    read.length = 0;
    await make();
    const [, , year] = name.split("/");
    if (name.startsWith("topics/harbour/")) expect(read).toEqual([year === "" ? "2026" : year]);
  }
});

test("the name's page says how much each year has, a year's own page only where all years are", async () => {
  const groups = groupsOf(many(2024, 40), many(2025, 41));
  const pages = await Promise.all(
    groups.filter(({ name }) => name.startsWith("topics/harbour")).map(({ make }) => make()),
  );
  const [front, past] = pages
    .flat()
    .map((output) => ("page" in output && output.page.kind === "walk" ? output.page.page : null));
  expect(front?.dateline).toBe("81 segments in 81 editions");
  expect(front?.items).toHaveLength(41);
  expect(front?.ways[0]?.links).toEqual([
    { title: "2025", href: "/topics/harbour/", count: 41, current: true },
    { title: "2024", href: "/topics/harbour/2024/", count: 40, current: false },
  ]);
  expect(past?.heading).toBe("Harbour, 2024");
  expect(past?.ways[0]?.links.map(({ href }) => href)).toEqual(["/topics/harbour/"]);
});

test("a topic and a place of one name have a page each; two spellings of a name have one", async () => {
  const both = evening("2026-10-06", ["Harbour"]);
  const [item] = both.segments;
  if (item === undefined) throw new Error("there is no item");
  const named = { ...both, segments: [{ ...item, names: { ...item.names, places: item.names.topics } }] };
  const groups = groupsOf([], [], [evening("2026-10-05", ["harbour"]), named]);
  expect(groups.map(({ name }) => name)).toEqual([
    "speakers/",
    "topics/",
    "topics/harbour/",
    "places/",
    "places/harbour/",
  ]);
  const [page] = (await groups[2]?.make()) ?? [];
  expect(page).toMatchObject({ page: { page: { heading: "Harbour", dateline: "2 segments in 2 editions" } } });
});
