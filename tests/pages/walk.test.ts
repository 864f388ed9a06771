import fc from "fast-check";
import { expect, test } from "vitest";
import { nameSlug } from "../../src/model/slugs.ts";
import { NO_ASSETS, pageContextOf } from "../../src/pages/site.ts";
import { partsByName, type WalkEpisode } from "../../src/pages/walk.ts";
import { monthPages, type NameCount, namePage, namesPage } from "../../src/pages/walkPages.ts";
import { readArchive } from "../support/readArchive.ts";
import { DEMO } from "../support/site.ts";
import { evening } from "./evenings.ts";

const programme = readArchive(DEMO).archive?.programme;
if (programme === undefined) throw new Error("the demo has no programme");
const CONTEXT = pageContextOf(programme, NO_ASSETS);

test.each([
  ["small and large letters come to one address", "HARBOUR", "harbour"],
  ["marks come to the letter", "Señá Ærø", "sena-aero"],
  ["letters without a sound of ours are numbers", "日本", "65e5-672c"],
  ["signs alone too", "…", "2026"],
])("%s", (_why, name, slug) => {
  expect(nameSlug(name)).toBe(slug);
});

test("a month tells the hours of two editions of one day, and of no other", () => {
  const [early, late] = ["12:30", "22:15"].map((hour) => ({
    ...evening(`2026-10-05-${hour.slice(0, 2)}`, ["Harbour"]),
    aired: `2026-10-05T${hour}:00.000+01:00`,
  }));
  const own = [evening("2026-10-04", ["Harbour"]), early, late].flatMap((one) => one ?? []);
  const [page] = monthPages(["2026-10"], own, CONTEXT);
  expect(page?.kind === "walk" && page.page.items.map(({ time, episode }) => [time, episode.href])).toEqual([
    ["22:15", "/2026-10-05-22/"],
    ["12:30", "/2026-10-05-12/"],
    [null, "/2026-10-04/"],
  ]);
});

test("a name's part is every segment that has it, once, and no other", () => {
  const topic = fc.constantFrom("Harbour", "harbour", "Courts", "School meals");
  fc.assert(
    fc.property(fc.array(fc.array(fc.uniqueArray(topic), { maxLength: 4 }), { maxLength: 6 }), (evenings) => {
      const episodes = evenings.map((own, index) => evening(`2026-10-0${index + 1}`, ...own));
      const parts = partsByName(episodes, "topics");
      const found = [...parts].flatMap(([slug, part]) =>
        part.flatMap(({ id, segments }) => segments.map((own) => `${slug} ${id} ${own.slug}`)),
      );
      const wanted = episodes.flatMap(({ id, segments }) =>
        segments.flatMap((own) => [...new Set(own.names.topics.map(({ slug }) => `${slug} ${id} ${own.slug}`))]),
      );
      expect(found.sort()).toEqual(wanted.sort());
    }),
  );
});

const nameOf = (part: readonly WalkEpisode[], name = "Harbour") => {
  const page = namePage({ list: "topics", slug: "harbour", name, part, period: null, years: [], months: [] }, CONTEXT);
  if (page.kind !== "walk") throw new Error(page.kind);
  return page.page;
};

test("newest first, and a name that is written otherwise says so: another may be meant", () => {
  const { items, dateline } = nameOf([
    evening("2026-10-05", ["harbour"]),
    evening("2026-10-06", ["Harbour"], ["Harbour"]),
  ]);
  expect(items.map(({ day }) => day.day)).toEqual(["6", "5"]);
  expect(items.map(({ segments }) => segments.map(({ as }) => as))).toEqual([[null, null], ["harbour"]]);
  expect(dateline).toBe("3 segments in 2 editions");
});

test("a correction on the whole evening stands on its month's page, and on no name's", () => {
  const own = evening("2026-10-05", ["Harbour"]);
  expect(nameOf([own]).items.map(({ corrections }) => corrections)).toEqual([[]]);
  const [month] = monthPages(["2026-10"], [own, evening("2026-11-02", ["Harbour"])], CONTEXT);
  if (month?.kind !== "walk") throw new Error("there is no month");
  expect(month.path).toBe("2026/10/index.html");
  expect(month.page.items.map(({ day }) => day.month)).toEqual(["Oct"]);
  expect(month.page.items[0]?.corrections).toMatchObject([{ kindName: "Page error", datedLong: "1 November 2026" }]);
});

test("two editions of one day both stand in their month", () => {
  const [month] = monthPages(["2026-10"], [evening("2026-10-05", []), evening("2026-10-05-late", [])], CONTEXT);
  if (month?.kind !== "walk") throw new Error("there is no month");
  expect(month.page.items.map(({ episode }) => episode.href)).toEqual(["/2026-10-05-late/", "/2026-10-05/"]);
});

test.each([
  ["few names stand together", 40, [null]],
  ["many by their first letter, marks left out", 41, ["A", "E", "N", "…"]],
])("%s", (_why, count, letters) => {
  const names = ["Élodie", "anselm", "…", ...Array.from({ length: count - 3 }, (_, n) => `N ${n}`)];
  const page = namesPage(
    "speakers",
    names.map((name): NameCount => ({ name, slug: nameSlug(name), segments: 1 })),
    CONTEXT,
  );
  if (page.kind !== "names") throw new Error(page.kind);
  expect(page.page.groups.map(({ letter }) => letter).sort()).toEqual(letters);
});
