import type { CuePiece } from "../model/episode.ts";
import type { Cue, VttFile } from "./file.ts";
import { type Spot, type SpotReader, spotReader } from "./spots.ts";
import { readTimestamp } from "./timestamp.ts";
import { type CueToken, decode, readToken, type StampToken, type StartToken, type TextToken } from "./tokens.ts";

export const SPAN_TAGS = ["c", "i", "b", "u", "ruby", "rt", "v", "lang"] as const;
export type SpanTag = (typeof SPAN_TAGS)[number];

export type TextNode = TextToken;

/** A moment inside a cue, in seconds. */
export interface StampNode extends Spot {
  readonly kind: "stamp";
  readonly seconds: number;
}

export interface SpanNode extends Spot {
  readonly kind: "span";
  readonly tag: SpanTag;
  readonly classes: readonly string[];
  /** The name of a `v`, the language tag of a `lang` ("" when it gives none); null for every other tag. */
  readonly value: string | null;
  /** The applicable language: of the innermost `lang` that it stands in or is; null: none. */
  readonly language: string | null;
  readonly children: readonly CueNode[];
}

export type CueNode = TextNode | StampNode | SpanNode;

type Growing = { -readonly [K in keyof SpanNode]: SpanNode[K] } & { readonly children: CueNode[] };

/**
 * "WebVTT cue text parsing rules" (WebVTT §6.4). Positions count from the beginning of `text`, which is on line 1.
 * Never throws; takes time in proportion to the text.
 */
export function parseCueText(text: string): readonly CueNode[] {
  return growTree(spotReader(text, 0, text.length, 1));
}

/** The cue text of `cue` as a tree, with positions in the file. */
export function parseCue(file: VttFile, cue: Cue): readonly CueNode[] {
  return growTree(readerOf(file, cue));
}

/** A head before the payload of `cue`. */
export function readerOf(file: VttFile, cue: Cue): SpotReader {
  return spotReader(file.text, cue.payload, cue.to, cue.line + 1);
}

function growTree(reader: SpotReader): readonly CueNode[] {
  const roots: CueNode[] = [];
  const open: Growing[] = [];
  for (let token = readToken(reader); token !== null; token = readToken(reader)) {
    const current = open.at(-1);
    const children = current?.children ?? roots;
    if (token.kind === "end") closeSpan(open, token.name, token.to);
    else {
      const node = nodeFrom(token, current);
      if (node === null) continue;
      children.push(node);
      if (node.kind === "span") open.push(node);
    }
  }
  for (const span of open) span.to = reader.base + reader.at;
  return roots;
}

/** What a token other than an end tag becomes; null when it is ignored. */
function nodeFrom(
  token: Exclude<CueToken, { kind: "end" }>,
  current: Growing | undefined,
): TextNode | StampNode | Growing | null {
  switch (token.kind) {
    case "text":
      return token;
    case "stamp": {
      const seconds = stampSeconds(token);
      const { from, to, line, column } = token;
      return seconds === null ? null : { kind: "stamp", from, to, line, column, seconds };
    }
    case "start": {
      const tag = spanTag(token, current?.tag ?? null);
      return tag === null ? null : newSpan(token, tag, current?.language ?? null);
    }
  }
}

/** The seconds of a timestamp tag; null unless a timestamp is all it holds (WebVTT §6.4). */
export function stampSeconds({ stamp }: StampToken): number | null {
  const found = { seconds: 0, end: 0 };
  return readTimestamp(stamp, 0, stamp.length, found) && found.end === stamp.length ? found.seconds : null;
}

/** The span that a start tag opens inside `parent`; null when a parser ignores it: `rt` counts only in a `ruby`. */
export function spanTag(token: StartToken, parent: SpanTag | null): SpanTag | null {
  const tag = SPAN_TAGS.find((known) => known === token.name) ?? null;
  return tag === "rt" && parent !== "ruby" ? null : tag;
}

function newSpan(token: StartToken, tag: SpanTag, outer: string | null): Growing {
  const { from, to, line, column, classes } = token;
  const value = tag === "v" || tag === "lang" ? (token.annotation ?? "") : null;
  const language = tag === "lang" ? value : outer;
  return { kind: "span", from, to, line, column, tag, classes, value, language, children: [] };
}

/** An end tag closes the innermost span, or a `ruby` along with the `rt` inside it; else it is ignored. */
function closeSpan(open: Growing[], name: string, to: number): void {
  const current = open.at(-1);
  if (current === undefined) return;
  const withText = name === "ruby" && current.tag === "rt";
  if (current.tag !== name && !withText) return;
  for (let left = withText ? 2 : 1; left > 0; left--) {
    const span = open.pop();
    if (span !== undefined) span.to = to;
  }
}

/** A voice, and whether its tag says that it is a guess: `<v.proposed Name>`. */
interface Voice {
  readonly name: string | null;
  readonly proposed: boolean;
}

interface Walk {
  readonly nodes: readonly CueNode[];
  readonly voice: Voice;
  readonly language: string | null;
  next: number;
}

/** Calls `take` for every text outside `rt`, in order, with the voice and the language it stands in. Depth costs no stack. */
function eachText(
  nodes: readonly CueNode[],
  take: (node: TextNode, voice: Voice, language: string | null) => void,
): void {
  const open: Walk[] = [{ nodes, voice: { name: null, proposed: false }, language: null, next: 0 }];
  for (let walk = open.at(-1); walk !== undefined; walk = open.at(-1)) {
    const node = walk.nodes[walk.next++];
    if (node === undefined) open.pop();
    else if (node.kind === "text") take(node, walk.voice, walk.language);
    else if (node.kind === "span" && node.tag !== "rt") {
      const voice =
        node.tag === "v" ? { name: named(node.value), proposed: node.classes.includes(PROPOSED_CLASS) } : walk.voice;
      open.push({ nodes: node.children, voice, language: node.language, next: 0 });
    }
  }
}

/** The class of a voice that a program proposed and nobody has accepted. */
export const PROPOSED_CLASS = "proposed";

const isBlank = (words: string): boolean => words.trim() === "";
const named = (value: string | null): string | null => (value === "" ? null : value);
const isSamePart = (one: CuePiece, other: CuePiece): boolean =>
  one.voice === other.voice && one.proposed === other.proposed && one.language === other.language;

/**
 * A cue as consecutive pieces of one voice and one language; their words joined are the words of the cue, without
 * `rt`. The innermost `v` and `lang` count, and one that names nothing is null. White space between two pieces, such
 * as the line end between two voices, belongs to the piece before it; at the beginning to the one after it.
 */
export function voicePieces(nodes: readonly CueNode[]): readonly CuePiece[] {
  const pieces: { voice: string | null; proposed?: true; language: string | null; words: string }[] = [];
  eachText(nodes, ({ words }, { name: voice, proposed }, languageValue) => {
    const language = named(languageValue);
    const piece = { voice, ...(proposed && voice !== null ? { proposed: true as const } : {}), language, words };
    const last = pieces.at(-1);
    if (last === undefined) pieces.push(piece);
    else if (isBlank(words) || isSamePart(last, piece)) last.words += words;
    else if (pieces.length === 1 && isBlank(last.words)) pieces[0] = { ...piece, words: last.words + words };
    else pieces.push(piece);
  });
  return pieces;
}

/** The pieces of a cue of the file: `voicePieces` of its tree. */
export function cuePieces(file: VttFile, cue: Cue): readonly CuePiece[] {
  if (cue.text !== "" && !cue.text.includes("<")) return [{ voice: null, language: null, words: decode(cue.text) }];
  return voicePieces(parseCue(file, cue));
}

/** All texts outside `rt`, in order. */
export function cueTexts(nodes: readonly CueNode[]): readonly TextNode[] {
  const texts: TextNode[] = [];
  eachText(nodes, (node) => texts.push(node));
  return texts;
}
