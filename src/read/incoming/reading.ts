import type { Finding } from "../../model/finding.ts";
import type { RawBlock, Unplaced } from "../../model/spoken.ts";
import { findingAt } from "../findings.ts";
import type { Text } from "../text.ts";

export const RAW_FORMATS = [
  "WebVTT",
  "SubRip",
  "SBV",
  "ASS",
  "TTML",
  "SCC",
  "table",
  "word list",
  "timed text",
  "plain text",
] as const;
export type RawFormat = (typeof RAW_FORMATS)[number];

/** What one format's reader found, in file order, its times as they were written. A block's lines have `\n` between. */
export interface Reading {
  readonly rawBlocks: readonly RawBlock[];
  readonly unplaced: readonly Unplaced[];
  readonly findings: readonly Finding[];
}

/** A block of text between blank lines. `from`: its offset in the file; `lines` without their ends. */
export interface TextBlock {
  readonly from: number;
  readonly lines: readonly string[];
}

export function blocksOf({ text }: Text): readonly TextBlock[] {
  const blocks: { from: number; lines: string[] }[] = [];
  let [from, isOpen] = [0, false];
  for (const line of text.split("\n")) {
    const isBlank = line.trim() === "";
    if (!isBlank && isOpen) blocks.at(-1)?.lines.push(line);
    else if (!isBlank) blocks.push({ from, lines: [line] });
    isOpen = !isBlank;
    from += line.length + 1;
  }
  return blocks;
}

/** Text as one run of words. */
export const asWords = (text: string): string => text.replace(/\s+/g, " ").trim();

/** Lines of a cue, without blank ones and blanks around them. */
export const tidyLines = (lines: readonly string[]): string =>
  lines
    .map(asWords)
    .filter((line) => line !== "")
    .join("\n");

/** Words that have no times that can be read, and are kept. */
export const lostWords = (at: RawBlock["at"], says = "These lines have no times that can be read."): Finding =>
  findingAt(
    at,
    "warns",
    "raw-times-unreadable",
    says,
    "They are kept in a note at the head of the transcript: put the words where they belong.",
  );
