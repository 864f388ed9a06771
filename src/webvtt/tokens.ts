import { decodeHTML } from "entities";
import { GREATER_THAN, isDigit, LESS_THAN, normalise, SLASH, skipWord } from "./characters.ts";
import { pass, type Spot, type SpotReader } from "./spots.ts";

export interface TextToken extends Spot {
  readonly kind: "text";
  /** References decoded, line ends as `\n`. */
  readonly words: string;
}

/** Any `<…>` is a tag; without `>` it runs to the end of the cue text, and `closed` is false. */
interface TagSpot extends Spot {
  readonly closed: boolean;
}

export interface StartToken extends TagSpot {
  readonly kind: "start";
  readonly name: string;
  /** Without empty ones. */
  readonly classes: readonly string[];
  /** Trimmed, white space made single, references decoded; null when the tag has none. */
  readonly annotation: string | null;
  /** The annotation as written; it ends before `>`. Equal to the tag's end when there is none. */
  readonly annotationFrom: number;
}

export interface EndToken extends TagSpot {
  readonly kind: "end";
  readonly name: string;
}

/** A tag that begins with a digit. */
export interface StampToken extends TagSpot {
  readonly kind: "stamp";
  /** What stands between `<` and `>`. */
  readonly stamp: string;
}

export type CueToken = TextToken | StartToken | EndToken | StampToken;

/**
 * "WebVTT cue text tokenizer" (WebVTT §6.4): the next token of a head over cue text, or null at the end. Reads every
 * character once.
 */
export function readToken(reader: SpotReader): CueToken | null {
  const { text, at } = reader;
  if (at >= text.length) return null;
  return text.charCodeAt(at) === LESS_THAN ? readTag(reader) : readText(reader);
}

/** The offset of `mark` at or after `at`; the end of the text when there is none. */
function find(text: string, mark: string, at: number): number {
  const found = text.indexOf(mark, at);
  return found < 0 ? text.length : found;
}

function readText(reader: SpotReader): TextToken {
  const { text, at } = reader;
  const end = find(text, "<", at);
  const { from, to, line, column } = pass(reader, end);
  return { kind: "text", from, to, line, column, words: decode(text.slice(at, end)) };
}

/** Character references as HTML has them outside attributes, whose text ends where this text ends (WebVTT §6.4). */
export function decode(raw: string): string {
  const text = normalise(raw);
  return text.includes("&") ? decodeHTML(text) : text;
}

const NO_CLASSES: readonly string[] = [];

function readTag(reader: SpotReader): StartToken | EndToken | StampToken {
  const { text, at } = reader;
  const inner = find(text, ">", at);
  const closed = inner < text.length;
  const { from, to, line, column } = pass(reader, closed ? inner + 1 : inner);
  const first = at + 1 < inner ? text.charCodeAt(at + 1) : GREATER_THAN;
  if (first === SLASH)
    return { kind: "end", from, to, line, column, closed, name: normalise(text.slice(at + 2, inner)) };
  if (isDigit(first)) return { kind: "stamp", from, to, line, column, closed, stamp: text.slice(at + 1, inner) };
  const space = skipWord(text, at + 1, inner);
  const names = normalise(text.slice(at + 1, space));
  const dot = names.indexOf(".");
  return {
    kind: "start",
    from,
    to,
    line,
    column,
    closed,
    name: dot < 0 ? names : names.slice(0, dot),
    classes: dot < 0 ? NO_CLASSES : names.split(".").filter((name, n) => n > 0 && name !== ""),
    annotation: space === inner ? null : collapse(decode(text.slice(space + 1, inner))),
    annotationFrom: reader.base + (space === inner ? inner : space + 1),
  };
}

/** Trims ASCII whitespace and makes every run of it one space (WebVTT §6.4, start tag annotation state). */
export function collapse(annotation: string): string {
  return annotation.replace(/[\t\n\f\r ]{2,}|[\t\n\f\r]/g, " ").replace(/^ | $/g, "");
}
