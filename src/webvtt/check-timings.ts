import { ARROW } from "./characters.ts";
import { checkSettings } from "./check-settings.ts";
import type { Cue } from "./file.ts";
import { type Mark, placeIn, quote, type Report, tell } from "./report.ts";
import { CONFORMING_TIMESTAMP } from "./timestamp.ts";
import { timingsOf } from "./timings.ts";

/** An identifier is given once in a file (WebVTT §4.1). */
export function checkIdentifier(report: Report, cue: Cue): void {
  if (cue.id === "") return;
  const mark = { line: cue.line - 1, column: 1, seconds: cue.startTime };
  const first = report.ids.get(cue.id);
  if (first === undefined) report.ids.set(cue.id, placeIn(report, mark));
  else
    tell(report, "id-twice", mark, `Two cues are called ${quote(cue.id)}.`, "Give each cue its own identifier.", first);
}

/** The timing line of a cue, settings included (WebVTT §4.1). */
export function checkTimings(report: Report, cue: Cue): void {
  const { startFrom, startTo, arrow, endFrom, endTo } = timingsOf(report.file, cue);
  const mark = (at: number): Mark => ({ line: cue.line, column: at - cue.timings + 1, seconds: cue.startTime });
  if (startFrom > cue.timings) {
    tell(report, "time-spacing", mark(cue.timings), "Space stands before the start time.", "Take it out.");
  }
  checkHours(report, startFrom, startTo, mark);
  checkGap(report, startTo, arrow, mark);
  checkGap(report, arrow + ARROW.length, endFrom, mark);
  checkHours(report, endFrom, endTo, mark);
  checkTimes(report, cue, mark(startFrom), mark(endFrom));
  checkSettings(report, cue, endTo);
}

function checkHours(report: Report, from: number, to: number, mark: (at: number) => Mark): void {
  const written = report.file.text.slice(from, to);
  if (CONFORMING_TIMESTAMP.test(written)) return;
  tell(report, "time-hours", mark(from), `The hours of ${written} have one digit.`, `Write 0${written}.`);
}

function checkGap(report: Report, from: number, to: number, mark: (at: number) => Mark): void {
  if (/^[ \t]+$/.test(report.file.text.slice(from, to))) return;
  tell(
    report,
    "time-spacing",
    mark(from),
    `Spaces must stand on both sides of ${ARROW}.`,
    "Put one space on each side.",
  );
}

function checkTimes(report: Report, cue: Cue, start: Mark, end: Mark): void {
  if (cue.endTime <= cue.startTime) {
    const says = "This cue does not end after it starts: it is never shown.";
    tell(report, "time-empty", end, says, "Give it an end time after its start time.");
  }
  const { latest } = report;
  if (latest === null || cue.startTime >= latest.startTime) {
    report.latest = cue;
    return;
  }
  const says = `This cue starts before the one on line ${latest.line}, which stands above it.`;
  const see = placeIn(report, { line: latest.line, column: 1 });
  tell(report, "time-order", start, says, "Put the cues in the order of their start times.", see);
}
