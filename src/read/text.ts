import { isUtf8 } from "node:buffer";
import type { Finding, Place, Read } from "../model/finding.ts";
import { codeOf, findUnprintable, INVISIBLE, isTurning } from "../model/unseen.ts";
import { blocking, findingAt } from "./findings.ts";
import type { Source } from "./source.ts";

/** A decoded file that can say where each of its characters stands. */
export interface Text {
  readonly file: string;
  /** Without a byte order mark. */
  readonly text: string;
  /** The place of a character, counted from 0 in UTF-16 code units, as editors count columns. */
  readonly place: (offset: number) => Place;
}

/** The first byte that breaks UTF-8, counted from 0; null when none does. */
export function firstBadByte(bytes: Uint8Array): number | null {
  if (isUtf8(bytes)) return null;
  let at = 0;
  while (at < bytes.length) {
    const length = sequenceLength(bytes, at);
    if (length === 0) return at;
    at += length;
  }
  return null;
}

/** How many bytes the character at `at` takes, by the Unicode Standard's table 3-7; 0 when it is not well formed. */
function sequenceLength(bytes: Uint8Array, at: number): number {
  const [first = 0, second = 0] = [bytes[at], bytes[at + 1]];
  if (first < 0x80) return 1;
  const follows = (i: number) => ((bytes[at + i] ?? 0) & 0xc0) === 0x80;
  if (first >= 0xc2 && first <= 0xdf) return follows(1) ? 2 : 0;
  if (first >= 0xe0 && first <= 0xef) {
    const tooShort = first === 0xe0 && second < 0xa0;
    const surrogate = first === 0xed && second > 0x9f;
    return follows(1) && follows(2) && !tooShort && !surrogate ? 3 : 0;
  }
  if (first >= 0xf0 && first <= 0xf4) {
    const tooShort = first === 0xf0 && second < 0x90;
    const tooHigh = first === 0xf4 && second > 0x8f;
    return follows(1) && follows(2) && follows(3) && !tooShort && !tooHigh ? 4 : 0;
  }
  return 0;
}

/** The bytes' fault as a finding: UTF-16, or a byte that is not UTF-8, with its line; null when they are UTF-8. */
export function encodingFault({ file, bytes }: Source): Finding | null {
  const bad = firstBadByte(bytes);
  if (bad === null) return null;
  const [first, second] = bytes;
  const wide = (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff);
  const before = bytes.subarray(0, bad);
  const lineStart = before.lastIndexOf(0x0a) + 1;
  const line = before.reduce((lines, byte) => (byte === 0x0a ? lines + 1 : lines), 1);
  const column = new TextDecoder().decode(before.subarray(lineStart)).length + 1;
  const shown = `0x${(bytes[bad] ?? 0).toString(16).padStart(2, "0")}`;
  const says = wide
    ? "This file is UTF-16, not UTF-8."
    : `This file is not UTF-8: byte ${bad + 1} of it (${shown}, in line ${line}) belongs to no character.`;
  return blocking("text-not-utf8", { file, line, column }, says, "Save the file again with the encoding UTF-8.");
}

/** Finds the place of an offset in a text by its line starts; a line ends at `\n`. */
export function placesIn(file: string, text: string): (offset: number) => Place {
  const starts = [0];
  for (let at = text.indexOf("\n"); at !== -1; at = text.indexOf("\n", at + 1)) starts.push(at + 1);
  return (offset) => {
    const inside = Math.max(0, Math.min(offset, text.length));
    let [low, high] = [0, starts.length - 1];
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if ((starts[middle] ?? 0) <= inside) low = middle;
      else high = middle - 1;
    }
    return { file, line: low + 1, column: inside - (starts[low] ?? 0) + 1 };
  };
}

/** Bytes as text. A UTF-8 byte order mark is taken off and counts for no column. */
export function decodeText(source: Source): Read<Text> {
  const fault = encodingFault(source);
  if (fault !== null) return { ok: false, findings: [fault] };
  const text = new TextDecoder("utf-8").decode(source.bytes);
  return { ok: true, value: { file: source.file, text, place: placesIn(source.file, text) }, findings: [] };
}

/**
 * Characters that can't be seen. One that is unprintable is the trace of a wrong encoding, or of a paste gone wrong, or
 * turns the text after it around: it blocks, because pages, captions, feeds and titles alike would show other words than
 * are written. One that only takes no room is a doubt. The first of each kind is told.
 */
export function unseenFindings({ text, place }: Text): readonly Finding[] {
  const found: Finding[] = [];
  const mend = "Delete it; if it came from another program, paste the words again as plain text.";
  const unprintable = findUnprintable(text);
  if (unprintable !== null) {
    const { at, character } = unprintable;
    const turns = isTurning(character) ? ": it turns the text after it around" : "";
    const says = `The invisible character ${codeOf(character)} stands here${turns}.`;
    found.push(blocking("text-control", place(at), says, mend));
  }
  const invisible = INVISIBLE.exec(text);
  if (invisible !== null) {
    const says = `The invisible character ${codeOf(invisible[0])} stands here: words that hold it are not found by search.`;
    found.push(findingAt(place(invisible.index), "warns", "text-invisible", says, mend));
  }
  return found;
}
