import { decodeHTML, decodeHTMLStrict } from "entities";
import { type Mark, type Report, tell } from "./report.ts";
import { pass, type Spot, spotReader } from "./spots.ts";

const REFERENCE = /&(?:#(?:\d+|[xX][\da-fA-F]+)|[A-Za-z][A-Za-z\d]*);?/y;

/**
 * Every `&` of [from, to) must begin a character reference that ends with `;` and stands for a character that text
 * may hold (HTML §13.1.4, which WebVTT §4.2.2 names). `token`: what the text stands in; `seconds`: of its cue.
 */
export function checkReferences(report: Report, from: number, to: number, token: Spot, seconds: number): void {
  const { text } = report.file;
  const reader = spotReader(text, token.from, to, token.line, token.column);
  for (let at = reader.text.indexOf("&", from - token.from); at >= 0; ) {
    REFERENCE.lastIndex = at;
    const reference = REFERENCE.exec(reader.text)?.[0] ?? "&";
    pass(reader, at);
    const { line, column } = pass(reader, at + reference.length);
    checkReference(report, reference, { line, column, seconds });
    at = reader.text.indexOf("&", reader.at);
  }
}

function checkReference(report: Report, reference: string, mark: Mark): void {
  const numeric = /^&#(?:(\d+)|[xX]([\da-fA-F]+))/.exec(reference);
  const decoded = decodeHTML(reference);
  if (decoded === reference) {
    const says =
      reference === "&" ? "This & begins no character reference." : `${reference} is no character reference.`;
    tell(report, "reference-bare", mark, says, "Write &amp; for &.");
  } else if (numeric === null ? decodeHTMLStrict(reference) === reference : !reference.endsWith(";")) {
    const says = `${reference} is read as ${JSON.stringify(decoded)}, though it lacks its semicolon.`;
    tell(report, "reference-open", mark, says, "End the reference with a semicolon, or write &amp; for &.");
  }
  if (numeric === null) return;
  const [, decimal, hex] = numeric;
  if (mayBeReferredTo(decimal === undefined ? Number.parseInt(hex ?? "", 16) : Number(decimal))) return;
  tell(report, "reference-value", mark, `${reference} names no character of text.`, "Write the character itself.");
}

/** Not U+0000, CR, surrogates, noncharacters, or controls that are not ASCII whitespace (HTML §13.1.4). */
function mayBeReferredTo(code: number): boolean {
  if (code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff)) return false;
  if ((code >= 0xfdd0 && code <= 0xfdef) || (code & 0xfffe) === 0xfffe) return false;
  if (code < 0x20) return code === 0x09 || code === 0x0a || code === 0x0c;
  return code < 0x7f || code > 0x9f;
}
