import type { Finding } from "../../model/finding.ts";
import type { RawBlock, Unplaced } from "../../model/spoken.ts";
import type { Text } from "../text.ts";

export const RAW_FORMATS = ["WebVTT", "SubRip", "timed text", "word list", "plain text"] as const;
export type RawFormat = (typeof RAW_FORMATS)[number];

/** What one format's reader found, in file order, its times as they were written. */
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

/** Lines of a cue as one run of words. */
export const joined = (lines: readonly string[]): string => lines.join(" ").replace(/\s+/g, " ").trim();
