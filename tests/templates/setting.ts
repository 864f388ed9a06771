import type { PageData, PageKind, SegmentView, Site } from "../../src/pages/types.ts";
import { FRAMED_KINDS } from "../../src/station/folder.ts";
import { setPage } from "../../templates/documents.tsx";
import { EPISODE } from "./episode.ts";
import {
  CORRECTION,
  CORRECTIONS,
  HOME,
  MISSING,
  NAMES,
  OWN,
  RECORD,
  SEARCH,
  SEGMENT,
  TEXT_PAGE,
  WALK,
  YEAR,
} from "./pages.ts";
import { SITE } from "./site.ts";

type HtmlKind = Exclude<PageKind, "order-sheet">;
type HtmlData = { readonly [K in HtmlKind]: PageData[K] };

/** Sets a page as a build does. */
export const SET = Object.fromEntries(
  FRAMED_KINDS.map((kind) => [kind, (page: never) => setPage({ kind, path: "", page })]),
) as unknown as { readonly [K in HtmlKind]: (page: PageData[K]) => string };

export const FULL: HtmlData = {
  home: HOME,
  episode: EPISODE,
  segment: SEGMENT,
  corrections: CORRECTIONS,
  correction: CORRECTION,
  search: SEARCH,
  year: YEAR,
  walk: WALK,
  names: NAMES,
  text: TEXT_PAGE,
  record: RECORD,
  missing: MISSING,
  own: OWN,
};

const LONG = "The winter timetable, and who it leaves standing on the slip when the last boat has gone, ".repeat(5);

/** A site of which nobody has said more than its name, language, zone and address. */
const UNSAID: Site = { ...SITE, station: null, slotLine: null, reports: null, poster: null, textPages: [] };

/** The same pages with as little in them as the types allow. */
const BARE: Partial<HtmlData> = {
  home: { ...HOME, site: UNSAID, latest: null, earlier: [], latestCorrections: [], correctionCount: 0 },
  episode: {
    ...EPISODE,
    site: UNSAID,
    report: null,
    title: LONG,
    corrections: [],
    shares: [],
    files: [],
    boxes: [],
    standfirst: null,
    notesHtml: null,
    draft: true,
    headNotes: [],
    segments: [],
    order: { ...EPISODE.order, items: [] },
    player: { ...EPISODE.player, giving: "none", media: [], skips: [] },
    earlier: null,
  },
  segment: { ...SEGMENT, site: UNSAID, report: null, player: { ...SEGMENT.player, hasPicture: false } },
  corrections: {
    ...CORRECTIONS,
    site: UNSAID,
    months: [],
    kinds: CORRECTIONS.kinds.slice(0, 1),
    years: [],
    newest: null,
  },
  search: { ...SEARCH, years: [], speakers: [], topics: [], places: [], kinds: [] },
  year: { ...YEAR, hasStudio: false, months: [] },
  walk: { ...WALK, items: [], ways: [] },
  names: { ...NAMES, groups: [], ways: [] },
};

/** An episode that was taken away. */
const WITHDRAWN: Partial<HtmlData> = {
  episode: {
    ...EPISODE,
    withdrawn: true,
    standfirst: null,
    segments: [],
    shares: [],
    order: { ...EPISODE.order, items: [] },
  },
};

/** Recordings that are given to the script alone, and to nobody; what was silenced was withdrawn, or may be given again. */
const STEPPED: Partial<HtmlData> = {
  episode: { ...EPISODE, player: { ...EPISODE.player, giving: "stepped" } },
  segment: { ...SEGMENT, player: { ...SEGMENT.player, giving: "stepped" } },
};
const OFF: Partial<HtmlData> = {
  episode: { ...EPISODE, player: { ...EPISODE.player, giving: "off", media: [] } },
  segment: { ...SEGMENT, player: { ...SEGMENT.player, giving: "off", media: [] } },
};
const SILENT: Partial<HtmlData> = {
  segment: { ...SEGMENT, segment: { ...SEGMENT.segment, silent: { from: "4:22", to: "5:28" } } },
};

/** A draft with much in it that nobody has accepted. */
const ORDER_PROPOSED = {
  ...EPISODE.order,
  items: EPISODE.order.items.map((item, n) => ({ ...item, proposed: n > 0 })),
};
const GUESSED = {
  draft: true,
  proposals: { speakers: 3, points: 2, cuts: 0 },
  order: ORDER_PROPOSED,
  shares: EPISODE.shares.map((share) => ({ ...share, proposed: true })),
};
const PROPOSED: Partial<HtmlData> = {
  home: HOME.latest === null ? HOME : { ...HOME, latest: { ...HOME.latest, order: ORDER_PROPOSED } },
  episode: { ...EPISODE, ...GUESSED, segments: EPISODE.segments.map(guessed) },
  segment: { ...SEGMENT, ...GUESSED, segment: guessed(SEGMENT.segment) },
};

/** A segment whose in point and speakers are proposals. */
export function guessed(segment: SegmentView): SegmentView {
  const blocks = segment.blocks.map((block) =>
    block.is === "turn" && block.speaker !== null ? { ...block, speaker: { ...block.speaker, proposed: true } } : block,
  );
  return { ...segment, proposed: true, blocks };
}

function setAll(name: string, data: Partial<HtmlData>): readonly (readonly [string, string])[] {
  const set = <K extends HtmlKind>(kind: K): readonly (readonly [string, string])[] => {
    const page = data[kind];
    return page === undefined ? [] : [[`${name} ${kind}`, SET[kind](page as PageData[K])]];
  };
  return (Object.keys(SET) as HtmlKind[]).flatMap((kind) => set(kind));
}

/** Every page in every state, by name. */
export const ALL = [
  ...setAll("full", FULL),
  ...setAll("bare", BARE),
  ...setAll("withdrawn", WITHDRAWN),
  ...setAll("stepped", STEPPED),
  ...setAll("off", OFF),
  ...setAll("silent", SILENT),
  ...setAll("proposed", PROPOSED),
];

/** The full pages with `change` made to every text in them, but not to what is markup or a closed list of words. */
export const changed = (change: (text: string) => string) => setAll("changed", deepChange(FULL, change) as HtmlData);

const KEPT = new Set(["html", "notesHtml", "reasonHtml", "structured", "kind", "is", "show", "caution", "language"]);

function deepChange(value: unknown, change: (text: string) => string, key = ""): unknown {
  if (KEPT.has(key)) return value;
  if (typeof value === "string") return change(value);
  if (Array.isArray(value)) return value.map((one) => deepChange(one, change));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, own]) => [name, deepChange(own, change, name)]));
}
