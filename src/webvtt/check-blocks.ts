import { ARROW, BOM, isLineEnd } from "./characters.ts";
import { checkRegion } from "./check-settings.ts";
import type { Block, Lost } from "./file.ts";
import { followsBlank, lineEnd, lineReader, readLine } from "./lines.ts";
import { isHeading, isNote } from "./parse.ts";
import { type Mark, quote, type Report, tell } from "./report.ts";
import { emptyTimings, readTimings } from "./timings.ts";

/** The block that a line heads; undefined for any other line. */
const headingOf = (text: string, from: number, to: number): "STYLE" | "REGION" | undefined =>
  (["STYLE", "REGION"] as const).find((word) => isHeading(text, from, to, word));

/** What belongs to the file as a whole: its signature, its header, its last line, characters that can't stay. */
export function checkEnds(report: Report): void {
  const { text, accepted } = report.file;
  if (accepted) checkHeader(report);
  else {
    const start = text.charCodeAt(0) === BOM ? 1 : 0;
    const says = `A player rejects this file: it must begin with WEBVTT, but begins with ${quote(text.slice(start, start + 12))}.`;
    tell(report, "signature", { line: 1, column: start + 1 }, says, "Write WEBVTT alone on line 1, then a blank line.");
  }
  checkNulls(report);
  const last = report.file.blocks.at(-1);
  if (last === undefined || isLineEnd(text.charCodeAt(text.length - 1))) return;
  tell(report, "last-line-end", endOf(text), "The last line is not ended.", "End the file with a line end.");
}

/** The place after the last character. */
function endOf(text: string): Mark {
  const lines = lineReader(text, 0);
  while (readLine(lines));
  return { line: Math.max(lines.line, 1), column: lines.to - lines.from + 1 };
}

function checkHeader(report: Report): void {
  const { text, header } = report.file;
  if (header.title.includes(ARROW)) {
    const says = `Line 1 is never read as a cue: ${quote(header.title)} is lost.`;
    tell(
      report,
      "header-content",
      { line: 1, column: 8 },
      says,
      "Begin the cue on a line of its own, after a blank line.",
    );
  }
  if (!isLineEnd(text.charCodeAt(header.from))) {
    const mark = header.from === lineEnd(text, 0) ? endOf(text) : { line: 2, column: 1 };
    const says = "No blank line follows line 1: lines up to the next blank line are passed over.";
    tell(report, "header-blank-line", mark, says, "Put a blank line after line 1.");
  }
  const lines = lineReader(text.slice(0, header.to), header.from);
  while (readLine(lines)) {
    const heading = headingOf(text, lines.from, lines.to);
    if (heading === undefined) continue;
    const says = `This ${heading} block is passed over, because it belongs to the header.`;
    tell(report, "header-content", { line: lines.line + 1, column: 1 }, says, "Put a blank line after line 1.");
  }
}

/** One finding a line. */
function checkNulls(report: Report): void {
  const { text } = report.file;
  if (!text.includes("\0")) return;
  const lines = lineReader(text, 0);
  while (readLine(lines)) {
    const at = text.slice(lines.from, lines.to).indexOf("\0");
    if (at < 0) continue;
    const mark = { line: lines.line, column: at + 1 };
    tell(report, "null-character", mark, "A parser turns U+0000 into U+FFFD.", "Take the character out.");
  }
}

/** What a block must be, and how it is parted from the block above it. */
export function checkBlock(report: Report, block: Block, above: Block | undefined): void {
  if (block.kind === "lost") checkLost(report, block, above);
  if (block.kind === "region") checkRegion(report, block);
  if (block.kind !== "cue") return;
  const line = block.timings === block.from ? block.line : block.line - 1;
  const mark = { line, column: 1, seconds: block.startTime };
  const joined = above !== undefined && !followsBlank(report.file.text, block.from);
  if (isNote(block.id, 0, block.id.length)) {
    const says = "A comment can't hold a cue: NOTE is read as its identifier, and its words are shown.";
    tell(report, "note-arrow", mark, says, "Delete the cue, or put a blank line after NOTE to keep it.");
  } else if (joined && above.kind === "note") {
    const says = `The comment above ends here, because this line has ${ARROW}: the cue is shown.`;
    tell(report, "note-arrow", mark, says, "Put a blank line before the cue to keep it, or delete it.");
  } else if (joined) {
    const says = "No blank line stands before this cue: the line above it, if it is an identifier, is read as words.";
    tell(report, "block-blank-line", mark, says, "Put a blank line before the cue.");
  }
}

function checkLost(report: Report, block: Lost, above: Block | undefined): void {
  const { text } = report.file;
  const headTo = lineEnd(text, block.from);
  const mark = { line: block.line, column: 1 };
  const joined = above !== undefined && !followsBlank(text, block.from) ? above.kind : null;
  const heading = headingOf(text, block.from, headTo);
  if (block.timings !== null) {
    const arrow = arrowOf(text, block, block.timings);
    if (isNote(text, block.from, headTo) || joined === "note") {
      tell(report, "note-arrow", arrow, `A comment can't hold ${ARROW}.`, `Write -- > or a word for ${ARROW}.`);
    } else if (joined === "style" || joined === "region" || heading !== undefined) {
      const says = `A block ends at ${ARROW}: what follows is lost.`;
      tell(report, "block-arrow", arrow, says, `Take ${ARROW} out of the block.`);
    } else if (joined === "cue") {
      const says = `A cue ends at a line with ${ARROW}: ${quote(text.slice(block.timings, block.to))} is lost.`;
      tell(report, "arrow-in-words", arrow, says, "Write --&gt; in the words of a cue.");
    } else checkUnreadable(report, arrow.line, block.timings);
  } else if (text.slice(block.from, block.to).trim() === "") {
    tell(report, "spaces-outside-cue", mark, "This line is not blank: it has spaces.", "Empty the line.");
  } else if (heading !== undefined) checkDroppedBlock(report, block, heading, block.to > headTo);
  else if (/^(?:STYLE|REGION)[ \t]/.test(text.slice(block.from, headTo))) {
    const says = `${quote(text.slice(block.from, headTo))} heads no block, because something follows the word: it is lost.`;
    tell(report, "block-heading", mark, says, "Write STYLE or REGION alone on its line.");
  } else {
    const says = `These words are in no cue, and lost: ${quote(text.slice(block.from, block.to))}.`;
    tell(
      report,
      "words-outside-cue",
      mark,
      says,
      "Put a timing line above them, or join them to the cue above, or write NOTE before them.",
    );
  }
}

/** A STYLE or REGION block that is well headed and yet not taken. */
function checkDroppedBlock(report: Report, block: Lost, heading: string, hasBody: boolean): void {
  const mark = { line: block.line, column: 1 };
  if (report.latest !== null) {
    const says = `This ${heading} block is dropped: it stands after the first cue.`;
    tell(report, "block-late", mark, says, "Move it above the first cue.");
  } else if (heading === "REGION" && !hasBody) {
    tell(report, "region-id", mark, "This region has no id.", "Write id: and a name on the next line.");
  }
}

/** Where the arrow stands that ended, or spoilt, a block. */
function arrowOf(text: string, { from, line }: Lost, timings: number): Mark {
  return { line: timings === from ? line : line + 1, column: text.indexOf(ARROW, timings) - timings + 1 };
}

/** Times that can't be read, on `line`, which starts at `from`. */
function checkUnreadable(report: Report, line: number, from: number): void {
  const { text } = report.file;
  const to = lineEnd(text, from);
  const timings = emptyTimings();
  readTimings(text, from, to, timings);
  const at = timings.stopped;
  const says = `The times can't be read from ${quote(text.slice(at, to))} on: the cue and its words are lost.`;
  const mend =
    text[at] === ","
      ? "Write a full stop before the milliseconds: 00:00:01.000."
      : "Write both times as 00:00:01.000 --> 00:00:02.000, with minutes and seconds below 60.";
  tell(report, "time-unreadable", { line, column: at - from + 1 }, says, mend);
}
