import type { RegionSettings } from "./region.ts";
import type { CueSettings } from "./settings.ts";

/**
 * Where a block stands. Offsets count UTF-16 units of `VttFile.text`; `to` is the end of its last line, without the
 * line end. Every block starts in column 1.
 */
interface BlockSpan {
  readonly from: number;
  readonly to: number;
}

/** A cue that the parser takes. */
export interface Cue extends BlockSpan {
  readonly kind: "cue";
  /** "" when there is none. */
  readonly id: string;
  /** In seconds, as the standard computes them. */
  readonly startTime: number;
  readonly endTime: number;
  readonly settings: CueSettings;
  /** The payload as written, with tags and references; line ends are `\n`. */
  readonly text: string;
  /** The line of the timings, from 1. The payload starts on the next; an id stands on the one before. */
  readonly line: number;
  /** Where the timing line starts; `from` when the cue has no id. */
  readonly timings: number;
  /** Where the payload starts, on the line after the timings; it ends at `to`, and both are equal when it is empty. */
  readonly payload: number;
}

/** A STYLE block that the parser takes. */
export interface Style extends BlockSpan {
  readonly kind: "style";
  readonly line: number;
  /** The style sheet, with `\n` for every line end. */
  readonly css: string;
}

/** A REGION block that the parser takes. */
export interface Region extends BlockSpan, RegionSettings {
  readonly kind: "region";
  readonly line: number;
}

/** A NOTE block. */
export interface Note extends BlockSpan {
  readonly kind: "note";
  readonly line: number;
  /** What follows `NOTE`, with `\n` for every line end. */
  readonly words: string;
}

/** Lines that the parser passes over. */
export interface Lost extends BlockSpan {
  readonly kind: "lost";
  readonly line: number;
  /** Where the line with `-->` starts that could not be read; null when the block has none. */
  readonly timings: number | null;
}

export type Block = Cue | Style | Region | Note | Lost;

/** The lines between the signature and the first blank line or `-->`; the parser passes over them. */
export interface Header extends BlockSpan {
  /** What follows `WEBVTT` on line 1, and a space. */
  readonly title: string;
}

export interface VttFile {
  /** The file, character for character, byte order mark and all. */
  readonly text: string;
  /** Whether the signature is right; if not there are no blocks at all (WebVTT §6.1). */
  readonly accepted: boolean;
  readonly header: Header;
  /** In file order: the lists below, the notes and what is lost. */
  readonly blocks: readonly Block[];
  readonly cues: readonly Cue[];
  readonly styles: readonly Style[];
  readonly regions: readonly Region[];
}
