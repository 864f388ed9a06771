import { cuePieces, parseVtt, wholeMs } from "../../webvtt/index.ts";
import { findingAt } from "../findings.ts";
import type { Text } from "../text.ts";
import { type Reading, tidyLines } from "./reading.ts";

/** A raw transcript in WebVTT, with the voices that it names. What the standard's parser passes over is kept. */
export function parseRawVtt(source: Text): Reading {
  const vtt = parseVtt(source.text);
  const rawBlocks = vtt.cues.flatMap((cue) => {
    const at = { file: source.file, line: cue.line, column: 1 };
    const [start, end] = [wholeMs(cue.startTime), wholeMs(cue.endTime)];
    const pieces = cuePieces(vtt, cue).map(({ voice, words }) => ({ voice, text: tidyLines(words.split("\n")) }));
    const spoken = pieces.filter(({ text }) => text !== "");
    if (spoken.length < 2) return spoken.map((piece) => ({ ...piece, start, end, at }));
    return spoken.map((piece, n) => ({
      ...piece,
      start: n === 0 ? start : null,
      end: n === spoken.length - 1 ? end : null,
      at,
    }));
  });
  const lost = vtt.blocks.flatMap((block) => {
    if (block.kind !== "lost") return [];
    const text = vtt.text.slice(block.from, block.to).replace(/\s+/g, " ").trim();
    return text === "" ? [] : [{ text, at: { file: source.file, line: block.line, column: 1 } }];
  });
  const findings = lost.map(({ at }) =>
    findingAt(
      at,
      "warns",
      "raw-times-unreadable",
      "A player passes over these lines: they have no times that can be read.",
      "They are kept in a note at the head of the transcript: put the words where they belong.",
    ),
  );
  return { rawBlocks, unplaced: lost, findings };
}
