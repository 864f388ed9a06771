import type { Finding } from "../model/finding.ts";
import { isLineEnd } from "./characters.ts";
import { afterLineEnd } from "./lines.ts";
import { finding } from "./rules.ts";

/** A file as bytes and as the text that they decode to. */
export interface DecodedVtt {
  readonly bytes: Uint8Array;
  /** UTF-8 decoded, each ill-formed sequence as one U+FFFD; a byte order mark stays, as U+FEFF. */
  readonly text: string;
}

/** Puts `words` in the place of [from, to); offsets count UTF-16 units of the text. */
export interface Splice {
  readonly from: number;
  readonly to: number;
  readonly words: string;
}

/** Decodes a file for the parser (WebVTT §6.1: "UTF-8 decode"), which takes the byte order mark itself. Never throws. */
export function decodeVtt(bytes: Uint8Array): DecodedVtt {
  return { bytes, text: new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes) };
}

/** The text with every splice made. `splices`: in order, not overlapping. */
export function spliceText(text: string, splices: readonly Splice[]): string {
  let at = 0;
  const pieces: string[] = [];
  for (const { from, to, words } of splices) {
    pieces.push(text.slice(at, from), words);
    at = to;
  }
  return pieces.join("") + text.slice(at);
}

/** A place in the bytes and, in step with it, in the text. */
interface Cursor {
  readonly bytes: Uint8Array;
  byte: number;
  unit: number;
  /** Whether the sequence last passed was well-formed. */
  sound: boolean;
}

const isTail = (byte: number | undefined): boolean => byte !== undefined && byte >= 0x80 && byte <= 0xbf;

/** Passes one code point, or one ill-formed sequence, as the UTF-8 decoder does (Encoding standard §8.1.1). */
function passSequence(cursor: Cursor): void {
  const { bytes, byte } = cursor;
  const lead = bytes[byte] ?? 0;
  const tails = lead < 0xc2 || lead > 0xf4 ? 0 : lead < 0xe0 ? 1 : lead < 0xf0 ? 2 : 3;
  const lowest = lead === 0xe0 ? 0xa0 : lead === 0xf0 ? 0x90 : 0x80;
  const highest = lead === 0xed ? 0x9f : lead === 0xf4 ? 0x8f : 0xbf;
  const second = bytes[byte + 1] ?? 0;
  let length = 1;
  if (tails > 0 && second >= lowest && second <= highest) {
    length = 2;
    while (length <= tails && isTail(bytes[byte + length])) length++;
  }
  cursor.sound = lead < 0x80 || (tails > 0 && length === tails + 1);
  cursor.byte += length;
  cursor.unit += cursor.sound && tails === 3 ? 2 : 1;
}

/** Bytes that are not UTF-8, at most one finding a line: a WebVTT file must be UTF-8 (WebVTT §4.1). */
export function encodingFindings({ bytes, text }: DecodedVtt, file: string): readonly Finding[] {
  if (!text.includes("\uFFFD")) return [];
  const found: Finding[] = [];
  const cursor: Cursor = { bytes, byte: 0, unit: 0, sound: true };
  let [line, lineFrom, told] = [1, 0, 0];
  while (cursor.byte < bytes.length) {
    const { byte, unit } = cursor;
    passSequence(cursor);
    if (!cursor.sound && told < line) {
      told = line;
      const written = `0x${(bytes[byte] ?? 0).toString(16).padStart(2, "0")}`;
      const place = { file, line, column: unit - lineFrom + 1 };
      found.push(
        finding(
          "encoding",
          place,
          null,
          `The byte ${written} is not UTF-8: readers see U+FFFD in its place.`,
          "Save the file as UTF-8.",
        ),
      );
    }
    if (isLineEnd(text.charCodeAt(unit)) && afterLineEnd(text, unit) === unit + 1) {
      line++;
      lineFrom = unit + 1;
    }
  }
  return found;
}
