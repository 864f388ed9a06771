import {
  CORRECTION_KINDS,
  type CorrectionKind,
  correctionKindName,
  replaces,
} from "../../src/model/correctionKinds.ts";
import type {
  Block,
  CorrectionLine,
  EpisodePage,
  MarginNote,
  Mark,
  OrderItem,
  Paragraph,
  RunningOrder,
  SegmentView,
  Withheld,
} from "../../src/pages/types.ts";
import { base, MONDAY } from "./site.ts";

export const mark = (number: number, kind: CorrectionKind, was: string | null = null): Mark => ({
  number,
  kind,
  kindName: correctionKindName(kind),
  id: `mark-${number}`,
  noteId: `note-${number}`,
  was,
});

export const note = (number: number, kind: CorrectionKind, marked = true): MarginNote => ({
  number,
  id: `note-${number}`,
  markId: marked ? `mark-${number}` : null,
  kind,
  kindName: correctionKindName(kind),
  dated: "2026-10-06T09:40:00+01:00",
  datedLong: "6 October 2026, 9:40",
  html: "<p>What the public reads, with <em>markup</em> of its own.</p>",
  signed: "Standards editor",
  ref: `2026-10-06-${number}`,
  href: `/corrections/2026-10-06-${number}/`,
  was: replaces({ kind }) ? "fourteen tonnes" : null,
  now: replaces({ kind }) ? "forty tonnes" : null,
  supersededBy: number === 2 ? { title: "2026-10-07-1", href: "/corrections/2026-10-07-1/" } : null,
});

export const line = (
  number: number,
  kind: CorrectionKind,
  clock: string | null,
  says: string | null = null,
): CorrectionLine => ({
  kind,
  kindName: correctionKindName(kind),
  href: `#note-${number}`,
  clock,
  dated: "2026-10-06T09:40:00+01:00",
  datedShort: "6 October",
  datedLong: "6 October 2026, 9:40",
  says,
});

export const plain = (seconds: number, text: string): Paragraph => ({
  id: `t=${seconds}`,
  clock: `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`,
  seconds,
  cues: [{ in: seconds + 0.48, runs: [{ text, language: null, mark: null }] }],
  notes: [],
});

/** A paragraph for each kind that marks words: what was said before it, the words, what was said after. */
const MARKED: readonly Paragraph[] = CORRECTION_KINDS.filter((kind) => kind !== "withdrawal").map((kind, index) => ({
  ...plain(100 + index * 10, ""),
  cues: [
    {
      in: 100 + index * 10,
      runs: [
        { text: "Before these, ", language: null, mark: null },
        { text: `the words of ${kind}`, language: null, mark: mark(index + 1, kind) },
        { text: " and after.", language: null, mark: null },
      ],
    },
  ],
  notes: [note(index + 1, kind)],
}));

/** Two corrections in one paragraph; the first runs over two cues and changes its language halfway. */
const TWICE_MARKED: Paragraph = {
  ...plain(200, ""),
  cues: [
    {
      in: 200,
      runs: [
        { text: "It begins ", language: null, mark: null },
        { text: "here and ", language: null, mark: mark(96, "clarification") },
        { text: "yna yn Gymraeg", language: "cy", mark: mark(96, "clarification") },
      ],
    },
    {
      in: 204.25,
      runs: [
        { text: "and ends here", language: null, mark: mark(96, "clarification") },
        { text: ", then ", language: null, mark: null },
        { text: "مساء الخير", language: "ar", mark: mark(97, "update") },
      ],
    },
  ],
  notes: [note(96, "clarification"), note(97, "update")],
};

/** Words of a stretch that the recording lacks: no time, no moment to play. */
const UNTIMED: Paragraph = {
  id: "aired=820",
  clock: null,
  seconds: null,
  cues: [{ in: null, runs: [{ text: "Nothing to play here.", language: null, mark: null }] }],
  notes: [],
};

const turn = (name: string | null, role: string | null, paragraphs: readonly Paragraph[]): Block => ({
  is: "turn",
  speaker: name === null ? null : { name, role, proposed: false },
  paragraphs,
});

export const segment = (slug: string, changes: Partial<SegmentView> = {}): SegmentView => ({
  slug,
  title: `The segment about ${slug}`,
  kind: "package",
  kindName: "Package",
  href: `/2026-10-05/${slug}/`,
  inClock: "1:10",
  in: 70,
  proposed: false,
  length: "6:15",
  inRecording: true,
  by: [{ title: "Ilse Marrane", href: "/search/?speaker=Ilse%20Marrane" }],
  places: [{ title: "Sollen", href: "/search/?q=Sollen" }],
  topics: [
    { title: "transport", href: "/search/?topic=transport" },
    { title: "harbours", href: "/search/?topic=harbours" },
  ],
  summary: "One sentence.",
  cautions: [],
  withheld: null,
  silent: null,
  blocks: [turn("Tovar Quenby", "presenter", [plain(70, "First tonight, the ferries.")])],
  headNotes: [],
  corrections: [],
  ...changes,
});

export const withheld = (changes: Partial<Withheld>): Withheld => ({
  until: { iso: "2027-01-01", long: "1 January 2027" },
  holder: "Farwater News Agency",
  show: "nothing",
  from: "15:05",
  to: "18:20",
  airedFrom: "15:05",
  airedTo: "18:20",
  sound: "stepped",
  ...changes,
});

const corrected = segment("ferry-timetable", {
  cautions: [
    { caution: "court", label: "Court case", says: "It stood like this when it was broadcast." },
    { caution: "minors", label: "Children", says: "Please think before passing it on." },
  ],
  headNotes: [note(98, "page", false)],
  corrections: [line(98, "page", null), line(1, "on-air", "1:40"), line(5, "update", "2:20")],
  blocks: [
    { is: "sound", id: "t=86", text: "Ferry horn. The ramp comes down.", in: 86 },
    turn("Ilse Marrane", "reporter", MARKED),
    turn(null, null, [TWICE_MARKED]),
    turn("Edda Korrin", null, [plain(220, "So either I stay over in town, or I stop.")]),
  ],
});

export const SEGMENTS: readonly SegmentView[] = [
  segment("headlines", { kind: "headlines", kindName: null, title: "Headlines", by: [], places: [], topics: [] }),
  corrected,
  segment("until-unseen", { withheld: withheld({}), blocks: [] }),
  segment("until-read", {
    withheld: withheld({ show: "transcript" }),
    blocks: [turn("Jory Aldane", "reporter", [plain(905, "A good deal of blue tarpaulin.")])],
  }),
  segment("unforeseen-cut", {
    withheld: withheld({ until: null, from: null, to: null, holder: null, sound: "cut" }),
    inRecording: false,
    blocks: [],
    summary: null,
  }),
  segment("unforeseen-read", {
    withheld: withheld({ until: null, from: null, to: null, show: "transcript", sound: "cut" }),
    inRecording: false,
    blocks: [turn("Hale Ommundry", "sport", [UNTIMED])],
  }),
  segment("taken-away", {
    title: "Withdrawn segment",
    by: [],
    places: [],
    topics: [],
    summary: null,
    blocks: [],
    headNotes: [note(99, "withdrawal", false)],
    corrections: [line(99, "withdrawal", null)],
  }),
];

export const item = (slug: string, changes: Partial<OrderItem> = {}): OrderItem => ({
  slug,
  title: `The segment about ${slug}`,
  kind: "package",
  kindName: "Package",
  href: `/2026-10-05/#${slug}`,
  in: 70,
  inClock: "1:10",
  proposed: false,
  seconds: 375,
  length: "6:15",
  withheld: false,
  withdrawn: false,
  inRecording: true,
  weave: {
    studio: [
      [0, 13.6],
      [312, 11.62],
    ],
    others: [[24, 21.6]],
  },
  carets: [],
  correctionCount: 0,
  current: false,
  ...changes,
});

export const ORDER: RunningOrder = {
  items: [
    item("headlines", { kind: "headlines", kindName: null, title: "Headlines", in: 0, inClock: "0:00", seconds: 70 }),
    item("ferry-timetable", { carets: [0.08, 0.4027], correctionCount: 8 }),
    item("until-unseen", { in: 445, inClock: "7:25", seconds: 265.5, withheld: true }),
    item("until-read", { in: 710.5, inClock: "11:50", seconds: 194.5, withheld: true }),
    item("unforeseen-cut", { in: 905, inClock: "15:05", seconds: 0, inRecording: false, withheld: true }),
    item("unforeseen-read", { in: 905, inClock: "15:05", seconds: 0, inRecording: false, withheld: true }),
    item("taken-away", { in: 905, inClock: "15:05", seconds: 0, inRecording: false, correctionCount: 1 }),
    item("close", { kind: "close", kindName: null, title: "Close", in: 905, inClock: "15:05", seconds: 775 }),
  ],
  runs: 1680,
  endClock: "28:00",
  sheet: "/2026-10-05/order.css",
};

export const EPISODE: EpisodePage = {
  ...base("Fewer ferries, a crane in crates, and the long swim", "2026-10-05/"),
  structured: JSON.stringify({ "@context": "https://schema.org", "@type": "RadioEpisode" }),
  alternates: [{ title: "Data", href: "/2026-10-05/episode.json", type: "application/json" }],
  episodeId: "2026-10-05",
  day: MONDAY,
  draft: false,
  proposals: null,
  record: { file: "/2026-10-05/record.jsonl", page: "/record/" },
  history: [
    {
      time: "2026-10-05T18:10:00Z",
      timeLong: "5 October 2026, 19:10",
      what: "Published",
      href: null,
      reasonHtml: null,
      files: [
        { title: "as it was published, plain text", href: "/2026-10-05/as-published/1/transcript.txt" },
        { title: "captions", href: "/2026-10-05/as-published/1/transcript.vtt" },
      ],
      digest: "9f9dd12ac37f",
    },
    {
      time: "2026-10-06T08:40:00Z",
      timeLong: "6 October 2026, 9:40",
      what: "The text was replaced",
      href: null,
      reasonHtml: "<p>A segment was split in two.</p>",
      files: [],
      digest: "56da9b33e211",
    },
    {
      time: "2026-10-06T10:05:00Z",
      timeLong: "6 October 2026, 11:05",
      what: "Clarification",
      href: "/corrections/2026-10-06-2/",
      reasonHtml: null,
      files: [],
      digest: null,
    },
  ],
  player: {
    giving: "whole",
    hasPicture: true,
    label: "The Evening Tide, Monday 5 October 2026",
    media: [{ src: "https://media.example.org/2026-10-05.mp4", type: "video/mp4" }],
    captions: "/2026-10-05/transcript.vtt",
    captionsLabel: "English",
    chapters: "/2026-10-05/chapters.vtt",
    text: "/2026-10-05/transcript.txt",
    skips: [{ from: 445, to: 710.5, why: "Withheld until 1 January 2027: Farwater News Agency" }],
    from: 0,
    to: 1680,
  },
  order: ORDER,
  boxes: [
    { label: "Slot", entries: [{ text: "18:30 to 18:58", href: null }] },
    { label: "Runs", entries: [{ text: "28:00", href: null }] },
    {
      label: "About",
      entries: [
        { text: "Sollen", href: "/search/?q=Sollen" },
        { text: "transport", href: "/search/?topic=transport" },
      ],
    },
  ],
  corrections: [line(1, "on-air", "1:40"), line(2, "transcript", "1:50"), line(99, "withdrawal", null)],
  report: "mailto:corrections@tide.example.org?subject=Error%20in%20The%20Evening%20Tide",
  files: [
    { title: "Captions", ending: ".vtt", href: "/2026-10-05/transcript.vtt" },
    { title: "Plain text", ending: ".txt", href: "/2026-10-05/transcript.txt" },
    { title: "Data", ending: ".json", href: "/2026-10-05/episode.json" },
  ],
  citation: {
    text: "“Fewer ferries”, The Evening Tide, Verrin Islands Broadcasting, 5 October 2026",
    url: "https://tide.example.org/2026-10-05/",
  },
  shares: [
    {
      who: "Ilse Marrane",
      href: "/speakers/ilse-marrane/",
      proposed: false,
      seconds: 148,
      length: "2:28",
      fraction: 0.41,
      percent: "41%",
    },
    { who: "Tovar Quenby", href: null, proposed: false, seconds: 79, length: "1:19", fraction: 0.22, percent: "22%" },
  ],
  standfirst: "The winter timetable and who it leaves on the slip.",
  notesHtml: '<p>Programme notes, with <a href="https://example.org/">a link</a>.</p>',
  headNotes: [note(100, "page", false)],
  withdrawn: false,
  segments: SEGMENTS,
  earlier: { title: "Friday 2 October: A school bus with no driver", href: "/2026-10-02/" },
  later: null,
};
