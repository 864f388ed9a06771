import type { Finding } from "../model/finding.ts";
import { checkBlock, checkEnds } from "./check-blocks.ts";
import { checkChapterOrder, checkCueText } from "./check-cuetext.ts";
import { checkIdentifier, checkTimings } from "./check-timings.ts";
import type { VttFile } from "./file.ts";
import { newReport, type VttKind } from "./report.ts";

/**
 * What keeps a file from being a conforming WebVTT file of `kind` (WebVTT §4): every fault with its place and a mend,
 * in file order. Levels: see `WEBVTT_RULES`. Not judged: the CSS of STYLE blocks, whether a language tag is
 * registered (only its shape is), and the payload of metadata, which may be anything.
 * @param fileName becomes `Place.file`.
 */
export function validateVtt(file: VttFile, kind: VttKind, fileName: string): readonly Finding[] {
  const report = newReport(file, kind, fileName);
  checkEnds(report);
  file.blocks.forEach((block, n) => {
    checkBlock(report, block, file.blocks[n - 1]);
    if (block.kind !== "cue") return;
    checkIdentifier(report, block);
    checkTimings(report, block);
    if (kind !== "metadata") checkCueText(report, block);
  });
  if (kind === "chapters") checkChapterOrder(report);
  return report.found.sort((a, b) => a.at.line - b.at.line || a.at.column - b.at.column);
}
