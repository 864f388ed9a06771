import { ARROW, CR, isLineEnd, LF } from "./characters.ts";

/**
 * A reading head over the lines of a text, which holds one line at a time. Offsets count UTF-16 units. Nothing is
 * looked at twice: what a search finds further on is kept until the head has passed it.
 */
export interface LineReader {
  readonly text: string;
  /** The current line, without its end. */
  from: number;
  to: number;
  /** Where the next line starts. */
  next: number;
  /** From 1; 0 before the first line. */
  line: number;
  /** Whether the current line holds `-->`. */
  arrow: boolean;
  /** Set when the lines have run out; then there is no current line. */
  done: boolean;
  /** The next LF, CR and `-->` from the current line on, if not behind it; the end of the text when there is none. */
  nextLf: number;
  nextCr: number;
  nextArrow: number;
}

/** A head before the line that starts at `from`, which is line 1. */
export function lineReader(text: string, from: number): LineReader {
  return {
    text,
    from,
    to: from,
    next: from,
    line: 0,
    arrow: false,
    done: false,
    nextLf: -1,
    nextCr: -1,
    nextArrow: -1,
  };
}

/**
 * Moves to the next line. Lines end with CRLF, LF or CR, and with nothing else (WebVTT §6.1, step 1); an end of line
 * at the very end of the text opens no further line.
 * @returns false when there is none.
 */
export function readLine(lines: LineReader): boolean {
  const { text, next } = lines;
  if (next >= text.length) {
    lines.done = true;
    return false;
  }
  if (lines.nextLf < next) lines.nextLf = find(text, "\n", next);
  if (lines.nextCr < next) lines.nextCr = find(text, "\r", next);
  if (lines.nextArrow < next) lines.nextArrow = find(text, ARROW, next);
  const to = Math.min(lines.nextLf, lines.nextCr);
  lines.from = next;
  lines.to = to;
  lines.next = afterLineEnd(text, to);
  lines.line++;
  lines.arrow = lines.nextArrow < to;
  return true;
}

/** The offset of `words` at or after `from`; the end of the text when there is none. */
function find(text: string, words: string, from: number): number {
  const at = text.indexOf(words, from);
  return at < 0 ? text.length : at;
}

/** Where the line after the one that ends at `at` starts: past CRLF, CR or LF. */
export function afterLineEnd(text: string, at: number): number {
  if (at >= text.length) return at;
  return text.charCodeAt(at) === CR && text.charCodeAt(at + 1) === LF ? at + 2 : at + 1;
}

/** The end of the line that `at` stands in. */
export function lineEnd(text: string, at: number): number {
  let end = at;
  while (end < text.length && !isLineEnd(text.charCodeAt(end))) end++;
  return end;
}

/** Whether the line above the one that starts at `from` is blank. */
export function followsBlank(text: string, from: number): boolean {
  const above = text.charCodeAt(from - 1) === LF && text.charCodeAt(from - 2) === CR ? from - 2 : from - 1;
  return isLineEnd(text.charCodeAt(above - 1));
}
