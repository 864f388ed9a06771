import { parseClock } from "../../model/clock.ts";
import type { Finding } from "../../model/finding.ts";
import type { RawBlock } from "../../model/spoken.ts";
import { findingAt } from "../findings.ts";
import type { Text } from "../text.ts";
import { blocksOf, joined, type Reading } from "./reading.ts";

const STAMP = /^\s*\[(-?[\d:.]+)\]\s*/;

/** Whether a text times its paragraphs: `[0:21] The former treasurer`. */
export const looksTimed = (text: string): boolean => /^[^\S\n]*\[\d+:\d\d(?::\d\d)?(?:\.\d+)?\]/m.test(text);

/** Paragraphs, each with `[m:ss]` or `[h:mm:ss]` before it; one without a time goes on from the one before. */
export function parseTimedText(source: Text): Reading {
  const [rawBlocks, findings]: [RawBlock[], Finding[]] = [[], []];
  for (const { from, lines } of blocksOf(source)) {
    let line = source.place(from).line;
    let open: { start: number | null; lines: string[]; line: number } | null = null;
    const close = () => {
      const text = joined(open?.lines ?? []);
      if (open === null || text === "") return;
      const at = { file: source.file, line: open.line, column: 1 };
      rawBlocks.push({ start: open.start, end: null, voice: null, text, at });
    };
    for (const written of lines) {
      const stamp = STAMP.exec(written);
      if (stamp !== null || open === null) {
        close();
        const start = stamp === null ? null : parseClock(stamp[1] ?? "");
        if (stamp !== null && start === null) findings.push(unreadable(source.file, line, stamp[1] ?? ""));
        open = { start, lines: [written.slice(stamp?.[0].length ?? 0)], line };
      } else {
        open.lines.push(written);
      }
      line++;
    }
    close();
  }
  return { rawBlocks, unplaced: [], findings };
}

function unreadable(file: string, line: number, stamp: string): Finding {
  return findingAt(
    { file, line, column: 2 },
    "warns",
    "raw-times-unreadable",
    `“${stamp}” is no time: the paragraph is placed between its neighbours.`,
    "Write minutes and seconds, as in [1:05], or hours too, as in [1:02:05].",
  );
}

/** Paragraphs without any times. */
export function parsePlainText(source: Text): Reading {
  const rawBlocks = blocksOf(source).map(({ from, lines }) => ({
    start: null,
    end: null,
    voice: null,
    text: joined(lines),
    at: source.place(from),
  }));
  return { rawBlocks, unplaced: [], findings: [] };
}
