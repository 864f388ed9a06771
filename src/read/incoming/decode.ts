import { Buffer, isUtf8 } from "node:buffer";
import iconv from "iconv-lite";
import type { Finding } from "../../model/finding.ts";
import { findingAt } from "../findings.ts";
import type { Source } from "../source.ts";
import { firstBadByte, placesIn, type Text } from "../text.ts";

/**
 * A file from elsewhere as text, whatever it was saved as. UTF-16 is told by its byte order mark. A line that is not
 * UTF-8 is read as Windows-1252, on its own: files put together from two sources change their encoding half way. Line
 * ends become `\n`.
 */
export function decodeForeign(source: Source): { readonly text: Text; readonly findings: readonly Finding[] } {
  const { file, bytes } = source;
  const wide = wideName(bytes);
  if (wide !== null) return decodedSource(file, new TextDecoder(wide).decode(bytes), []);
  if (firstBadByte(bytes) === null) return decodedSource(file, new TextDecoder("utf-8").decode(bytes), []);
  const decoded: string[] = [];
  const foreign: number[] = [];
  linesOf(bytes).forEach((line, n) => {
    const sound = isUtf8(line);
    if (!sound) foreign.push(n + 1);
    decoded.push(sound ? new TextDecoder("utf-8").decode(line) : asWindows1252(line));
  });
  const [first = 1] = foreign;
  const others = foreign.length === 1 ? "" : `, and ${foreign.length - 1} more after it,`;
  const finding = findingAt(
    { file, line: first, column: 1 },
    "warns",
    "text-encoding",
    `Line ${first}${others} is not UTF-8: it was read as Windows-1252.`,
    "Look at its accents and quotation marks, or save the file as UTF-8.",
  );
  return decodedSource(file, decoded.join("\n"), [finding]);
}

/** By a library: Node 20's own decoder of that name reads Latin-1. */
const asWindows1252 = (bytes: Uint8Array): string => iconv.decode(Buffer.from(bytes), "windows-1252");

function wideName(bytes: Uint8Array): string | null {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "utf-16le";
  return bytes[0] === 0xfe && bytes[1] === 0xff ? "utf-16be" : null;
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

function decodedSource(file: string, decoded: string, findings: readonly Finding[]) {
  const text = decoded.replace(/\r\n?/g, "\n").replace(/^\uFEFF/, "");
  return { text: { file, text, place: placesIn(file, text) }, findings };
}
