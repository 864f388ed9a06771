import { CORRECTION_KINDS, type CorrectionKind, replaces } from "../../src/model/correctionKinds.ts";
import type {
  CorrectionPage,
  CorrectionsPage,
  Entry,
  EpisodeCard,
  HomePage,
  NamesPage,
  NotFoundPage,
  RecordPage,
  SearchPage,
  SegmentPage,
  StationPage,
  TextPageData,
  WalkPage,
  YearCell,
  YearPage,
} from "../../src/pages/types.ts";
import { EPISODE, line, note, ORDER, SEGMENTS, segment } from "./episode.ts";
import { base, MONDAY } from "./site.ts";

const whole = SEGMENTS.find(({ slug }) => slug === "ferry-timetable") ?? segment("ferry-timetable");

export const SEGMENT: SegmentPage = {
  ...EPISODE,
  ...base("Nine sailings a week from Sollen", "2026-10-05/ferry-timetable/"),
  player: { ...EPISODE.player, from: 70, to: 445 },
  order: { ...ORDER, items: ORDER.items.map((one) => ({ ...one, current: one.slug === whole.slug })) },
  corrections: [line(1, "on-air", "1:40")],
  episode: { title: "Fewer ferries, a crane in crates, and the long swim", href: "/2026-10-05/" },
  segment: whole,
  outClock: "7:25",
  earlier: { title: "0:00 Headlines", href: "/2026-10-05/headlines/" },
  later: { title: "7:25 Quill Harbour waits for its drawings", href: "/2026-10-05/quill-harbour/" },
  sameKind: null,
  story: null,
};

const card = (id: string, correctionCount: number): EpisodeCard => ({
  title: `The edition of ${id}, and a bell found in a barn`,
  href: `/${id}/`,
  day: { ...MONDAY, iso: id, day: String(Number(id.slice(8, 10))) },
  summary: "A summary.",
  strip: {
    runs: 1680,
    studio: [[3, 49]],
    others: [[121.5, 25.3]],
    held: [[395, 219]],
    carets: correctionCount > 0 ? [540] : [],
  },
  correctionCount,
  draft: id === "2026-10-01",
});

export const entry = (kind: CorrectionKind, number: number): Entry => ({
  ref: `2026-10-06-${number}`,
  id: `c-2026-10-06-${number}`,
  href: `/corrections/2026-10-06-${number}/`,
  kind,
  kindName: note(number, kind).kindName,
  dated: "2026-10-06T09:40:00+01:00",
  day: "6 Oct",
  time: "9:40",
  datedLong: "6 October 2026, 9:40",
  about: { title: `What ${kind} is about`, href: `/2026-10-05/#note-${number}` },
  where: "Broadcast Monday 5 October 2026, at 3:41",
  words:
    kind === "withdrawal"
      ? null
      : {
          before: "At ",
          was: replaces({ kind }) ? "fourteen tonnes" : null,
          words: "forty tonnes",
          after: " that jib is heavy.",
        },
  gone: kind === "withdrawal",
  html: "<p>What the public reads.</p>",
  plain: "What the public reads.",
  signed: "Standards editor",
  supersedes: number === 1 ? { title: "2026-10-05-1", href: "/corrections/2026-10-05-1/" } : null,
  supersededBy: number === 2 ? { title: "2026-10-07-1", href: "/corrections/2026-10-07-1/" } : null,
  statement: {
    aired: "5 October 2026",
    isWhole: false,
    isGone: kind === "withdrawal",
    places:
      kind === "withdrawal"
        ? []
        : [{ title: `What ${kind} is about`, href: "/2026-10-05/ferry-timetable/#t=221.5", clock: "3:41" }],
    record: { digest: "ab".repeat(32), file: "/2026-10-05/record.jsonl", page: "/record/" },
  },
});

const ENTRIES = CORRECTION_KINDS.map((kind, index) => entry(kind, index + 1));

export const HOME: HomePage = {
  ...base("The record of the programme", ""),
  latest: { ...card("2026-10-05", 3), runs: "28:00", plays: true, order: ORDER },
  earlier: [card("2026-10-02", 1), card("2026-10-01", 0)],
  latestCorrections: ENTRIES.slice(0, 3),
  correctionCount: 212,
  hint: "4,207 editions since 2010.",
};

export const CORRECTIONS: CorrectionsPage = {
  ...base("Corrections", "corrections/"),
  heading: "Corrections",
  dateline: "212 corrections since 3 January 2010",
  kinds: [
    { kind: null, name: "All kinds", count: 212, href: "/corrections/", current: true },
    ...ENTRIES.map(({ kind, kindName }, index) => ({
      kind,
      name: kindName,
      count: index,
      href: `/corrections/${kind}/`,
      current: false,
    })),
  ],
  years: ["All years", "2026", "2025"].map((name) => ({
    name,
    kind: null,
    count: 71,
    href: `/corrections/${name === "All years" ? "" : `${name}/`}`,
    current: name === "All years",
  })),
  newest: 100,
  feed: "/corrections/feed.xml",
  months: [
    { id: "2026-10", title: "October 2026", entries: ENTRIES.slice(0, 4) },
    { id: "2026-09", title: "September 2026", entries: ENTRIES.slice(4) },
  ],
};

export const CORRECTION: CorrectionPage = {
  ...base("On-air error of 6 October 2026", "corrections/2026-10-06-1/"),
  heading: "On-air error: Nine sailings, 5 October 2026",
  entry: entry("on-air", 1),
};

export const RECORD: RecordPage = {
  ...base("The record and its checksums", "record/"),
  lists: [
    { title: "record/2026.sha256", href: "/record/2026.sha256", covers: "the editions of 2026" },
    { title: "record/site.sha256", href: "/record/site.sha256", covers: "all that belongs to no single year" },
  ],
  example: { title: "Fewer ferries", href: "/2026-10-05/record.jsonl", path: "2026-10-05/record.jsonl" },
};

export const SEARCH: SearchPage = {
  ...base("Search", "search/"),
  index: { folder: "/search/index/", tiers: ["2026-10"] },
  hint: "A name, a place, or a few words you half remember.",
  years: ["2026", "2025"],
  speakers: ["Anselm Droy", "Ilse Marrane"],
  topics: ["Courts", "Transport"],
  places: ["Sollen"],
  kinds: [
    { kind: "package", name: "Package" },
    { kind: "two-way", name: "Two-way" },
  ],
};

const cell = (iso: string, cards: readonly EpisodeCard[]): YearCell => ({
  iso,
  day: String(Number(iso.slice(8))),
  month: "October",
  cards,
});

export const YEAR: YearPage = {
  ...base("2026", "2026/"),
  year: "2026",
  dateline: "3 editions so far, 4 corrections",
  hasStudio: true,
  years: [
    { year: "2026", href: "/2026/", count: 3, current: true },
    { year: "2025", href: "/2025/", count: 1, current: false },
  ],
  weekdays: [
    { short: "Mon", long: "Monday" },
    { short: "Tue", long: "Tuesday" },
    { short: "Wed", long: "Wednesday" },
    { short: "Thu", long: "Thursday" },
    { short: "Fri", long: "Friday" },
    { short: "Sat", long: "Saturday" },
    { short: "Sun", long: "Sunday" },
  ],
  months: [
    {
      id: "2026-10",
      long: "October",
      short: "Oct",
      href: "/2026/10/",
      weeks: [
        [
          cell("2026-10-05", [card("2026-10-05", 3), card("2026-10-05-late", 0)]),
          cell("2026-10-06", []),
          ...Array.from({ length: 5 }, () => null),
        ],
        [
          cell("2026-09-28", []),
          cell("2026-09-29", [card("2026-09-29", 1)]),
          ...["2026-09-30", "2026-10-01", "2026-10-02", "2026-10-03", "2026-10-04"].map((iso) =>
            cell(iso, [card(iso, 12)]),
          ),
        ],
      ],
      cards: [card("2026-10-05", 3), card("2026-10-05-late", 0), card("2026-09-29", 1)],
    },
  ],
};

const WALK_NOTE = {
  kind: "on-air",
  kindName: "On-air error",
  href: "/corrections/2026-10-06-1/",
  dated: "2026-10-06T09:40:00+01:00",
  datedLong: "6 October 2026",
} as const;
const LISTS = {
  title: "The archive by name",
  links: ["Speakers", "Topics", "Places"].map((title) => ({
    title,
    href: `/${title.toLowerCase()}/`,
    count: null,
    current: title === "Topics",
  })),
};

export const WALK: WalkPage = {
  ...base("Harbour", "topics/harbour/"),
  up: { title: "Topics", href: "/topics/" },
  heading: "Harbour",
  dateline: "3 segments in 2 editions",
  items: ["2026-10-05", "2026-10-06"].map((id, index) => ({
    day: MONDAY,
    time: index > 0 ? "22:30" : "18:30",
    episode: { title: "Fewer ferries", href: `/${id}/` },
    draft: index > 0,
    corrections: index > 0 ? [WALK_NOTE] : [],
    segments: [
      {
        title: "The winter timetable",
        href: `/${id}/ferry-timetable/`,
        kindName: "Package",
        length: "3:20",
        as: index > 0 ? "HARBOUR" : null,
        corrections: [WALK_NOTE, WALK_NOTE].slice(index),
      },
      { title: "Weather", href: `/${id}/weather/`, kindName: null, length: "0:40", as: null, corrections: [] },
    ],
  })),
  ways: [{ title: "Years", links: [{ title: "2026", href: "/topics/harbour/", count: 3, current: true }] }, LISTS],
};

export const NAMES: NamesPage = {
  ...base("Topics", "topics/"),
  heading: "Topics",
  dateline: "2 names",
  note: "What we have spoken of.",
  groups: [
    { letter: "H", names: [{ title: "Harbour", href: "/topics/harbour/", count: 3 }] },
    { letter: "S", names: [{ title: "School meals", href: "/topics/school-meals/", count: 1 }] },
  ],
  ways: [LISTS],
};

export const TEXT_PAGE: TextPageData = {
  ...base("How we correct", "how-we-correct/"),
  heading: "How we correct",
  summary: "What we change, and how we say so.",
  html: '<h2>What we change</h2><p>Words, with <a href="/corrections/">a note</a>.</p><ul><li>One</li></ul>',
  here: "/how-we-correct/",
};

export const MISSING: NotFoundPage = base("Nothing here", "404.html");

export const OWN: StationPage = {
  ...base("Where it happened", "islands/index.html"),
  heading: "Where it happened",
  html: "<p>Sollen, and the harbour.</p>",
  here: "/islands/",
};
