import { CsvError, parse } from "csv-parse/sync";
import type { Finding } from "../../model/finding.ts";
import type { RawBlock } from "../../model/spoken.ts";
import type { FrameRate } from "../../model/timecode.ts";
import { findingAt } from "../findings.ts";
import type { Text } from "../text.ts";
import { lostWords, type Reading, tidyLines } from "./reading.ts";
import { unsureUnit } from "./wordList.ts";
import { readClock, unitOf } from "./writtenTime.ts";

/** What columns are called, in small letters, without units and marks. Common practice, no source. */
const COLUMNS = {
  start: [
    "start",
    "begin",
    "begins",
    "from",
    "in",
    "start time",
    "begin time",
    "time in",
    "in time",
    "tc in",
    "timecode in",
    "in point",
    "onset",
    "timestamp",
    "time",
    "timecode",
    "tc",
    "offset",
  ],
  end: [
    "end",
    "ends",
    "to",
    "out",
    "stop",
    "end time",
    "stop time",
    "time out",
    "out time",
    "tc out",
    "timecode out",
    "out point",
    "offset end",
  ],
  duration: ["duration", "dur", "length"],
  text: [
    "text",
    "word",
    "words",
    "transcript",
    "transcription",
    "caption",
    "captions",
    "subtitle",
    "subtitles",
    "dialogue",
    "dialog",
    "content",
    "utterance",
    "sentence",
    "line",
    "speech",
    "said",
    "token",
  ],
  voice: [
    "speaker",
    "name",
    "voice",
    "who",
    "actor",
    "character",
    "speaker name",
    "speaker id",
    "speaker label",
    "person",
  ],
} satisfies Readonly<Record<string, readonly string[]>>;
type Column = keyof typeof COLUMNS;
const COLUMN_NAMES = Object.keys(COLUMNS) as Column[];
const UNIT = /[\s([_-]*\b(ms|msec|msecs|millis|milliseconds|s|sec|secs|seconds)[\])]*$/;
const MARKS = ["\t", ",", ";", "|"] as const;
const NUMBER = /^-?\d+(?:\.\d+)?$/;

interface Row {
  readonly cells: readonly string[];
  readonly line: number;
}
interface Layout {
  readonly mark: string;
  readonly columns: Partial<Record<Column, number>>;
  /** Milliseconds in one unit of a column's plain numbers, where its name says so. */
  readonly unit: 1 | 1000 | null;
  readonly hasHead: boolean;
}

export const looksTable = (text: string): boolean => layoutOf(text) !== null;

/** How a table is laid out: by the names in its first line, or, without any, by times in its first column. */
function layoutOf(text: string): Layout | null {
  const lines = text.split("\n", 40).filter((line) => line.trim() !== "");
  const [head = ""] = lines;
  for (const mark of MARKS) {
    const named = namedColumns(head.split(mark));
    if (named !== null) return { mark, ...named, hasHead: true };
  }
  for (const mark of MARKS) {
    const rows = lines.map((line) => line.split(mark).map(bare));
    const isTime = (cell: string | undefined) => cell !== undefined && (NUMBER.test(cell) || readClock(cell) !== null);
    const timed = rows.filter((cells) => cells.length > 1 && isTime(cells[0]));
    if (timed.length < 2 || timed.length < rows.length * 0.8) continue;
    const hasEnds = timed.every((cells) => cells.length > 2 && isTime(cells[1]));
    const rest = hasEnds ? 2 : 1;
    const most = Math.max(...timed.map(({ length }) => length));
    const isVoiced = mark !== "," && most > rest + 1;
    const columns = {
      start: 0,
      text: rest + (isVoiced ? 1 : 0),
      ...(hasEnds ? { end: 1 } : {}),
      ...(isVoiced ? { voice: rest } : {}),
    };
    return { mark, columns, unit: null, hasHead: false };
  }
  return null;
}

const bare = (cell: string): string =>
  cell
    .trim()
    .replace(/^"(.*)"$/s, "$1")
    .trim();

function namedColumns(cells: readonly string[]): Pick<Layout, "columns" | "unit"> | null {
  if (cells.length < 2) return null;
  const folded = cells.map((cell) =>
    bare(cell)
      .replace(/(?<=[a-z])(?=[A-Z])/g, " ")
      .toLowerCase()
      .replace(/[_\s.-]+/g, " "),
  );
  const columns: Partial<Record<Column, number>> = {};
  let unit: Layout["unit"] = null;
  for (const column of COLUMN_NAMES) {
    const known: readonly string[] = COLUMNS[column];
    const ranked = folded.map((cell) => known.indexOf(cell.replace(UNIT, "").trim()));
    const best = Math.min(...ranked.filter((rank) => rank !== -1));
    if (!Number.isFinite(best)) continue;
    const n = ranked.indexOf(best);
    columns[column] = n;
    const said = UNIT.exec(folded[n] ?? "")?.[1];
    if (column === "start" && said !== undefined) unit = said.startsWith("m") ? 1 : 1000;
  }
  return columns.text === undefined || (columns.start === undefined && columns.voice === undefined)
    ? null
    : { columns, unit };
}

/**
 * A table of words, captions or paragraphs with their times: CSV or TSV, columns by their names in any order; or without
 * names, beginning, end where there is one, and words. Times as seconds, milliseconds, or clock times.
 * @param rate frames a second, for times such as `00:00:01:12`.
 */
export function parseTable(source: Text, rate: FrameRate = 25): Reading {
  const layout = layoutOf(source.text);
  const rows = layout === null ? null : rowsOf(source, layout);
  if (layout === null || rows === null) return { rawBlocks: [], unplaced: [], findings: [notTable(source.file)] };
  const findings: Finding[] = [];
  const { columns, hasHead } = layout;
  const body = hasHead ? rows.slice(1) : rows;
  const cell = ({ cells }: Row, column: Column): string => {
    const n = columns[column];
    if (n === undefined) return "";
    // Words after the last column are words still: nobody quoted their commas.
    return column === "text" && !hasHead
      ? cells.slice(n).join(layout.mark === "\t" ? " " : layout.mark)
      : (cells[n] ?? "").trim();
  };
  const numbers = body.flatMap((row) =>
    [cell(row, "start"), cell(row, "end")].filter((one) => NUMBER.test(one)).map(Number),
  );
  const words = body.reduce((sum, row) => sum + cell(row, "text").split(/\s+/).length, 0);
  const { unit, isSure } = layout.unit === null ? unitOf(numbers, words) : { unit: layout.unit, isSure: true };
  if (!isSure && numbers.length > 0) findings.push(unsureUnit(source.file, unit));
  const unread: Row[] = [];
  const time = (row: Row, column: Column): number | null => {
    const written = cell(row, column).trim();
    if (written === "") return null;
    const ms = NUMBER.test(written) ? Math.round(Number(written) * unit) : readClock(written, rate);
    if (ms === null && unread.at(-1) !== row) unread.push(row);
    return ms;
  };
  const rawBlocks = body.flatMap((row): RawBlock[] => {
    const text = tidyLines(cell(row, "text").split("\n"));
    if (text === "") return [];
    const [start, duration] = [time(row, "start"), time(row, "duration")];
    const end = time(row, "end") ?? (start === null || duration === null ? null : start + duration);
    const voice = cell(row, "voice").trim();
    return [
      { start, end, voice: voice === "" ? null : voice, text, at: { file: source.file, line: row.line, column: 1 } },
    ];
  });
  for (const row of unread) findings.push(unreadable(source.file, row));
  return { rawBlocks, unplaced: [], findings };
}

function rowsOf({ text }: Text, { mark, hasHead }: Layout): readonly Row[] | null {
  const read = (quote: '"' | null): readonly Row[] => {
    const records: unknown = parse(text, {
      delimiter: mark,
      quote,
      info: true,
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: true,
      trim: hasHead,
    });
    const list: readonly unknown[] = Array.isArray(records) ? records : [];
    let before = 0;
    return list.map((one) => {
      const cells: unknown = typeof one === "object" && one !== null ? Reflect.get(one, "record") : null;
      const info: unknown = typeof one === "object" && one !== null ? Reflect.get(one, "info") : null;
      const lines = typeof info === "object" && info !== null ? Number(Reflect.get(info, "lines")) : 0;
      const row = { cells: Array.isArray(cells) ? cells.map(String) : [], line: before + 1 };
      before = lines;
      return row;
    });
  };
  try {
    return read('"');
  } catch (error) {
    // A quotation mark that nobody closed: the marks are words of somebody's.
    if (error instanceof CsvError) return read(null);
    throw error;
  }
}

const notTable = (file: string): Finding =>
  findingAt(
    { file, line: 1, column: 1 },
    "blocks",
    "raw-table-columns",
    "No column of this table is known to hold words.",
    "Name the columns in the first row: start, end, speaker, text.",
  );

const unreadable = (file: string, { line }: Row): Finding => ({
  ...lostWords(
    { file, line, column: 1 },
    "A time in this row can't be read: its words are placed between their neighbours.",
  ),
  mend: "Write seconds (65.5), or a clock time (00:01:05.500).",
});
