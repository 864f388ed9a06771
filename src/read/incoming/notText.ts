import { isUtf8 } from "node:buffer";
import { fileTypeFromBuffer } from "file-type";
import { wideName } from "./decode.ts";

/** What people have in their hands instead of a text, by the usual ending of such files, and what to do about it. */
const KINDS: Readonly<Record<string, readonly [kind: string, mend: string]>> = {
  pdf: ["a PDF", "Open it, copy its words into a plain text, and give that."],
  ps: ["a PostScript file", "Open it, copy its words into a plain text, and give that."],
  rtf: ["a rich text file (RTF)", "Open it, save it as plain text in UTF-8, and give that."],
  docx: ["a Word document", "Open it, save it as plain text in UTF-8, and give that."],
  odt: ["an OpenDocument text", "Open it, save it as plain text in UTF-8, and give that."],
  cfb: ["an old Office document", "Open it, save it as plain text or CSV in UTF-8, and give that."],
  xlsx: ["an Excel sheet", "Open it, save the sheet as CSV in UTF-8, and give that."],
  ods: ["an OpenDocument sheet", "Open it, save the sheet as CSV in UTF-8, and give that."],
  pptx: ["a presentation", "Give the text of what was said."],
  html: ["a web page (HTML)", "Open it, copy its words into a plain text, and give that."],
  stl: ["an EBU STL subtitle file", "Save the subtitles as TTML, WebVTT or SubRip, and give that."],
  zip: ["a ZIP archive", "Unpack it, and give the file that is in it."],
};
const PACKED = new Set(["7z", "bz2", "gz", "lz", "lz4", "rar", "tar", "tar.gz", "xz", "zst"]);
/** Kinds that are written in readable characters, and are no transcript all the same. */
const READABLE = new Set(["pdf", "ps", "rtf"]);

/** How many bytes are looked at to tell text from what is none. */
const LOOKED_AT = 65_536;
/** More control characters than this share, and it is no text. Random bytes have a tenth. Common practice, no source. */
const FEW = 0.01;

/**
 * What a file is where it is no text, in two sentences with what to do; null for text. By its first bytes, whatever its
 * name: a text that happens to begin like a picture (`BM`) stays a text.
 * @param encoded whether somebody said what encoding it has: then any bytes may be text.
 */
export async function notTextFault(bytes: Uint8Array, encoded: boolean): Promise<string | null> {
  const head = bytes.subarray(0, LOOKED_AT);
  const isReadable = head.length === 0 || encoded || wideName(head) !== null || fewControls(head);
  if (isReadable) {
    const shown = new TextDecoder("latin1").decode(head.subarray(0, 1000)).replace(/^[\u00ef\u00bb\u00bf\s]+/, "");
    if (/^(?:<!--[\s\S]*?-->\s*)?(?:<!doctype html|<html[\s>])/i.test(shown)) return told("html");
    const found = /^(?:%PDF-|%!PS|\{\\rtf)/.test(shown) ? await fileTypeFromBuffer(head) : undefined;
    return found !== undefined && READABLE.has(found.ext) ? told(found.ext) : null;
  }
  if (/^\d{3}STL\d\d\.01/.test(new TextDecoder("latin1").decode(head.subarray(0, 11)))) return told("stl");
  const found = await fileTypeFromBuffer(bytes);
  if (found === undefined)
    return "This is no text: it is full of control characters. Check that it is the right file, or say how it was saved with --encoding.";
  return told(found.ext, found.mime);
}

function told(ext: string, mime = ""): string {
  const [kind, mend] = KINDS[ext] ?? [null, ""];
  if (kind !== null) return `This is ${kind}. ${mend}`;
  const name = ext.toUpperCase();
  if (PACKED.has(ext)) return `This is a packed file (${name}). Unpack it, and give the file that is in it.`;
  if (mime.startsWith("audio/")) return `This is sound (${name}). Give a text here, and the recording with --media.`;
  if (mime.startsWith("video/")) return `This is video (${name}). Give a text here, and the recording with --media.`;
  if (mime.startsWith("image/")) return `This is a picture (${name}). Give the words in it as a text.`;
  return `This is no text: it looks like ${name}. Check that it is the right file.`;
}

function fewControls(head: Uint8Array): boolean {
  const controls = head.reduce((sum, byte) => sum + (isControl(byte) ? 1 : 0), 0);
  return controls <= Math.max(isUtf8(head) ? 2 : 0, head.length * FEW);
}

/** Control characters that no text has: not the tab, line ends, form feed, or the escape of old encodings. */
const isControl = (byte: number): boolean =>
  byte === 0x7f || (byte < 0x20 && !(byte >= 0x09 && byte <= 0x0d) && byte !== 0x1a && byte !== 0x1b);
