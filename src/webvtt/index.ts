/** WebVTT, whole: the standard's parser, its authoring rules, splices that leave all else as it is, and new files. Pure. */
export { type DecodedVtt, decodeVtt, encodingFindings, type Splice, spliceText } from "./bytes.ts";
export {
  type CaptionCue,
  type ChapterCue,
  type ComposedCue,
  composeCaptions,
  composeChapters,
  composeVtt,
  cueText,
  plainText,
  titleText,
  type VttFront,
} from "./compose.ts";
export {
  type CueNode,
  cuePieces,
  cueTexts,
  PROPOSED_CLASS,
  parseCue,
  parseCueText,
  SPAN_TAGS,
  type SpanNode,
  type SpanTag,
  type StampNode,
  type TextNode,
  voicePieces,
} from "./cuetext.ts";
export { escapeAnnotation, escapeWords } from "./escape.ts";
export type { Block, Cue, Header, Lost, Note, Region, Style, VttFile } from "./file.ts";
export { parseVtt } from "./parse.ts";
export type { RegionSettings } from "./region.ts";
export { type Replacement, replaceCues } from "./replace.ts";
export type { VttKind } from "./report.ts";
export { WEBVTT_RULES, type WebvttRule } from "./rules.ts";
export { type CueSetting, type CueSettings, DEFAULT_SETTINGS } from "./settings.ts";
export type { Spot } from "./spots.ts";
export { formatTimestamp, isWritableMs, wholeMs } from "./timestamp.ts";
export { settingsOf, settingsText } from "./timings.ts";
export { validateVtt } from "./validate.ts";
export { withoutVoiceClass } from "./voice-class.ts";
