import { createHash } from "node:crypto";
import { slugFrom } from "../model/slugs.ts";
import { findNearest } from "../read/nearest.ts";
import {
  LISTS,
  type ListName,
  NAMED,
  type NamedData,
  type NamedName,
  type SegmentData,
  type YearData,
  type YearEntry,
} from "./contract.ts";

/** The archive as the templates' data are read from it. */
export interface ArchiveSource {
  /** Newest first. */
  readonly years: readonly SourceYear[];
  /** In order of the alphabet. */
  readonly names: Readonly<Record<NamedName, readonly string[]>>;
}
export interface SourceYear {
  readonly entry: YearEntry;
  /** Of all that `read` gives: with the same digest it is the same. */
  readonly digest: string;
  read(): YearData;
}

/** What a template asked for, with the digest that it had then. */
export type Reads = Readonly<Record<string, string>>;

const digestOf = (value: unknown): string =>
  createHash("sha256").update(JSON.stringify(value)).digest("base64url").slice(0, 16);

const entriesOf = (source: ArchiveSource) => source.years.map(({ entry }) => entry);
const YEARS = "years";
/** How many items of a list each year has: by that it is known which year an item is in. */
const lengthKey = (list: ListName): string => `${list} by year`;
const yearKey = (year: string): string => `year ${year}`;

/** What could be asked for, with the digest that it has now: with it, what a template asked for once is compared. */
export function digestsOf(source: ArchiveSource): Reads {
  return Object.fromEntries([
    [YEARS, digestOf(entriesOf(source))],
    ...LISTS.map((name) => [lengthKey(name), digestOf(source.years.map(({ entry }) => [entry.year, entry[name]]))]),
    ...source.years.map(({ entry, digest }) => [yearKey(entry.year), digest] as const),
    ...NAMED.map((name) => [name, digestOf(source.names[name])] as const),
  ]);
}

/** Whether all that a template asked for is as it was. */
export const isAsRead = (reads: Reads, now: Reads): boolean =>
  Object.entries(reads).every(([key, digest]) => now[key] === digest);

/** What a template may ask of the archive. Nothing is read before it is asked for. */
export interface ArchiveView {
  readonly lists: Readonly<Record<ListName | NamedName, readonly unknown[]>>;
  readonly years: readonly YearEntry[];
}

/** @param asked is told of everything that is asked for: a key of `digestsOf`. */
export function viewOf(source: ArchiveSource, asked: (key: string) => void): ArchiveView {
  const read = readOnce();
  const list = (name: ListName) => lazyList(source, name, read, asked);
  const lists = Object.fromEntries(LISTS.map((name) => [name, list(name)])) as Record<ListName, readonly unknown[]>;
  const segments = lists.segments as readonly SegmentData[];
  const named = (name: NamedName) => {
    const items = source.names[name].map((own) => strict(namedOf(own, name, segments), ITEM[name]));
    return onAsked(items, () => asked(name));
  };
  return {
    lists: { ...lists, topics: named("topics"), speakers: named("speakers"), places: named("places") },
    years: onAsked(
      entriesOf(source).map((entry) => strict(entry, "A year")),
      () => asked(YEARS),
    ),
  };
}

const FIELD = { topics: "topics", speakers: "speakers", places: "places" } as const;

function namedOf(name: string, list: NamedName, segments: readonly SegmentData[]): NamedData {
  return {
    name,
    slug: slugFrom(name),
    get segments() {
      return segments.filter((segment) => segment[FIELD[list]].includes(name));
    },
  };
}

function readOnce(): (year: SourceYear) => YearData {
  const known = new Map<SourceYear, YearData>();
  return (year) => {
    const data = known.get(year) ?? year.read();
    known.set(year, data);
    return data;
  };
}

/** How a finding calls an item of each list. */
const ITEM: Readonly<Record<ListName | NamedName, string>> = {
  episodes: "An episode",
  segments: "A segment",
  corrections: "A correction",
  topics: "A topic",
  speakers: "A speaker",
  places: "A place",
};

const indexIn = (key: string | symbol): number => (typeof key === "string" && /^\d+$/.test(key) ? Number(key) : -1);

/** A list of all years: of the newest ten items, only the years are read that have them. */
function lazyList(
  source: ArchiveSource,
  name: ListName,
  read: (year: SourceYear) => YearData,
  asked: (key: string) => void,
): readonly unknown[] {
  const items: unknown[] = [];
  const starts = source.years.map(({ entry }) => {
    const start = items.length;
    items.length += entry[name];
    return start;
  });
  const filled = new Set<number>();
  const fill = (at: number): void => {
    const year = source.years[at];
    if (year === undefined) return;
    asked(yearKey(year.entry.year));
    if (filled.has(at)) return;
    filled.add(at);
    const start = starts[at] ?? 0;
    for (const [index, item] of read(year)[name].entries()) items[start + index] = strict(item, ITEM[name]);
  };
  const fillFor = (index: number): void => {
    if (index < 0 || index >= items.length) return;
    fill(starts.findLastIndex((start) => start <= index));
  };
  const fillAll = (): void => {
    for (const at of source.years.keys()) fill(at);
  };
  return new Proxy(items, {
    get(target, key) {
      asked(lengthKey(name));
      fillFor(indexIn(key));
      return Reflect.get(target, key);
    },
    has(target, key) {
      asked(lengthKey(name));
      fillFor(indexIn(key));
      return Reflect.has(target, key);
    },
    getOwnPropertyDescriptor(target, key) {
      fillFor(indexIn(key));
      return Reflect.getOwnPropertyDescriptor(target, key);
    },
    ownKeys(target) {
      asked(lengthKey(name));
      fillAll();
      return Reflect.ownKeys(target);
    },
    set: refuse,
    deleteProperty: refuse,
  });
}

const refuse = (): never => {
  throw new Error(
    "Lists of the archive can't be changed: other pages read them too. Change a copy, such as [...list].",
  );
};

function onAsked<T extends object>(target: T, asked: () => void): T {
  return new Proxy(target, {
    get(own, key) {
      asked();
      return Reflect.get(own, key);
    },
    ownKeys(own) {
      asked();
      return Reflect.ownKeys(own);
    },
    set: refuse,
    deleteProperty: refuse,
  });
}

/** Names that engines and Node look for on anything. */
const LOOKED_FOR = new Set(
  "then toJSON toLiquid liquidMethodMissing constructor length size first last nodeType inputPath $$typeof inspect next return throw".split(
    " ",
  ),
);

export const isLookedFor = (key: string): boolean => LOOKED_FOR.has(key) || key.startsWith("eleventy");

/** A field that is asked for and does not exist. `says` is a sentence, `mend` another. */
export class NoSuchField extends Error {
  readonly mend: string;
  constructor(says: string, mend: string) {
    super(says);
    this.mend = mend;
  }
}

/** An object that has no answer to a name it does not know: a slip of the pen must not print nothing. */
export function strict<T extends object>(target: T, what: string): T {
  if (STRICT.has(target)) return target;
  const requireKnown = (own: T, key: string | symbol): void => {
    if (typeof key === "symbol" || key in own || isLookedFor(key)) return;
    const known = Object.keys(own);
    const near = findNearest(key, known);
    throw new NoSuchField(
      `${what} has no \`${key}\`.`,
      near === undefined ? `It has ${known.join(", ")}.` : `Did you mean \`${near}\`?`,
    );
  };
  const proxy = new Proxy(target, {
    get(own, key) {
      requireKnown(own, key);
      const value = Reflect.get(own, key);
      return value !== null && typeof value === "object" ? wrapped(value, what) : value;
    },
    // Liquid asks first whether a name is there.
    getOwnPropertyDescriptor(own, key) {
      requireKnown(own, key);
      return Reflect.getOwnPropertyDescriptor(own, key);
    },
  });
  STRICT.add(proxy);
  return proxy;
}
const STRICT = new WeakSet<object>();

/** What stands in an item, by its name there. */
function wrapped(value: object, what: string): object {
  if (!Array.isArray(value)) return strict(value, `${what}'s own`);
  return value.map((item) =>
    item !== null && typeof item === "object" ? strict(item, `An item in ${what.toLowerCase()}`) : item,
  );
}
