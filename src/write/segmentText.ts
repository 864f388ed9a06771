import { isDeepStrictEqual } from "node:util";
import {
  Document,
  isCollection,
  isMap,
  isNode,
  isPair,
  isScalar,
  isSeq,
  Lexer,
  type Node,
  type Pair,
  parseDocument,
  Scalar,
  YAMLMap,
  type YAMLSeq,
} from "yaml";
import { parseProposal } from "../model/proposal.ts";
import { frontOf } from "./episodeText.ts";

/** Keys of a segment's entry with their values as YAML has them; undefined: the key is taken out. */
export type Fields = Readonly<Record<string, unknown>>;

/** Characters [from, to) of the front matter that become others. */
interface Splice {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** A list of the front matter whose entries are changed one by one. */
type ListKey = "segments" | "cuts";

/** The front matter with one of its lists. */
interface Order {
  readonly text: string;
  readonly from: number;
  readonly front: string;
  readonly root: Fields;
  readonly key: ListKey;
  /** Null where there is none: a programme that is not divided, a recording without cuts. */
  readonly list: YAMLSeq | null;
  readonly entries: readonly YAMLMap[];
}

function orderIn(text: string, key: ListKey = "segments"): Order {
  const { from, front } = frontOf(text);
  const document = parseDocument(front);
  const list = document.get(key, true);
  const isList = isSeq(list);
  const root: unknown = document.toJS();
  return {
    text,
    from,
    front,
    key,
    root: typeof root === "object" && root !== null ? { ...root } : {},
    list: isList ? list : null,
    entries: isList ? list.items.filter((item) => isMap(item)) : [],
  };
}

/** The segments' entries as they are written: of one that is not divided none. */
export const entriesIn = (text: string): readonly Fields[] => orderIn(text).entries.map(plain);

const plain = (entry: YAMLMap): Fields => entry.toJSON() as Fields;

/**
 * An episode.md with other values in one entry of a list. Every other character stays.
 * @param fields what changes; of a value that is a map itself, the keys that change.
 * @returns null where it is written in a way that can't be changed piece by piece.
 */
export function withFields(text: string, n: number, fields: Fields, key: ListKey = "segments"): string | null {
  const order = orderIn(text, key);
  const entry = order.entries[n];
  if (entry === undefined) return null;
  const wanted = order.entries.map((own, k) => (k === n ? merged(plain(own), fields) : plain(own)));
  return spliced(order, patched(order.front, entry, fields), wanted);
}

/**
 * An episode.md with one more segment, behind another one. Every other character stays.
 * @param fields what changes in the other one. @param added the new entry. @returns null as `withFields`.
 */
export function withEntryAfter(text: string, n: number, fields: Fields, added: Fields): string | null {
  const order = orderIn(text);
  const { front, list, entries } = order;
  const entry = entries[n];
  if (list === null || entry === undefined) return null;
  const wanted = entries.flatMap((own, k) => (k === n ? [merged(plain(own), fields), added] : [plain(own)]));
  const place = placeAfter(front, list, entry, added);
  const own = patched(front, entry, fields);
  return spliced(order, place === null || own === null ? null : [...own, place], wanted);
}

/** An episode.md whose programme was not divided, with these segments. Null where it says anything of segments already. */
export function withFirstEntries(text: string, added: readonly Fields[]): string | null {
  const order = orderIn(text);
  const { front, root } = order;
  if ("segments" in root) return null;
  const eol = eolOf(front);
  const lines = added.map((own) => entryText(own, "  - ", eol));
  return spliced(order, [{ from: front.length, to: front.length, text: ["segments:", ...lines, ""].join(eol) }], added);
}

/**
 * An episode.md without the entry behind segment n, whose comments stay. Every other character stays.
 * @param fields what changes in segment n. @returns null as `withFields`.
 */
export function withoutEntryAfter(text: string, n: number, fields: Fields): string | null {
  const order = orderIn(text);
  const { front, list, entries } = order;
  const [entry, next] = [entries[n], entries[n + 1]];
  if (list === null || entry === undefined || next === undefined) return null;
  const wanted = entries.flatMap((own, k) =>
    k === n ? [merged(plain(own), fields)] : k === n + 1 ? [] : [plain(own)],
  );
  const gone = list.flow === true ? flowEntryGone(front, entry, next) : blockEntryGone(front, next);
  const own = patched(front, entry, fields);
  return spliced(order, gone === null || own === null ? null : [...own, gone], wanted);
}

/** An episode.md without one of its cuts, whose comments stay. Every other character stays. @returns null as `withFields`. */
export function withoutCut(text: string, n: number): string | null {
  const order = orderIn(text, "cuts");
  const { front, list, entries } = order;
  const [before, entry, next] = [entries[n - 1], entries[n], entries[n + 1]];
  if (list === null || entry === undefined) return null;
  if (entries.length === 1) {
    const root = parseDocument(front).contents;
    return spliced(order, isMap(root) ? keyGone(front, root, "cuts") : null, null);
  }
  const wanted = entries.flatMap((own, k) => (k === n ? [] : [plain(own)]));
  const gone =
    list.flow !== true
      ? blockEntryGone(front, entry)
      : before !== undefined
        ? flowEntryGone(front, before, entry)
        : firstFlowEntryGone(front, entry, next);
  return spliced(order, gone === null ? null : [gone], wanted);
}

/** The text with its splices; null where what is read from it then is not what was wanted. @param wanted null: no list. */
function spliced(order: Order, splices: readonly Splice[] | null, wanted: readonly Fields[] | null): string | null {
  if (splices === null) return null;
  const { text, from, root, key } = order;
  const { [key]: _, ...rest } = root;
  const now = [...splices]
    .sort((a, b) => b.from - a.from || b.to - a.to)
    .reduce((own, splice) => own.slice(0, from + splice.from) + splice.text + own.slice(from + splice.to), text);
  const document = parseDocument(frontOf(now).front);
  const isWanted =
    document.errors.length === 0 &&
    isDeepStrictEqual(document.toJS(), wanted === null ? rest : { ...rest, [key]: wanted });
  return isWanted ? now : null;
}

const isFields = (value: unknown): value is Fields =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** An entry with other values, as it is to be read. */
function merged(entry: Fields, fields: Fields): Fields {
  const now: Record<string, unknown> = { ...entry };
  for (const [key, value] of Object.entries(fields)) {
    const old = entry[key];
    if (value === undefined) delete now[key];
    else now[key] = isFields(value) && isFields(old) ? merged(old, value) : value;
  }
  return now;
}

const isGone = (key: string, fields: Fields): boolean => key in fields && fields[key] === undefined;

/** What changes in the text of a map. */
function patched(front: string, map: YAMLMap, fields: Fields): readonly Splice[] | null {
  const splices: Splice[] = [];
  const added: string[] = [];
  for (const [key, value] of Object.entries(fields)) {
    const node = map.get(key, true);
    if (node === undefined) {
      if (value !== undefined) added.push(`${key}: ${valueText(value, map.flow === true)}`);
      continue;
    }
    const own =
      value === undefined
        ? keyGone(front, map, key)
        : isFields(value) && isMap(node)
          ? patched(front, node, value)
          : valueSet(front, map, node, value);
    if (own === null) return null;
    splices.push(...own);
  }
  if (added.length === 0) return splices;
  const stays = map.items.filter(({ key }) => !(isScalar(key) && isGone(String(key.value), fields)));
  const behind = stays.map(({ value }) => value).findLast((value) => endsInLine(front, value));
  const [first] = map.items;
  if (!isNode(behind) || !behind.range || !isNode(first?.key) || !first.key.range) return null;
  const indent = " ".repeat(columnOf(front, first.key.range[0]));
  if (map.flow === true) return [...splices, at(behind.range[1], `, ${added.join(", ")}`)];
  const eol = eolOf(front);
  return [...splices, at(lineEnd(front, behind.range[1]), added.map((line) => eol + indent + line).join(""))];
}

const at = (from: number, text: string): Splice => ({ from, to: from, text });

/** A value that stands there and ends in its own last line, so that something can stand behind it. */
const endsInLine = (front: string, value: unknown): boolean =>
  isNode(value) &&
  !(isCollection(value) && value.flow !== true) &&
  !!value.range &&
  value.range[1] > value.range[0] &&
  front[value.range[1] - 1] !== "\n";

/** Another value where one stands. */
function valueSet(front: string, map: YAMLMap, node: unknown, value: unknown): readonly Splice[] | null {
  if (!isNode(node) || !node.range || (isCollection(node) && node.flow !== true)) return null;
  const [from, to] = node.range;
  const written = front.slice(from, to);
  if (written === "" || (isCollection(node) && commentsIn(front, from, to).length > 0)) return null;
  const quoted = isScalar(node) && node.type?.startsWith("QUOTE") === true ? node.type : undefined;
  const rest = /(?:\r?\n)*$/.exec(written)?.[0] ?? "";
  return [{ from, to, text: valueText(value, map.flow === true, quoted) + rest }];
}

/** A key and its value taken out; null for the first of a block, whose line begins the entry, and beside a comment. */
function keyGone(front: string, map: YAMLMap, key: string): readonly Splice[] | null {
  const k = map.items.findIndex((pair) => isScalar(pair.key) && pair.key.value === key);
  const [before, own] = [map.items[k - 1], map.items[k]];
  if (before === undefined || own === undefined || !isNode(own.key) || !own.key.range) return null;
  const isFlow = map.flow === true;
  const from = isFlow ? endOf(before) : lineStart(front, own.key.range[0]);
  const end = endOf(own);
  if (from === null || end === null) return null;
  const to = isFlow ? end : afterLine(front, end);
  return commentsIn(front, from, to).length > 0 ? null : [{ from, to, text: "" }];
}

/** A new entry behind another one, written in the same way. */
function placeAfter(front: string, list: YAMLSeq, entry: YAMLMap, added: Fields): Splice | null {
  const end = endOf(entry);
  const eol = eolOf(front);
  if (end === null || !entry.range) return null;
  if (list.flow === true) return at(end, `, ${valueText(added, true)}`);
  const dash = dashBefore(front, entry);
  if (dash === null) return null;
  const own = entry.flow === true ? dash + valueText(added, true) : entryText(added, dash, eol);
  const place = afterLine(front, end);
  return at(place, front[place - 1] === "\n" ? own + eol : eol + own);
}

function flowEntryGone(front: string, entry: YAMLMap, next: YAMLMap): Splice | null {
  const [from, to] = [entry.range?.[1], next.range?.[1]];
  if (from === undefined || to === undefined || commentsIn(front, from, to).length > 0) return null;
  return { from, to, text: "" };
}

function firstFlowEntryGone(front: string, entry: YAMLMap, next: YAMLMap | undefined): Splice | null {
  const [from, to] = [entry.range?.[0], next?.range?.[0]];
  if (from === undefined || to === undefined || commentsIn(front, from, to).length > 0) return null;
  return { from, to, text: "" };
}

/** An entry's lines taken out; what comments there were in them stay. */
function blockEntryGone(front: string, entry: YAMLMap): Splice | null {
  const [dash, end] = [dashBefore(front, entry), endOf(entry)];
  if (dash === null || end === null || !entry.range) return null;
  const [from, to] = [lineStart(front, entry.range[0]), afterLine(front, end)];
  const kept = commentsIn(front, from, to).filter((comment) => parseProposal(comment.slice(1)) === null);
  return { from, to, text: kept.map((comment) => `${" ".repeat(dash.length)}${comment}${eolOf(front)}`).join("") };
}

/** `  - `: what stands before an entry in its first line; null where more does, or the dash stands elsewhere. */
function dashBefore(front: string, { range }: YAMLMap): string | null {
  if (!range) return null;
  const before = front.slice(lineStart(front, range[0]), range[0]);
  return /^ *- +$/.test(before) ? before : null;
}

function entryText(entry: Fields, dash: string, eol: string): string {
  const lines = Object.entries(entry).map(([key, value]) => `${key}: ${valueText(value, false)}`);
  return dash + lines.join(eol + " ".repeat(dash.length));
}

/** A value in one line. @param quotes how its text is quoted; undefined: as it must. */
function valueText(value: unknown, isFlow: boolean, quotes?: Scalar.Type): string {
  const document = new Document<Node>(null);
  const node = document.createNode(value) as Node;
  if (isScalar(node) && quotes !== undefined) node.type = quotes;
  if (isCollection(node)) node.flow = true;
  const around = new YAMLMap();
  around.set(new Scalar("v"), node);
  around.flow = isFlow;
  document.contents = around;
  const written = document.toString({ lineWidth: 0, flowCollectionPadding: true }).trim();
  return isFlow ? written.slice("{ v: ".length, -" }".length) : written.slice("v: ".length);
}

/** Where a node's or a pair's last character ends; a block ends where the last value in it does. */
function endOf(node: unknown): number | null {
  if (isPair(node)) {
    const { key, value } = node as Pair;
    const isEmpty = !isNode(value) || !value.range || value.range[0] === value.range[1];
    return endOf(isEmpty ? key : value);
  }
  if (!isNode(node) || !node.range) return null;
  if (isCollection(node) && node.flow !== true && node.items.length > 0) return endOf(node.items.at(-1));
  return node.range[1];
}

/** Signs of the lexer's own, which the text doesn't have. */
const VALUE_FOLLOWS = "\u001f";
const LEXER_SIGNS: readonly string[] = ["\u0002", "\u0018", VALUE_FOLLOWS];

/** The comments between two characters, with their `#`. */
function commentsIn(front: string, from: number, to: number): readonly string[] {
  const found: string[] = [];
  let [place, isValue] = [0, false];
  for (const token of new Lexer().lex(front)) {
    if (LEXER_SIGNS.includes(token)) {
      isValue = token === VALUE_FOLLOWS;
      continue;
    }
    if (!isValue && token.startsWith("#") && place >= from && place < to) found.push(token.trimEnd());
    place += token.length;
    isValue = false;
  }
  return found;
}

const eolOf = (front: string): string => (/\r\n/.test(front) ? "\r\n" : "\n");
const lineStart = (front: string, place: number): number => front.lastIndexOf("\n", place - 1) + 1;
const columnOf = (front: string, place: number): number => place - lineStart(front, place);
function lineEnd(front: string, place: number): number {
  const rest = front.slice(place).search(/\r?\n/);
  return rest === -1 ? front.length : place + rest;
}
/** The beginning of the line after a character; the same where it begins a line. */
function afterLine(front: string, place: number): number {
  if (place > 0 && front[place - 1] === "\n") return place;
  const next = front.indexOf("\n", place);
  return next === -1 ? front.length : next + 1;
}
