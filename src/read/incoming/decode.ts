import { Buffer, isUtf8 } from "node:buffer";
import { analyse } from "chardet";
import iconv from "iconv-lite";
import type { Finding } from "../../model/finding.ts";
import { findingAt } from "../findings.ts";
import type { Source } from "../source.ts";
import { firstBadByte, placesIn, type Text } from "../text.ts";

/** A file from elsewhere as text. */
export interface Decoded {
  readonly text: Text;
  /** What its bytes were read as: `UTF-8`. */
  readonly encoding: string;
  readonly findings: readonly Finding[];
}

/** Whether an encoding of this name can be read: `windows-1252`, `latin1`, `utf-16le`. */
export const isEncoding = (name: string): boolean => iconv.encodingExists(name);

/**
 * A file from elsewhere as text, whatever it was saved as. UTF-16 is told by its byte order mark, or by every other byte
 * being 0. Lines that are not UTF-8 are read as what their bytes speak for, each on its own: files put together from two
 * sources change their encoding half way. Line ends become `\n`.
 * @param encoding what somebody said it is; null: it is found out.
 */
export function decodeForeign({ file, bytes }: Source, encoding: string | null = null): Decoded {
  if (encoding !== null) return decodedWhole(file, iconv.decode(Buffer.from(bytes), encoding), encoding);
  const wide = wideName(bytes);
  if (wide !== null) return decodedWhole(file, new TextDecoder(wide).decode(bytes), wide.toUpperCase());
  if (firstBadByte(bytes) === null) return decodedWhole(file, new TextDecoder("utf-8").decode(bytes), "UTF-8");
  const lines = linesOf(bytes);
  const foreign = lines.flatMap((line, n) => (isUtf8(line) ? [] : [n]));
  const name = guessed(lines.filter((line) => !isUtf8(line)));
  const decoded = lines.map((line) => (isUtf8(line) ? new TextDecoder("utf-8").decode(line) : decodedLine(line, name)));
  const [first = 0] = foreign;
  const others = foreign.length === 1 ? "" : `, and ${foreign.length - 1} more after it,`;
  const words = doubtfulWords(decoded, foreign);
  const finding = findingAt(
    { file, line: first + 1, column: 1 },
    "warns",
    "text-encoding",
    `Line ${first + 1}${others} is not UTF-8: it was read as ${name}. Doubtful: ${words}.`,
    "Look at these words; where they are wrong, say what the file was saved as with --encoding, or save it as UTF-8.",
  );
  return decodedSource(file, decoded.join("\n"), name, [finding]);
}

/** By a library: Node 20's own decoder of `windows-1252` reads Latin-1. */
const decodedLine = (line: Uint8Array, name: string): string => iconv.decode(Buffer.from(line), name);

/** How much surer than of Windows-1252 one must be of another encoding, of 100; and at least. Chosen by trial, no source. */
const [SURER, SURE] = [10, 40] as const;
/** Bytes that are weighed: more make no difference. */
const WEIGHED = 65_536;
const WESTERN = "windows-1252";

/** The encoding that lines speak for by their letters; Windows-1252 where none is clear. ISO-8859-1 is a part of it. */
function guessed(lines: readonly Uint8Array[]): string {
  const bytes = Buffer.concat(lines.flatMap((line) => [line, Buffer.from("\n")])).subarray(0, WEIGHED);
  const found = analyse(new Uint8Array(bytes));
  const western = Math.max(
    ...found.map(({ name, confidence }) => (name === "ISO-8859-1" || name === WESTERN ? confidence : 0)),
  );
  const best = found.find(({ name }) => name !== "ISO-8859-1" && name !== WESTERN && isEncoding(name));
  const isClear = best !== undefined && best.confidence >= SURE && best.confidence >= western + SURER;
  return isClear ? best.name : WESTERN;
}

/** Words told of one file. */
const MOST_WORDS = 10;

/** Words with letters beyond ASCII in these lines, each once, with its line. */
function doubtfulWords(lines: readonly string[], among: readonly number[]): string {
  const words = new Map<string, number>();
  for (const n of among)
    for (const word of (lines[n] ?? "").match(/\S*[^\0-\x7f]\S*/g) ?? []) if (!words.has(word)) words.set(word, n + 1);
  const told = [...words].slice(0, MOST_WORDS).map(([word, line]) => `“${word.slice(0, 40)}” (line ${line})`);
  return told.join(", ") + (words.size > MOST_WORDS ? `, and ${words.size - MOST_WORDS} more` : "");
}

/** UTF-16 by its byte order mark, or by every other byte being 0, as in most Latin text; null where it is neither. */
export function wideName(bytes: Uint8Array): "utf-16le" | "utf-16be" | null {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "utf-16le";
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return "utf-16be";
  const head = bytes.subarray(0, 4096);
  const zeros = [0, 0];
  head.forEach((byte, n) => {
    if (byte === 0) zeros[n % 2] = (zeros[n % 2] ?? 0) + 1;
  });
  const [even = 0, odd = 0] = zeros;
  const many = head.length / 4;
  if (odd > many && even < many / 10) return "utf-16le";
  return even > many && odd < many / 10 ? "utf-16be" : null;
}

function linesOf(bytes: Uint8Array): readonly Uint8Array[] {
  const lines: Uint8Array[] = [];
  let from = 0;
  for (let to = bytes.indexOf(0x0a); to !== -1; to = bytes.indexOf(0x0a, from)) {
    lines.push(bytes.subarray(from, to));
    from = to + 1;
  }
  return [...lines, bytes.subarray(from)];
}

/** A file that was decoded as a whole, with what its encoding could not make characters of. */
function decodedWhole(file: string, decoded: string, encoding: string): Decoded {
  const doubts = [
    ["text-undecodable", /\ufffd/, `Some bytes are no characters of ${encoding}, or were lost before`],
    ["text-encoded-twice", /[ÃÂ][\u0080-\u00bf]|â€/, "Some words look as if they had been encoded twice"],
  ] as const;
  const findings = doubts.flatMap(([rule, pattern, says]) => {
    const lines = decoded.split("\n");
    const among = pattern.test(decoded) ? lines.flatMap((line, n) => (pattern.test(line) ? [n] : [])) : [];
    const [first] = among;
    if (first === undefined) return [];
    const at = { file, line: first + 1, column: 1 };
    const mend = "Look at these words; where they are wrong, try another --encoding, or save the file again as UTF-8.";
    return [findingAt(at, "warns", rule, `${says}: ${doubtfulWords(lines, among)}.`, mend)];
  });
  return decodedSource(file, decoded, encoding, findings);
}

function decodedSource(file: string, decoded: string, encoding: string, findings: readonly Finding[]): Decoded {
  const text = decoded.replace(/\r\n?/g, "\n").replace(/^\uFEFF/, "");
  return { text: { file, text, place: placesIn(file, text) }, encoding, findings };
}
