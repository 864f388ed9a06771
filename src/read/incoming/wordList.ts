import { LineCounter, parseDocument } from "yaml";
import type { Finding, Place } from "../../model/finding.ts";
import type { RawBlock, Unplaced } from "../../model/spoken.ts";
import { findingAt } from "../findings.ts";
import { valueAt } from "../shapeFindings.ts";
import type { Text } from "../text.ts";
import type { Reading } from "./reading.ts";

type Path = readonly (string | number)[];

interface Entry {
  readonly path: Path;
  readonly text: string;
  readonly start: number | null;
  readonly end: number | null;
  readonly voice: string | null;
}

/**
 * Words with their times: a list of `{start, end, word | text, speaker}`, or an object with such a list as `words`, or
 * with `segments` that have one each. Times in seconds or in milliseconds, told apart by the pace of speech.
 */
export function parseWordList(source: Text): Reading {
  const placeOf = placesOf(source);
  let data: unknown;
  try {
    data = JSON.parse(source.text);
  } catch (error) {
    const at = findFault(source, error);
    const finding = findingAt(at, "blocks", "raw-not-json", "This is not JSON.", "Save the transcript again.");
    return { rawBlocks: [], unplaced: [], findings: [finding] };
  }
  const [entries, unplaced, findings]: [Entry[], Unplaced[], Finding[]] = [[], [], []];
  for (const path of pathsOf(data)) {
    const entry = entryAt(data, path);
    if (entry !== null) {
      entries.push(entry);
      continue;
    }
    const at = placeOf(path);
    const written = JSON.stringify(valueAt(data, [...path])).slice(0, 500);
    unplaced.push({ text: written, at });
    const mend = "Give it `word` or `text`; what stands here is kept in a note.";
    findings.push(findingAt(at, "warns", "raw-word-unreadable", "This entry has no word.", mend));
  }
  const { unit, isSure } = unitOf(entries);
  if (!isSure && entries.length > 0) {
    const says = `The times could be seconds or milliseconds: they were read as ${unit === 1000 ? "seconds" : "milliseconds"}.`;
    const mend = "Compare the last cue with the length of the recording.";
    findings.unshift(findingAt({ file: source.file, line: 1, column: 1 }, "warns", "raw-unit-unsure", says, mend));
  }
  const inMs = (time: number | null) => (time === null ? null : Math.round(time * unit));
  const start = { file: source.file, line: 1, column: 1 };
  const rawBlocks = entries.map((entry): RawBlock => {
    const needsPlace = entry.start === null || entry.end === null || entry.start < 0 || entry.end < entry.start;
    const at = needsPlace ? placeOf(entry.path) : start;
    return { start: inMs(entry.start), end: inMs(entry.end), voice: entry.voice, text: entry.text, at };
  });
  return { rawBlocks, unplaced, findings };
}

function pathsOf(data: unknown): readonly Path[] {
  const within = (path: Path): readonly Path[] => {
    const list = valueAt(data, [...path]);
    return Array.isArray(list) ? list.map((_, n) => [...path, n]) : [];
  };
  if (Array.isArray(data)) return within([]);
  const words = within(["words"]);
  return words.length > 0 ? words : within(["segments"]).flatMap((segment) => within([...segment, "words"]));
}

function entryAt(data: unknown, path: Path): Entry | null {
  const at = (key: string): unknown => valueAt(data, [...path, key]);
  const [word, speaker] = [at("word") ?? at("text"), at("speaker")];
  if (typeof word !== "string" || word.trim() === "") return null;
  const voice = typeof speaker === "string" && speaker.trim() !== "" ? speaker.trim() : null;
  return { path, text: word.trim(), start: numberIn(at("start")), end: numberIn(at("end")), voice };
}

const numberIn = (value: unknown): number | null =>
  typeof value === "number" && Number.isFinite(value) ? value : null;

/** Words a minute that a programme as a whole may have, music and pauses counted. Common practice, no source. */
const [SLOWEST, FASTEST] = [15, 450];

/** Milliseconds in one unit of the times. Fractions speak for seconds; so does, or does not, the pace of the whole. */
function unitOf(entries: readonly Entry[]): { readonly unit: 1 | 1000; readonly isSure: boolean } {
  const times = entries.flatMap(({ start, end }) => [start, end]).filter((time) => time !== null);
  const span = Math.max(0, ...times.slice(-2)) - Math.min(...times.slice(0, 1), 0);
  if (span <= 0) return { unit: 1000, isSure: false };
  const pace = (entries.length / span) * 60;
  /** How far a pace is from any that speech has: 0 when it is one, else a factor's logarithm. */
  const farOff = (one: number) => Math.max(0, Math.log(SLOWEST / one), Math.log(one / FASTEST));
  const [seconds, milliseconds] = [farOff(pace), farOff(pace * 1000)];
  const hasFractions = times.some((time) => !Number.isInteger(time));
  if (seconds === milliseconds) return { unit: hasFractions ? 1000 : 1, isSure: false };
  const unit = seconds < milliseconds ? 1000 : 1;
  return { unit, isSure: Math.min(seconds, milliseconds) === 0 && (unit === 1000 || !hasFractions) };
}

/** Where an entry stands. The file is gone through for its places only when one is asked for. */
function placesOf({ file, text }: Text): (path: Path) => Place {
  let asked: ((path: Path) => Place) | null = null;
  const prepare = () => {
    const lines = new LineCounter();
    const document = parseDocument(text, { lineCounter: lines });
    return (path: Path): Place => {
      const node: unknown = document.getIn(path, true);
      const range: unknown = typeof node === "object" && node !== null ? Reflect.get(node, "range") : null;
      const { line, col } = lines.linePos(Array.isArray(range) ? Number(range[0]) : 0);
      return { file, line, column: col };
    };
  };
  return (path) => {
    asked ??= prepare();
    return asked(path);
  };
}

/** Where JSON breaks, as far as the engine's message says: by a number, or by the ten characters before and after. */
function findFault({ text, place }: Text, error: unknown): Place {
  const message = error instanceof Error ? error.message : "";
  const position = /position (\d+)/.exec(message)?.[1];
  if (position !== undefined) return place(Number(position));
  const [, cut, around] = /(\.\.\.)?"([\s\S]+)"(?:\.\.\.)? is not valid JSON/.exec(message) ?? [];
  const found = around === undefined ? -1 : text.indexOf(around);
  return place(Math.max(0, found) + (cut === undefined ? 0 : 10));
}
