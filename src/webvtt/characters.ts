/** UTF-16 units that the WebVTT grammar gives a meaning. */
export const NUL = 0x00;
export const TAB = 0x09;
export const LF = 0x0a;
export const FF = 0x0c;
export const CR = 0x0d;
export const SPACE = 0x20;
export const FULL_STOP = 0x2e;
export const SLASH = 0x2f;
export const ZERO = 0x30;
export const NINE = 0x39;
export const COLON = 0x3a;
export const LESS_THAN = 0x3c;
export const GREATER_THAN = 0x3e;
export const BOM = 0xfeff;

export const ARROW = "-->";

export const isDigit = (code: number): boolean => code >= ZERO && code <= NINE;

export const isLineEnd = (code: number): boolean => code === LF || code === CR;

/** ASCII whitespace of the Infra standard: tab, LF, FF, CR, space. */
export const isSpace = (code: number): boolean =>
  code === SPACE || code === TAB || code === LF || code === FF || code === CR;

/** The first offset in [from, to) that is not ASCII whitespace, or `to`. */
export function skipSpace(text: string, from: number, to: number): number {
  let at = from;
  while (at < to && isSpace(text.charCodeAt(at))) at++;
  return at;
}

/** The first offset in [from, to) that is ASCII whitespace, or `to`. */
export function skipWord(text: string, from: number, to: number): number {
  let at = from;
  while (at < to && !isSpace(text.charCodeAt(at))) at++;
  return at;
}

/** The first offset in [from, to) that is not an ASCII digit, or `to`. */
export function skipDigits(text: string, from: number, to: number): number {
  let at = from;
  while (at < to && isDigit(text.charCodeAt(at))) at++;
  return at;
}

/** True when the unit at `at`, inside a text that ends at `to`, is `code`. */
export const hasAt = (text: string, at: number, to: number, code: number): boolean =>
  at < to && text.charCodeAt(at) === code;

/** Whether `normalise` has nothing to replace. */
export const isNormal = (text: string): boolean => !text.includes("\r") && !text.includes("\0");

/**
 * The text as the parser sees it: CRLF and CR become LF, NUL becomes U+FFFD (WebVTT §6.1, step 1).
 * @returns the same string where there is nothing to replace.
 */
export function normalise(text: string): string {
  if (isNormal(text)) return text;
  return text.replace(/\r\n?/g, "\n").replaceAll("\0", "\uFFFD");
}
