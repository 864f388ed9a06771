/**
 * Characters that can't be seen. They are named here once, for the readers, which refuse or doubt them in what people
 * wrote, and for the terminal, which shows them.
 */

/** Control characters but for tab and line ends, and halves of characters. */
const CONTROLS = "(?![\\t\\n\\r])[\\p{Cc}\\p{Cs}]";

/**
 * What turns the text after it around until something ends it: embeddings, overrides and isolates, U+202A to U+202E and
 * U+2066 to U+2069 (Unicode Standard Annex 9, §2.1 to §2.5). One that is not ended turns its neighbours too: other
 * captions in a list, another's name in a note. The marks U+200E, U+200F and U+061C (§2.6) turn nothing around.
 */
const TURNING = /[\u202A-\u202E\u2066-\u2069]/u;

/** What nobody could print or put into XML, or read in the order in which it is written. */
export const UNPRINTABLE = new RegExp(`${CONTROLS}|${TURNING.source}`, "u");

/** Character references by number: Markdown and WebVTT read them as the characters. */
const REFERENCE = /&#(?:x0*([\da-f]{1,6})|0*(\d{1,7}))/gi;

/** A character in a text. */
export interface Unseen {
  /** Where it stands, counted from 0 in UTF-16 code units. */
  readonly at: number;
  readonly character: string;
}

/** The first character of a text that is unprintable, as it is or by reference; null where there is none. */
export function findUnprintable(text: string): Unseen | null {
  const at = text.search(UNPRINTABLE);
  if (at !== -1) return { at, character: text[at] ?? "" };
  for (const { index, 1: hex, 2: decimal } of text.matchAll(REFERENCE)) {
    const code = hex === undefined ? Number(decimal) : Number.parseInt(hex, 16);
    const character = code <= 0x10ffff ? String.fromCodePoint(code) : "";
    if (UNPRINTABLE.test(character)) return { at: index, character };
  }
  return null;
}

/** Whether a character turns the text after it around. */
export const isTurning = (character: string): boolean => TURNING.test(character);

/**
 * What takes no room on a page and keeps words from being found: soft hyphens, blanks without width, invisible operators,
 * deprecated controls, fillers, annotation marks, and tags other than those of a flag. From Unicode's
 * Default_Ignorable_Code_Point, without what writing needs: joiners, variation selectors, marks of direction.
 * U+FEFF at the very beginning is a byte order mark.
 */
export const INVISIBLE =
  /[\u00AD\u115F\u1160\u180E\u200B\u2060-\u2065\u206A-\u206F\u3164\uFFA0\uFFF9-\uFFFB]|(?<!^)\uFEFF|(?<![\u{1F3F4}\u{E0020}-\u{E007F}])[\u{E0000}-\u{E007F}]/u;

/** `U+202E`. */
export const codeOf = (character: string): string =>
  `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0")}`;

const SHOWN = new RegExp(`(?!\\r\\n)(?:${TURNING.source}|(?![\\t\\n])\\p{Cc})`, "gu");

const escaped = (character: string): string => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`;

/**
 * A text for a terminal: what it would obey, or be turned around by, stands as an escape (`\u001b`). Tabs and line ends
 * stay. In JSON, such an escape is the character itself, so that output for other programs stays what it was.
 */
export const visible = (text: string): string => text.replace(SHOWN, escaped);

/** The same for a text of one line, such as a file's name: line ends too stand as escapes. */
export const visibleLine = (text: string): string => visible(text).replace(/[\r\n]/g, escaped);
