import type { Finding, Level, Place } from "../model/finding.ts";

/**
 * The authoring rules, each with its level. What loses words, a cue, a voice, or a whole STYLE or REGION block
 * `blocks`, since a parser drops it without a word. Everything else `warns`: all words are still shown, in their
 * time, though a setting may fall back to its default. Sections are of the WebVTT standard.
 */
export const WEBVTT_RULES = {
  /** §4.1: the file is UTF-8. */
  encoding: "blocks",
  /** §6.1: the parser turns U+0000 into U+FFFD. */
  "null-character": "warns",
  /** §4.1: line 1 is `WEBVTT`, alone or before a space or a tab. */
  signature: "blocks",
  /** §4.1: a blank line follows line 1. */
  "header-blank-line": "warns",
  /** §6.1: what stands in the header is passed over: timings on line 1, a STYLE or REGION block under it. */
  "header-content": "blocks",
  /** §4.1: every block ends with a line end, and a blank line parts it from the next. */
  "block-blank-line": "warns",
  "last-line-end": "warns",
  /** §4.1: a block is a cue, NOTE, STYLE or REGION; other lines are dropped. */
  "words-outside-cue": "blocks",
  "spaces-outside-cue": "warns",
  /** §4.1: a comment holds no `-->`. */
  "note-arrow": "warns",
  /** §4.1: STYLE and REGION stand alone on their line, before the first cue, and hold no `-->`. */
  "block-heading": "blocks",
  "block-late": "blocks",
  "block-arrow": "blocks",
  /** §4.1: an identifier is unique in the file. */
  "id-twice": "warns",
  /** §4.1, §6.3: a cue whose timings can't be read is dropped, with its words. */
  "time-unreadable": "blocks",
  /** §4.1: the payload holds no `-->`. */
  "arrow-in-words": "blocks",
  /** §4.1: the shape of the timing line. */
  "time-hours": "warns",
  "time-spacing": "warns",
  /** §4.1: no cue starts before the one above it. */
  "time-order": "warns",
  /** §4.1: a cue ends after it starts; else it is never shown. */
  "time-empty": "blocks",
  /** §4.1, §4.4. */
  "setting-spacing": "warns",
  "setting-unknown": "warns",
  "setting-value": "warns",
  "setting-twice": "warns",
  /** §4.4: the region of a cue is defined above it. */
  "setting-region": "warns",
  /** §3.3: with a size below 100% and align start or end, a position is given. */
  "setting-position": "warns",
  /** §4.3. */
  "region-id": "warns",
  "region-twice": "warns",
  /** §4.2.2. */
  "tag-open": "blocks",
  "tag-unknown": "blocks",
  "tag-unclosed": "warns",
  "tag-crossed": "warns",
  "tag-class": "warns",
  "tag-annotation": "blocks",
  "annotation-missing": "warns",
  "annotation-shape": "warns",
  "language-tag": "warns",
  "ruby-shape": "warns",
  "rt-outside-ruby": "warns",
  "timestamp-unreadable": "blocks",
  "timestamp-shape": "warns",
  "timestamp-order": "warns",
  "reference-bare": "warns",
  "reference-open": "warns",
  "reference-value": "warns",
  /** §4.2.3: a chapter title holds no tags. */
  "chapter-tag": "warns",
  /** §4.5.1: chapters follow one another or lie within one another. */
  "chapter-overlap": "warns",
} as const satisfies Record<string, Level>;

export type WebvttRule = keyof typeof WEBVTT_RULES;

/** A finding of `rule`, at its level. `seconds`: the start of the cue concerned, or null. */
export function finding(
  rule: WebvttRule,
  at: Place,
  seconds: number | null,
  says: string,
  mend: string,
  see?: readonly Place[],
): Finding {
  const found = { rule, level: WEBVTT_RULES[rule], at, seconds, says, mend };
  return see === undefined ? found : { ...found, see };
}
