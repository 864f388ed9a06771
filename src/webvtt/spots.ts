import { type LineReader, lineReader, readLine } from "./lines.ts";

/** Where something stands: offsets count UTF-16 units from 0, line and column count from 1. */
export interface Spot {
  readonly from: number;
  readonly to: number;
  readonly line: number;
  readonly column: number;
}

/** A reading head over a piece of a text, which knows where it stands in the whole. */
export interface SpotReader {
  /** The piece alone: no search can run on into the rest. */
  readonly text: string;
  /** Where the piece starts in the whole. */
  readonly base: number;
  readonly firstLine: number;
  readonly firstColumn: number;
  readonly lines: LineReader;
  /** Where the head is, in the piece. */
  at: number;
}

/** A head before the piece [from, to) of `whole`; the piece starts in `line` and `column`. */
export function spotReader(whole: string, from: number, to: number, line: number, column = 1): SpotReader {
  const text = whole.slice(from, to);
  const lines = lineReader(text, 0);
  readLine(lines);
  return { text, base: from, firstLine: line, firstColumn: column, lines, at: 0 };
}

/** Moves the head to `to` in the piece, which is not behind it, and says what it passed, in terms of the whole. */
export function pass(reader: SpotReader, to: number): Spot {
  const { at, base, lines, firstLine, firstColumn } = reader;
  const line = Math.max(lines.line, 1);
  const column = at - lines.from + (line === 1 ? firstColumn : 1);
  reader.at = to;
  while (to >= lines.next && readLine(lines));
  return { from: base + at, to: base + to, line: firstLine + line - 1, column };
}
