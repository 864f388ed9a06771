import type { Finding, Place } from "../../model/finding.ts";
import type { RawBlock, Unplaced } from "../../model/spoken.ts";
import { findingAt } from "../findings.ts";
import type { Text } from "../text.ts";
import { type Entry, entriesIn } from "./jsonEntries.ts";
import { asWords, type Reading } from "./reading.ts";
import { unitOf } from "./writtenTime.ts";

export const looksJson = (text: string): boolean => /^\s*(?:\[\s*[[{"\]]|\{\s*["}])/.test(text);

/**
 * Words with their times: lists of `{start, end, word | text, speaker}` in JSON, wherever they stand in it, or such
 * objects line by line. Times in seconds or in milliseconds, told apart by the pace of speech, or clock times.
 */
export function parseWordList(source: Text): Reading {
  const { file, text } = source;
  const [unplaced, findings]: [Unplaced[], Finding[]] = [[], []];
  const data = dataOf(source);
  if (!data.ok) return { rawBlocks: [], unplaced, findings: [data.finding] };
  const { entries, without, passedOver } = entriesIn(data.value);
  const placeOf = placesOf(source, data.value);
  for (const value of without) {
    const at = placeOf(value);
    unplaced.push({ text: JSON.stringify(value).slice(0, 500), at });
    const mend = "Give it `word` or `text`; what stands here is kept in a note.";
    findings.push(findingAt(at, "warns", "raw-word-unreadable", "This entry has no word.", mend));
  }
  for (const { value, key, words } of passedOver) {
    const says = `The ${words} words in \`${key}\` are others than those that were read beside them: they were passed over.`;
    const mend = "Keep the one list that is the transcript, and take the other out.";
    findings.push(findingAt(placeOf(value), "warns", "raw-words-passed-over", says, mend));
  }
  const times = entries
    .flatMap(({ start, end }) => [start, end])
    .flatMap((time) => (time?.unit === null ? [time.value] : []));
  const words = entries.reduce((sum, entry) => sum + entry.text.split(/\s+/).length, 0);
  const { unit, isSure } = unitOf(times, words);
  if (!isSure && times.length > 0) findings.unshift(unsureUnit(file, unit));
  const inMs = (time: Entry["start"]) => (time === null ? null : Math.round(time.value * (time.unit ?? unit)));
  const top = { file, line: 1, column: 1 };
  const rawBlocks = entries.map((entry): RawBlock => {
    const [start, end] = [inMs(entry.start), inMs(entry.end)];
    const needsPlace = start === null || start < 0 || (end !== null && end < start);
    return { start, end, voice: entry.voice, text: asWords(entry.text), at: needsPlace ? placeOf(entry.value) : top };
  });
  if (entries.length === 0 && text.trim() !== "") {
    const mend = "A transcript in JSON is a list of objects with `word` or `text`, and `start` and `end`.";
    findings.push(findingAt(top, "blocks", "raw-empty", "There are no words with times in this JSON.", mend));
  }
  return { rawBlocks, unplaced, findings };
}

export function unsureUnit(file: string, unit: 1 | 1000): Finding {
  const says = `The times could be seconds or milliseconds: they were read as ${unit === 1000 ? "seconds" : "milliseconds"}.`;
  const mend = "Compare the last cue with the length of the recording.";
  return findingAt({ file, line: 1, column: 1 }, "warns", "raw-unit-unsure", says, mend);
}

type Data = { readonly ok: true; readonly value: unknown } | { readonly ok: false; readonly finding: Finding };

/** JSON, or a JSON text a line. */
function dataOf(source: Text): Data {
  try {
    return { ok: true, value: JSON.parse(source.text) };
  } catch (error) {
    const lines = source.text.split("\n").filter((line) => line.trim() !== "");
    try {
      if (lines.length > 1) return { ok: true, value: lines.map((line): unknown => JSON.parse(line)) };
    } catch {
      // The whole is told to be wrong where it is.
    }
    const at = findFault(source, error);
    return {
      ok: false,
      finding: findingAt(at, "blocks", "raw-not-json", "This is not JSON.", "Save the transcript again."),
    };
  }
}

/** Brackets that open, outside strings. */
const OPENING = /"(?:[^"\\]|\\.)*"|[[{]/gs;

/**
 * Where an object or a list of the data stands. Both are counted in the order in which they open, in the text and in the
 * data; the file is gone through when a place is first asked for.
 */
function placesOf({ file, text, place }: Text, data: unknown): (value: unknown) => Place {
  let known: Map<unknown, number> | null = null;
  const prepare = (): Map<unknown, number> => {
    const values: unknown[] = [];
    const waiting: unknown[] = [data];
    while (waiting.length > 0) {
      const value = waiting.pop();
      if (typeof value !== "object" || value === null) continue;
      values.push(value);
      const inner: readonly unknown[] = Object.values(value);
      for (let n = inner.length - 1; n >= 0; n--) waiting.push(inner[n]);
    }
    const places = new Map<unknown, number>();
    // A list that was made of lines has no bracket of its own.
    let n = /^\s*\{/.test(text) && Array.isArray(data) ? 1 : 0;
    for (const found of text.matchAll(OPENING)) {
      if (found[0].startsWith('"')) continue;
      places.set(values[n++], found.index);
    }
    return places;
  };
  return (value) => {
    known ??= prepare();
    const at = known.get(value);
    return at === undefined ? { file, line: 1, column: 1 } : place(at);
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
