import { addAll } from "../../model/addAll.ts";
import { readClock } from "./writtenTime.ts";

/** A time as it is written; `unit` in milliseconds, null where nothing says it. */
export interface WrittenTime {
  readonly value: number;
  readonly unit: 1 | 1000 | null;
}

/** A word, or several that share a time. */
export interface Entry {
  readonly text: string;
  readonly start: WrittenTime | null;
  readonly end: WrittenTime | null;
  readonly voice: string | null;
  /** The object or list that it was. */
  readonly value: unknown;
}

export interface Found {
  readonly entries: readonly Entry[];
  /** Members of a list of words that have none. */
  readonly without: readonly unknown[];
  /** Lists beside those that were read, with other words. */
  readonly passedOver: readonly { readonly value: unknown; readonly key: string; readonly words: number }[];
}

/** What keys are called, folded to small letters without marks. Common practice, no source. */
const TEXT = [
  "punctuatedword",
  "word",
  "text",
  "content",
  "value",
  "token",
  "transcript",
  "utterance",
  "sentence",
  "line",
  "caption",
  "body",
  "w",
];
const START = [
  "start",
  "begin",
  "from",
  "starttime",
  "begintime",
  "startsec",
  "startseconds",
  "startms",
  "starttimems",
  "startmillis",
  "starttimestamp",
  "startoffset",
  "t0",
  "ts",
  "t",
  "time",
  "offset",
  "timestamp",
  "s",
];
const END = [
  "end",
  "to",
  "stop",
  "endtime",
  "stoptime",
  "endsec",
  "endseconds",
  "endms",
  "endtimems",
  "endmillis",
  "endtimestamp",
  "endoffset",
  "t1",
  "endts",
  "e",
];
const DURATION = ["duration", "dur", "durationms", "durationseconds", "d"];
const VOICE = ["speaker", "speakername", "speakerlabel", "speakerid", "speakertag", "voice"];
/** What only says who speaks where words stand beside it: lists have names too. */
const NAMED = ["who", "name", "actor"];
const SPANS = ["timestamps", "timestamp", "times", "offsets", "span", "interval", "range"];
/** Lists of guesses, the best first: only that one was said. */
const GUESSES = ["alternatives", "nbest", "hypotheses", "candidates", "options"];

const fold = (key: string): string => key.toLowerCase().replace(/[^a-z0-9]/g, "");

type Fields = ReadonlyMap<string, unknown>;
const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const fieldsOf = (value: Readonly<Record<string, unknown>>): Fields =>
  new Map(Object.entries(value).map(([key, own]) => [fold(key), own]));

const first = <T>(
  fields: Fields,
  keys: readonly string[],
  read: (value: unknown, key: string) => T | null,
): T | null => {
  for (const key of keys) {
    const found = fields.has(key) ? read(fields.get(key), key) : null;
    if (found !== null) return found;
  }
  return null;
};

/** The words in any JSON, in the order of its lists. Where two lists stand side by side, the one with more times counts. */
export function entriesIn(data: unknown): Found {
  return within(data, null);
}

const NOTHING: Found = { entries: [], without: [], passedOver: [] };

function within(value: unknown, voice: string | null): Found {
  if (Array.isArray(value)) return withinList(value, voice);
  if (!isObject(value)) return NOTHING;
  const fields = fieldsOf(value);
  const own = voiceIn(fields, VOICE) ?? voice;
  const nested = withinObject(value, own);
  const entry = entryOf(value, fields, own);
  if (entry === null) return nested;
  const isTimed = nested.entries.some(({ start }) => start !== null);
  if (!isTimed) return { ...NOTHING, entries: [entry] };
  // A segment with its words: they are finer, if they are its words.
  if (saysAs(nested.entries, entry.text)) return withSpan(nested, entry);
  if (entry.start !== null) return { ...NOTHING, entries: [entry] };
  const words = entry.text.split(/\s+/).length;
  return { ...nested, passedOver: [...nested.passedOver, { value, key: "text", words }] };
}

/** Words whose own times are missing at the ends of a segment take the segment's. */
function withSpan(found: Found, { start, end }: Entry): Found {
  const last = found.entries.length - 1;
  const entries = found.entries.map((entry, n) => ({
    ...entry,
    start: n === 0 ? (entry.start ?? start) : entry.start,
    end: n === last ? (entry.end ?? end) : entry.end,
  }));
  return { ...found, entries };
}

const letters = (text: string): string => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "");
const saysAs = (entries: readonly Entry[], text: string): boolean =>
  letters(entries.map((entry) => entry.text).join("")) === letters(text);

function withinList(list: readonly unknown[], voice: string | null): Found {
  const merged: { entries: Entry[]; without: unknown[]; passedOver: Found["passedOver"][number][] } = {
    entries: [],
    without: [],
    passedOver: [],
  };
  const bare: unknown[] = [];
  for (const member of list) {
    const tuple = tupleOf(member, voice);
    const found = tuple === null ? within(member, voice) : { ...NOTHING, entries: [tuple] };
    if (found.entries.length === 0 && isObject(member)) bare.push(member);
    const [mark, ...more] = found.entries;
    const last = merged.entries.at(-1);
    // Punctuation that comes as a word of its own belongs to the word before it.
    if (
      mark !== undefined &&
      more.length === 0 &&
      last !== undefined &&
      /^[^\p{L}\p{N}\s]+$/u.test(mark.text) &&
      mark.start === null
    ) {
      merged.entries[merged.entries.length - 1] = { ...last, text: last.text + mark.text };
    } else addAll(merged.entries, found.entries);
    addAll(merged.without, found.without);
    addAll(merged.passedOver, found.passedOver);
  }
  if (merged.entries.length > 0) addAll(merged.without, bare.filter(isLikeWord));
  return merged;
}

/** Whether an object without a word has times, and so should have one; blanks between words have none. */
const isLikeWord = (member: unknown): boolean => isObject(member) && spanOf(fieldsOf(member)).start !== null;

/** `["word", 0.1, 0.4]`, or `[0.1, 0.4, "word"]`. */
function tupleOf(member: unknown, voice: string | null): Entry | null {
  if (!Array.isArray(member) || member.length < 2 || member.length > 4) return null;
  const texts = member.filter((one): one is string => typeof one === "string" && readClock(one) === null);
  const times = member.map((one: unknown) => timeOf(one, "")).filter((one) => one !== null);
  const [text = ""] = texts;
  if (texts.length !== 1 || text.trim() === "" || times.length === 0) return null;
  return { text: text.trim(), start: times[0] ?? null, end: times[1] ?? null, voice, value: member };
}

function withinObject(value: Readonly<Record<string, unknown>>, voice: string | null): Found {
  const all = Object.entries(value).flatMap(([key, inner]) => {
    if (typeof inner !== "object" || inner === null) return [];
    const isGuesses = GUESSES.includes(fold(key)) && Array.isArray(inner);
    const found = within(isGuesses ? inner[0] : inner, voice);
    return found.entries.length > 0 ? [{ key, inner, found }] : [];
  });
  const timed = ({ found }: (typeof all)[number]) => found.entries.filter(({ start }) => start !== null).length;
  const [best, ...others] = all.sort((a, b) => timed(b) - timed(a) || b.found.entries.length - a.found.entries.length);
  if (best === undefined) return NOTHING;
  const said = letters(best.found.entries.map(({ text }) => text).join(""));
  const different = others.flatMap(({ key, inner, found }) => {
    const text = letters(found.entries.map((entry) => entry.text).join(""));
    return said.includes(text)
      ? []
      : [{ value: inner, key, words: found.entries.reduce((sum, entry) => sum + entry.text.split(/\s+/).length, 0) }];
  });
  return { ...best.found, passedOver: [...best.found.passedOver, ...different] };
}

/** An object as a word, or several with one time; null where it has no text, or neither a time nor the looks of a mark. */
function entryOf(value: Readonly<Record<string, unknown>>, fields: Fields, voice: string | null): Entry | null {
  const guess = first(fields, GUESSES, (list) => (Array.isArray(list) && isObject(list[0]) ? fieldsOf(list[0]) : null));
  const text = textIn(fields) ?? (guess === null ? null : textIn(guess));
  if (text === null) return null;
  const { start, end } = spanOf(fields);
  return { text, start, end, voice: voice ?? voiceIn(fields, NAMED), value };
}

const textIn = (fields: Fields): string | null =>
  first(fields, TEXT, (text) => (typeof text === "string" && text.trim() !== "" ? text.trim() : null));

function voiceIn(fields: Fields, keys: readonly string[]): string | null {
  return first(fields, keys, (own) => {
    if (typeof own === "number") return `Speaker ${own}`;
    if (typeof own === "string" && own.trim() !== "")
      return /^\d+$/.test(own.trim()) ? `Speaker ${own.trim()}` : own.trim();
    return isObject(own)
      ? first(fieldsOf(own), ["name", "label", "id"], (name) =>
          typeof name === "string" && name.trim() !== ""
            ? name.trim()
            : typeof name === "number"
              ? `Speaker ${name}`
              : null,
        )
      : null;
  });
}

interface Span {
  readonly start: WrittenTime | null;
  readonly end: WrittenTime | null;
}

function spanOf(fields: Fields): Span {
  const inner = first(fields, SPANS, (span): Span | null => {
    if (Array.isArray(span)) {
      const [start, end] = [timeOf(span[0], ""), timeOf(span[1], "")];
      return start === null ? null : { start, end };
    }
    const own = isObject(span) ? spanOf(fieldsOf(span)) : null;
    return own === null || own.start === null ? null : own;
  });
  if (inner !== null) return inner;
  const start = first(fields, START, timeOf);
  const end = first(fields, END, timeOf);
  const duration = end === null && start !== null ? first(fields, DURATION, timeOf) : null;
  if (start === null || duration === null) return { start, end };
  return { start, end: start.unit === duration.unit ? { ...start, value: start.value + duration.value } : null };
}

/** A number, a number as a text, a clock time, or whole seconds and a fraction; `…ms` in the key says milliseconds. */
function timeOf(value: unknown, key: string): WrittenTime | null {
  const unit = /(?:ms|millis)$/.test(key) ? 1 : null;
  if (typeof value === "number") return Number.isFinite(value) ? { value, unit } : null;
  if (isObject(value)) {
    const { seconds = 0, nanos = 0 } = value;
    const isDuration = "seconds" in value || "nanos" in value;
    return isDuration ? { value: Number(seconds) + Number(nanos) / 1e9, unit: 1000 } : null;
  }
  if (typeof value !== "string") return null;
  const [, number, said] = /^\s*(-?\d+(?:\.\d+)?)\s*(ms|s)?\s*$/i.exec(value) ?? [];
  if (number !== undefined)
    return { value: Number(number), unit: said === undefined ? unit : said.toLowerCase() === "s" ? 1000 : 1 };
  const clock = readClock(value);
  return clock === null ? null : { value: clock, unit: 1 };
}
