import { CsvError, parse } from "csv-parse/sync";
import { RESERVED_SEGMENT_SLUGS } from "../../model/address.ts";
import { parseClock } from "../../model/clock.ts";
import { SEGMENT_KINDS, type SegmentKind } from "../../model/episode.ts";
import type { Finding, Place, Read } from "../../model/finding.ts";
import { slugFrom } from "../../model/slugs.ts";
import type { PlannedSegment } from "../../model/spoken.ts";
import { type FrameRate, isLabel, parseTimecode } from "../../model/timecode.ts";
import { findingAt } from "../findings.ts";
import { findNearest, listed } from "../nearest.ts";
import type { Source } from "../source.ts";
import type { Text } from "../text.ts";
import { decodeForeign } from "./decode.ts";

/** What a running order's columns are called, folded to small letters. Common practice, no source. */
const COLUMNS = {
  slug: ["slug", "id"],
  title: ["title", "item", "story", "headline", "name"],
  kind: ["kind", "type", "format"],
  by: ["by", "reporter", "reporters", "presenter", "who", "credit"],
  planned: ["planned", "planned duration", "duration", "dur", "length", "est", "est duration"],
  in: ["in", "in point", "start", "time", "on air", "begins"],
} satisfies Readonly<Record<string, readonly string[]>>;
type Column = keyof typeof COLUMNS;
const COLUMN_NAMES = Object.keys(COLUMNS) as Column[];

/** How the programme counts, for times in points that are times of day or frames. */
export interface OrderClock {
  /** null: nobody said. */
  readonly frameRate: FrameRate | null;
  /** The slot's local time of day, `18:30`. */
  readonly slotAt: string;
}

interface Row {
  readonly cells: readonly string[];
  readonly raw: string;
  readonly line: number;
}

/** A running order in CSV: commas, semicolons or tabs; columns by their names, in any order. */
export function parseRunningOrder(source: Source, clock: OrderClock): Read<readonly PlannedSegment[]> {
  const { text, findings } = decodeForeign(source);
  const rows = rowsOf(text);
  if (!rows.ok) return { ok: false, findings: [...findings, ...rows.findings] };
  const [head, ...body] = rows.value;
  const columns = head === undefined ? null : columnsOf(head);
  if (head === undefined || columns === null || (columns.title === undefined && columns.slug === undefined)) {
    return { ok: false, findings: [...findings, noHeader(source.file, head)] };
  }
  const told: Finding[] = [...findings];
  const times = timesOf(body, columns, clock, source.file, told);
  const slugs: Slugs = { taken: new Set(RESERVED_SEGMENT_SLUGS), next: new Map() };
  const segments = body.flatMap((row, n): PlannedSegment[] => {
    const cell = (column: Column) => cellOf(row, columns[column]);
    const title = cell("title") || cell("slug");
    const at = { file: source.file, line: row.line, column: 1 };
    if (title === "") {
      const says = "This row names no segment: it was left out.";
      told.push(findingAt(at, "warns", "order-row-bare", says, "Give it a title, or take it out."));
      return [];
    }
    const kind = kindOf(cell("kind"), title, at, told);
    const slug = freeSlug(slugFrom(cell("slug")) || slugFrom(title) || kind, slugs);
    const by = cell("by")
      .split(/\s*[;,/&]\s*/)
      .filter((name) => name !== "");
    return [{ slug, title, kind, by, planned: times[n]?.planned ?? null, in: times[n]?.in ?? null, at }];
  });
  if (segments.length > 0) return { ok: true, value: segments, findings: told };
  const at = { file: source.file, line: 1, column: 1 };
  const mend = "Check that it is the right file.";
  return {
    ok: false,
    findings: [...told, findingAt(at, "blocks", "order-empty", "This running order has no rows.", mend)],
  };
}

interface Slugs {
  /** Those of other segments, and those that the site keeps for itself. */
  readonly taken: Set<string>;
  /** The number to try next behind a slug that is taken: a thousand rows may have one title. */
  readonly next: Map<string, number>;
}

/** A slug that is free, and is taken from then on. */
function freeSlug(wanted: string, { taken, next }: Slugs): string {
  let [slug, n] = [wanted, next.get(wanted) ?? 2];
  for (; taken.has(slug); n++) slug = `${wanted}-${n}`;
  next.set(wanted, n);
  taken.add(slug);
  return slug;
}

/** What newsrooms call kinds besides the glossary's words. Common practice, no source. */
const ALSO_CALLED: Readonly<Record<string, SegmentKind>> = {
  vt: "package",
  report: "package",
  live: "two-way",
  "2-way": "two-way",
  "2way": "two-way",
  "two way": "two-way",
  intv: "interview",
  read: "reader",
  oov: "reader",
  ads: "break",
  "ad break": "break",
  heads: "headlines",
  "round up": "round-up",
  roundup: "round-up",
  goodbye: "close",
};

/** The kind that a row gives, by the glossary's word, a newsroom's word for it, or its title; a reader if all fail. */
function kindOf(written: string, title: string, at: Place, findings: Finding[]): SegmentKind {
  const word = written.toLowerCase();
  const isKind = (name: string): name is SegmentKind => (SEGMENT_KINDS as readonly string[]).includes(name);
  const known = isKind(word) ? word : ALSO_CALLED[word];
  if (known !== undefined) return known;
  const [first = ""] = title.toLowerCase().split(/\s+/);
  if (word === "" && isKind(first)) return first;
  const says =
    word === ""
      ? "No kind is given: it was taken for a reader."
      : `“${written}” is no kind: it was taken for a reader.`;
  const near = findNearest(word, SEGMENT_KINDS);
  const mend = near === undefined ? `Write one of ${listed(SEGMENT_KINDS)}.` : `Did you mean \`${near}\`?`;
  findings.push(findingAt(at, "warns", "order-kind-unknown", says, mend));
  return "reader";
}

function rowsOf({ file, text }: Text): Read<readonly Row[]> {
  try {
    let line = 1;
    const delimiter = delimiterOf(text);
    const parsed: unknown = parse(text, { delimiter, relax_column_count: true, raw: true, relax_quotes: true });
    const rows: Row[] = [];
    for (const record of Array.isArray(parsed) ? parsed : []) {
      const raw = String(Reflect.get(record, "raw"));
      const cells: string[] = Reflect.get(record, "record");
      if (cells.some((cell) => cell.trim() !== "")) rows.push({ cells: cells.map((cell) => cell.trim()), raw, line });
      line += raw.split("\n").length - 1;
    }
    return { ok: true, value: rows, findings: [] };
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = typeof error.lines === "number" ? error.lines : 1;
    const at = { file, line, column: 1 };
    const mend = "Look for a quotation mark that is not closed, or save the sheet as CSV again.";
    return { ok: false, findings: [findingAt(at, "blocks", "order-not-csv", "This is not CSV.", mend)] };
  }
}

/** The mark that parts the most columns in the first line. */
function delimiterOf(text: string): string {
  const [head = ""] = text.replace(/^\s+/, "").split("\n");
  const counted = [",", ";", "\t"].map((mark) => ({ mark, times: head.split(mark).length }));
  return counted.reduce((best, next) => (next.times > best.times ? next : best)).mark;
}

type Columns = Partial<Record<Column, number>>;

function columnsOf({ cells }: Row): Columns {
  const folded = cells.map((cell) => cell.toLowerCase().replace(/[_\s-]+/g, " "));
  const columns: Columns = {};
  for (const column of COLUMN_NAMES) {
    const n = folded.findIndex((cell) => COLUMNS[column].includes(cell));
    if (n !== -1) columns[column] = n;
  }
  return columns;
}

const cellOf = ({ cells }: Row, n: number | undefined): string => (n === undefined ? "" : (cells[n] ?? ""));

function noHeader(file: string, head: Row | undefined): Finding {
  const at = { file, line: head?.line ?? 1, column: 1 };
  const known = listed(COLUMN_NAMES);
  const near = head?.cells.map((cell) => findNearest(cell, ["title", "slug"])).find((name) => name !== undefined);
  const mend = `${near === undefined ? "" : `Did you mean \`${near}\`? `}Name the columns in the first row: ${known}.`;
  const says =
    head === undefined
      ? "This running order is empty."
      : "No column of this running order is called `title` or `slug`.";
  return findingAt(at, "blocks", head === undefined ? "order-empty" : "order-columns", says, mend);
}

interface Times {
  readonly planned: number | null;
  readonly in: number | null;
}

/** The times of every row. Without in points they are the durations added up, as far as those go. */
function timesOf(
  rows: readonly Row[],
  columns: Columns,
  clock: OrderClock,
  file: string,
  findings: Finding[],
): readonly Times[] {
  const read = (row: Row, column: Column, parse: (text: string) => number | null): number | null => {
    const written = cellOf(row, columns[column]);
    if (written === "") return null;
    const ms = parse(written);
    if (ms === null) findings.push(unreadable(placeIn(row, written, file), written, clock));
    return ms;
  };
  const dayTimes = isTimeOfDay(rows, columns.in, clock.slotAt);
  const planned = rows.map((row) => read(row, "planned", (text) => lengthOf(text, clock.frameRate)));
  const ins = rows.map((row) =>
    read(row, "in", (text) => (dayTimes ? parseClock(`${text}:00`) : parseTimecode(text, clock.frameRate))),
  );
  const zero = zeroOf(ins, clock);
  let running: number | null = 0;
  return rows.map((_, n) => {
    const own = ins[n] ?? null;
    const start: number | null = own === null ? (columns.in === undefined ? running : null) : Math.max(0, own - zero);
    const length: number | null = planned[n] ?? null;
    running = running === null || length === null ? null : running + length;
    return { planned: length, in: start };
  });
}

/** `1:40`, `0:01:40`, `00:01:40:00`, or whole seconds. */
function lengthOf(text: string, rate: FrameRate | null): number | null {
  return /^\d{1,5}$/.test(text) ? Number(text) * 1000 : parseTimecode(text, rate);
}

/** Whether in points are hours and minutes of the day: the first one is the slot's own. */
function isTimeOfDay(rows: readonly Row[], column: number | undefined, slotAt: string): boolean {
  return rows.length > 0 && rows.slice(0, 1).every((row) => cellOf(row, column) === slotAt);
}

/**
 * What in points count from: the programme's beginning, the slot's time of day, or, where the first is past ten
 * minutes (`10:00:00:00` by custom), the first one.
 */
function zeroOf(ins: readonly (number | null)[], { slotAt }: OrderClock): number {
  const first = ins.find((ms) => ms !== null) ?? 0;
  const slot = parseClock(`${slotAt}:00`) ?? 0;
  if (first < 600_000) return 0;
  return first >= slot && first - slot < 600_000 ? slot : first;
}

const placeIn = ({ raw, line }: Row, written: string, file: string): Place => {
  const before = raw.slice(0, Math.max(0, raw.indexOf(written))).split("\n");
  return { file, line: line + before.length - 1, column: (before.at(-1)?.length ?? 0) + 1 };
};

function unreadable(at: Place, written: string, { frameRate }: OrderClock): Finding {
  const told = (why: string, mend: string): Finding =>
    findingAt(
      at,
      "warns",
      "order-time-unreadable",
      `“${written.slice(0, 40)}” ${why}: the row was read without it.`,
      mend,
    );
  return frameRate === null && isLabel(written)
    ? told(
        "has frames, and how many a second has is not known",
        "Write `framerate` into programme.md: 25, 29.97 or 30.",
      )
    : told("is no time", "Write minutes and seconds (1:40), or timecode (00:01:40:00).");
}
