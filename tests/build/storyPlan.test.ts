import fc from "fast-check";
import { expect, test } from "vitest";
import type { Group, PlannedYear, YearStories } from "../../src/build/groups.ts";
import { storiesOf, storyGroups, storyLines } from "../../src/build/storyPlan.ts";
import { tellingWords } from "../../src/derive/stories.ts";
import { factsOf } from "../../src/pages/facts.ts";
import { NO_ASSETS, pageContextOf } from "../../src/pages/site.ts";
import type { WalkEpisode, WalkSegment } from "../../src/pages/walk.ts";
import { evening } from "../pages/evenings.ts";
import { readArchive } from "../support/readArchive.ts";
import { DEMO } from "../support/site.ts";

const programme = readArchive(DEMO).archive?.programme;
if (programme === undefined) throw new Error("the demo has no programme");
const context = pageContextOf(programme, NO_ASSETS);

/** An evening with one item of a topic, found to belong to others by the words of its title. */
const telling = (id: string, title: string, more: Partial<WalkSegment> = {}): WalkEpisode => {
  const own = evening(id, ["Courts"]);
  const segments = own.segments.map((one) => ({ ...one, title, telling: tellingWords(title), ...more }));
  return { ...own, segments };
};

const TRIAL = "Treasurer charity ferrymen trial";
const ACROSS = [telling("2025-12-29", TRIAL), telling("2026-01-05", `${TRIAL} begins`)];
const LATER = [
  telling("2026-03-02", "Lighthouse keeper lantern auction"),
  telling("2026-03-09", "Lighthouse lantern auction ends"),
];
const CORRECTION = { corrections: [{ id: "2026-01-09-1", kind: "page", dated: "2026-01-09T09:00:00+01:00" }] } as const;

/** @param read gets every year whose pages are read. */
function planned(evenings: readonly WalkEpisode[], read: string[] = []): readonly PlannedYear[] {
  const years = [...new Set(evenings.map(({ id }) => id.slice(0, 4)))].sort();
  return years.map((year) => {
    const own = evenings.filter(({ id }) => id.startsWith(year));
    return {
      facts: factsOf(year, []),
      corrections: [],
      claimed: [],
      listed: JSON.stringify(own),
      readListings: () => [],
      readClaims: () => [],
      readNames: () => ({ speakers: {}, topics: {}, places: {} }),
      readWalk() {
        read.push(year);
        return own;
      },
    };
  });
}

interface Built {
  readonly stories: Readonly<Record<string, YearStories>>;
  readonly groups: readonly Group[];
}
function built(evenings: readonly WalkEpisode[], before: Built | null = null, read: string[] = []): Built {
  const years = planned(evenings, read);
  const stories = storiesOf(years, before?.stories ?? {});
  return { stories, groups: storyGroups({ context, years, tiers: [], stories }) };
}

/** What of the pages is made again. */
const madeAgain = (before: Built, now: Built): readonly string[] => {
  const keys = new Map(before.groups.map(({ name, key }) => [name, key]));
  return now.groups.filter(({ name, key }) => keys.get(name) !== key).map(({ name }) => name);
};
const FIRST = "stories/2025-12-29-item-0/";
const SECOND = "stories/2026-03-02-item-0/";
const ALL = [...ACROSS, ...LATER];

test.each<[string, readonly WalkEpisode[], readonly string[]]>([
  ["an evening that tells of something else", [...ALL, telling("2026-03-10", "Windmill sails mended")], []],
  [
    "an evening that goes on with one",
    [...ALL, telling("2026-03-12", "Lighthouse lantern auction money")],
    ["stories/", SECOND],
  ],
  [
    "a correction of what began in the year before",
    [telling("2025-12-29", TRIAL, CORRECTION), ...ALL.slice(1)],
    [FIRST],
  ],
  [
    "a correction of another item",
    [...ALL.slice(0, 3), telling("2026-03-09", "Lighthouse lantern auction ends", CORRECTION)],
    [SECOND],
  ],
  ["a new title of the first item", [telling("2025-12-29", `${TRIAL} opens`), ...ALL.slice(1)], ["stories/", FIRST]],
])("made again after %s", (_why, evenings, expected) => {
  const before = built(ALL);
  expect(before.groups.map(({ name }) => name)).toEqual(["stories/", FIRST, SECOND]);
  const now = built(evenings, before);
  expect(madeAgain(before, now)).toEqual(expected);
  // What is known from before leads to the same as beginning anew.
  expect(now).toEqual(expect.objectContaining({ stories: built(evenings).stories }));
});

test("of a year in which nothing changed nothing is read", () => {
  const before = built(ALL);
  const read: string[] = [];
  built(ALL, before, read);
  expect(read).toEqual([]);
  built([...ALL, telling("2026-03-10", "Windmill sails mended")], before, read);
  expect([...new Set(read)]).toEqual(["2026"]);
});

test("a story with one item taken away has no page, and is in no list", async () => {
  const { groups } = built(ALL.filter(({ id }) => id !== "2026-03-09"));
  expect(groups.map(({ name }) => name)).toEqual(["stories/", FIRST]);
  expect(JSON.stringify(await groups[0]?.make())).not.toContain("Lighthouse");
});

test("one that an editor named has a page from its first evening, for its segment leads there", () => {
  const story = { name: "The long swim", slug: "the-long-swim" };
  const evenings = [
    telling("2026-03-02", "Swimmer sets out", { story }),
    telling("2026-03-09", "Windmill sails mended"),
  ];
  expect(built(evenings).groups.map(({ name }) => name)).toEqual(["stories/", "stories/the-long-swim/"]);
  const none = { name: "None", slug: "none" };
  expect(built([telling("2026-03-02", "Swimmer sets out", { story: none })]).groups.map(({ name }) => name)).toEqual([
    "stories/",
  ]);
});

test("an editor's name for it is its title, whatever the years", async () => {
  const story = { name: "The ferrymen's fund", slug: "the-ferrymen-s-fund" };
  const { groups } = built([
    telling("2025-12-29", TRIAL, { story }),
    telling("2026-01-05", "Anything else", { story }),
  ]);
  const [list, page] = await Promise.all(groups.map(({ make }) => make()));
  expect(list).toMatchObject([
    { page: { page: { groups: [{ letter: "2025", names: [{ title: story.name, count: 2 }] }] } } },
  ]);
  expect(page).toMatchObject([{ page: { page: { heading: story.name, dateline: "2 segments in 2 editions" } } }]);
});

const linesIn = (evenings: readonly WalkEpisode[]) => {
  const years = planned(evenings);
  return storyLines({ context, years, stories: storiesOf(years, {}) });
};

test("a segment's page names its story, and what is before and after it there, over the end of the year", () => {
  const story = { title: TRIAL, href: "/stories/2025-12-29-item-0/" };
  const lines = linesIn([...ACROSS, telling("2026-01-06", "Windmill sails mended")]);
  expect(Object.fromEntries(lines)).toEqual({
    "2025-12-29": {
      "item-0": {
        story,
        earlier: null,
        later: { title: `${TRIAL}, Monday 5 January 2026: ${TRIAL} begins`, href: "/2026-01-05/item-0/" },
      },
    },
    "2026-01-05": {
      // The story is called by this segment: its title is not said again.
      "item-0": {
        story,
        earlier: { title: `${TRIAL}, Monday 29 December 2025`, href: "/2025-12-29/item-0/" },
        later: null,
      },
    },
  });
});

/** Two editions of one day, whose ids stand the other way round than they were on air. */
const TWICE = [
  { ...telling("2026-01-05-midday", `${TRIAL} begins`), aired: "2026-01-05T12:30:00.000+00:00" },
  { ...telling("2026-01-05", `${TRIAL} begins`), aired: "2026-01-05T18:30:00.000+00:00" },
];

test("two editions of a day are told apart by the hour, in the order in which they were on air", async () => {
  const evenings = [...ACROSS.slice(0, 1), ...TWICE, telling("2026-01-06", `${TRIAL} ends`)];
  const day = `${TRIAL}, Monday 5 January 2026`;
  const ways = [...linesIn(evenings)].map(([id, own]) => [
    id,
    own["item-0"]?.earlier?.title,
    own["item-0"]?.later?.title,
  ]);
  const [first, midday, later, last] = [
    `${TRIAL}, Monday 29 December 2025`,
    `${day}, 12:30: ${TRIAL} begins`,
    `${day}, 18:30: ${TRIAL} begins`,
    `${TRIAL}, Tuesday 6 January 2026: ${TRIAL} ends`,
  ];
  expect(ways.sort()).toEqual(
    [
      ["2025-12-29", undefined, midday],
      ["2026-01-05-midday", first, later],
      ["2026-01-05", midday, last],
      ["2026-01-06", later, undefined],
    ].sort(),
  );
  const page = await built(evenings).groups[1]?.make();
  expect(page).toMatchObject([
    {
      page: {
        page: {
          dateline: "4 segments in 4 editions",
          items: [
            { time: null, episode: { href: "/2025-12-29/" } },
            { time: "12:30", episode: { href: "/2026-01-05-midday/" } },
            { time: "18:30", episode: { href: "/2026-01-05/" } },
            { time: null, episode: { href: "/2026-01-06/" } },
          ],
        },
      },
    },
  ]);
});

test("nothing is said of a story that was left with one evening, or of none", () => {
  expect(linesIn([ACROSS[0] ?? telling("2025-12-29", TRIAL)])).toEqual(new Map());
  const story = { name: "none", slug: "none" };
  expect(linesIn([telling("2026-03-02", "Swimmer sets out", { story })])).toEqual(new Map());
});

test("whoever goes on from the first comes through the whole story in order, and back", () => {
  const days = fc.uniqueArray(fc.integer({ min: 0, max: 500 }), { minLength: 1, maxLength: 12 });
  const story = { name: "The long swim", slug: "the-long-swim" };
  fc.assert(
    fc.property(days, (offsets) => {
      const ids = offsets.map((days) => new Date(Date.UTC(2025, 5, 1 + days)).toISOString().slice(0, 10)).sort();
      const lines = linesIn(ids.map((id) => telling(id, "Swimmer sets out", { story })));
      const hrefs = ids.map((id) => `/${id}/item-0/`);
      const ways = ids.map((id) => lines.get(id)?.["item-0"]);
      expect(ways.map((own) => own?.later?.href)).toEqual([...hrefs.slice(1), undefined]);
      expect(ways.map((own) => own?.earlier?.href)).toEqual([undefined, ...hrefs.slice(0, -1)]);
    }),
  );
});
