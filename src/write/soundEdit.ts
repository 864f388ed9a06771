import { isDeepStrictEqual } from "node:util";
import { isMap, isNode, isScalar, isSeq, parseDocument, stringify, type YAMLMap } from "yaml";
import { formatClockExact, parseClock } from "../model/clock.ts";

/** What episode.md must say once a recording was made anew. */
export interface SoundChange {
  /** By the place in `media`. */
  readonly media: ReadonlyMap<number, { readonly src: string; readonly bytes: number }>;
  /** Milliseconds; null: as it is. */
  readonly duration: number | null;
  /** Further cuts, in milliseconds of the episode's clock. */
  readonly cuts: readonly { readonly from: number; readonly to: number; readonly why: string }[];
  /** The slugs of segments whose sound is silenced now. */
  readonly silenced: readonly string[];
}

interface Edit {
  /** Offsets in the text; the same where something is put in. */
  readonly from: number;
  readonly to: number;
  readonly words: string;
}

/**
 * An episode.md with a change put in; every other character stays. Null where it is written in a way that this can't
 * be done for sure: somebody then does it by hand.
 */
export function withSound(text: string, change: SoundChange): string | null {
  const [, head = "", front] = /^(---\n)([\s\S]*?\n)---(?:\n|$)/.exec(text) ?? [];
  if (front === undefined) return null;
  const document = parseDocument(front);
  const root = document.contents;
  if (document.errors.length > 0 || !isMap(root)) return null;
  const edits = [
    ...mediaEdits(root, change, front),
    ...durationEdits(root, change),
    ...cutEdits(root, change, front),
    ...change.silenced.flatMap((slug) => silenceEdits(root, slug, front)),
  ];
  const edited = edits
    .toSorted((a, b) => b.from - a.from)
    .reduce((now, { from, to, words }) => now.slice(0, from) + words + now.slice(to), front);
  return isDeepStrictEqual(read(edited), changed(read(front), change))
    ? text.replace(head + front, () => head + edited)
    : null;
}

/** What a text is as data; undefined where it is no YAML. */
function read(front: string): unknown {
  const document = parseDocument(front);
  return document.errors.length > 0 ? undefined : document.toJS();
}

type Plain = Readonly<Record<string, unknown>>;
const isPlain = (value: unknown): value is Plain =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/** The front matter as data with the change made: what the edited text must say. */
function changed(front: unknown, { media, duration, cuts, silenced }: SoundChange): unknown {
  if (!isPlain(front)) return undefined;
  const added = cuts.map(({ from, to, why }) => ({ from: formatClockExact(from), to: formatClockExact(to), why }));
  return {
    ...front,
    ...(media.size === 0
      ? {}
      : { media: listOf(front.media).map((own, n) => (isPlain(own) ? { ...own, ...media.get(n) } : own)) }),
    ...(duration === null ? {} : { duration: formatClockExact(duration) }),
    ...(added.length === 0 ? {} : { cuts: inOrder([...listOf(front.cuts), ...added]) }),
    ...(silenced.length === 0 ? {} : { segments: listOf(front.segments).map((own) => silencedIn(own, silenced)) }),
  };
}

function silencedIn(segment: unknown, silenced: readonly string[]): unknown {
  if (!isPlain(segment) || !silenced.some((slug) => slug === segment.slug)) return segment;
  return { ...segment, rights: { ...(isPlain(segment.rights) ? segment.rights : {}), sound: "silenced" } };
}

const fromOf = (cut: unknown): number =>
  isPlain(cut) && typeof cut.from === "string" ? (parseClock(cut.from) ?? 0) : 0;
const inOrder = (cuts: readonly unknown[]): readonly unknown[] => cuts.toSorted((a, b) => fromOf(a) - fromOf(b));

/** A word of YAML: in quotes where it could mean more than itself. */
const scalar = (word: string): string => (/^[A-Za-z0-9][A-Za-z0-9_.-]*$/.test(word) ? word : JSON.stringify(word));
const flowMap = (value: object): string =>
  stringify(value, { collectionStyle: "flow", lineWidth: 0, flowCollectionPadding: true }).trim();
const cutText = ({ from, to, why }: SoundChange["cuts"][number]): string =>
  flowMap({ from: formatClockExact(from), to: formatClockExact(to), why });

const replaced = (node: unknown, words: string): readonly Edit[] =>
  isNode(node) && node.range ? [{ from: node.range[0], to: node.range[1], words }] : [];
const put = (at: number, words: string): Edit => ({ from: at, to: at, words });

/** How far the line is indented that an offset stands in, counting the hyphens of lists as blanks. */
function indentAt(front: string, at: number): string {
  const line = front.slice(front.lastIndexOf("\n", at - 1) + 1, at);
  return /^[\s-]*/.exec(line)?.[0].replaceAll("-", " ") ?? "";
}
const lineEnd = (front: string, at: number): number => {
  const end = front.indexOf("\n", at);
  return end === -1 ? front.length : end;
};

/** Puts a key after another one of the same map, in the map's own way of writing. */
function afterKey(map: YAMLMap, key: string, words: string, front: string): readonly Edit[] {
  const pair = map.items.find((own) => isScalar(own.key) && own.key.value === key);
  if (pair === undefined || !isScalar(pair.key) || !isNode(pair.value) || !pair.key.range || !pair.value.range)
    return [];
  const end = pair.value.range[1];
  if (map.flow) return [put(end, `, ${words}`)];
  return [put(lineEnd(front, end), `\n${indentAt(front, pair.key.range[0])}${words}`)];
}

function mediaEdits(root: YAMLMap, { media }: SoundChange, front: string): readonly Edit[] {
  const list = root.get("media", true);
  return [...media].flatMap(([n, { src, bytes }]) => {
    const own = isSeq(list) ? list.items[n] : undefined;
    if (!isMap(own)) return [];
    const size = own.has("bytes")
      ? replaced(own.get("bytes", true), String(bytes))
      : afterKey(own, "src", `bytes: ${bytes}`, front);
    return [...replaced(own.get("src", true), scalar(src)), ...size];
  });
}

const durationEdits = (root: YAMLMap, { duration }: SoundChange): readonly Edit[] =>
  duration === null ? [] : replaced(root.get("duration", true), formatClockExact(duration));

function cutEdits(root: YAMLMap, { cuts }: SoundChange, front: string): readonly Edit[] {
  if (cuts.length === 0) return [];
  const list = root.get("cuts", true);
  const items = isSeq(list) ? list.items : [];
  if (items.length === 0) {
    const lines = cuts.map((cut) => `\n  - ${cutText(cut)}`).join("");
    if (!root.has("cuts")) return afterKey(root, "clock", `cuts:${lines}`, front);
    return replaced(list, `[${cuts.map(cutText).join(", ")}]`);
  }
  const isFlow = isSeq(list) && list.flow === true;
  const starts = items.map((item) => (isMap(item) ? fromOf({ from: item.get("from") }) : 0));
  return cuts.flatMap((cut): readonly Edit[] => {
    const next = starts.findIndex((start) => start > cut.from);
    const beside = items.at(next);
    if (!isNode(beside) || !beside.range) return [];
    const [start, end] = beside.range;
    const indent = indentAt(front, start).slice(0, -2);
    if (next === -1)
      return [put(isFlow ? end : lineEnd(front, end), isFlow ? `, ${cutText(cut)}` : `\n${indent}- ${cutText(cut)}`)];
    return [put(start, isFlow ? `${cutText(cut)}, ` : `${cutText(cut)}\n${indent}- `)];
  });
}

function silenceEdits(root: YAMLMap, slug: string, front: string): readonly Edit[] {
  const list = root.get("segments", true);
  const segment = isSeq(list) ? list.items.find((own) => isMap(own) && own.get("slug") === slug) : undefined;
  if (!isMap(segment)) return [];
  const rights = segment.get("rights", true);
  if (rights === undefined) return afterKey(segment, "in", "rights: { sound: silenced }", front);
  const last = isMap(rights) ? rights.items.at(-1)?.key : undefined;
  // What was accepted before must go, and its reason with it: that is for a person.
  if (!isMap(rights) || !isScalar(last) || rights.has("sound") || rights.has("because")) return [];
  return afterKey(rights, String(last.value), "sound: silenced", front);
}

/** What a person puts into episode.md for a change, as YAML: whole keys, in the place of what is there. */
export function soundYaml(text: string, change: SoundChange): string {
  const front = read(/^---\n([\s\S]*?\n)---(?:\n|$)/.exec(text)?.[1] ?? "");
  const own = changed(front, change);
  if (!isPlain(own)) return "";
  const lists = ["media", "cuts"] as const;
  const touched = { media: change.media.size > 0, cuts: change.cuts.length > 0 };
  return [
    ...(change.duration === null ? [] : [`duration: ${formatClockExact(change.duration)}`]),
    ...lists.flatMap((key) =>
      touched[key]
        ? [`${key}:`, ...listOf(own[key]).flatMap((one) => (isPlain(one) ? [`  - ${flowMap(one)}`] : []))]
        : [],
    ),
    ...listOf(own.segments).flatMap((one) => {
      if (!isPlain(one) || !change.silenced.some((slug) => slug === one.slug) || !isPlain(one.rights)) return [];
      const { because: _, ...rights } = one.rights;
      return [`# in the segment ${one.slug}:`, `    rights: ${flowMap(rights)}`];
    }),
  ].join("\n");
}
