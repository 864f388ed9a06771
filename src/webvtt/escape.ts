import { collapse } from "./tokens.ts";

/** What can't stand in a UTF-8 file, or not be read back, becomes U+FFFD; every line end becomes LF. */
export const sound = (words: string): string =>
  SUSPECT.test(words) ? words.replace(/\r\n?/g, "\n").replace(/[\0\p{Surrogate}]/gu, "\uFFFD") : words;

/** Most words have none of these. Half of a character beyond the first 65,536 is sorted out by who looks closer. */
const SUSPECT = /[\r\0\uD800-\uDFFF]/;

const REFERENCES: ReadonlyMap<string, string> = new Map([
  ["&", "&amp;"],
  ["<", "&lt;"],
  [">", "&gt;"],
  ["\n", "&#10;"],
]);

const refer = (character: string): string => REFERENCES.get(character) ?? character;

/**
 * Words as cue text that reads back as the same words (WebVTT §4.2.2). A line end at the beginning or the end, or
 * after another, is written `&#10;`, because a blank line would end the cue.
 */
export function escapeWords(words: string): string {
  return sound(words).replace(/[&<>]|^\n|\n$|(?<=\n)\n/g, refer);
}

/**
 * A name or a language as the annotation of a tag (WebVTT §4.2.2); white space is trimmed and made single, as a
 * parser does. A hyphen at the end is written `&#45;`: with one before it and the `>` of the tag it would be `-->`.
 */
export function escapeAnnotation(name: string): string {
  return collapse(sound(name)).replace(/[&<>]/g, refer).replace(/-$/, "&#45;");
}

/** Words on one line: line ends and other white space made single spaces. */
export const toLineOfText = (words: string): string => sound(words).replace(/\s+/g, " ").trim();
