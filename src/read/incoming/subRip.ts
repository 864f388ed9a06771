import type { Finding } from "../../model/finding.ts";
import type { RawBlock, Unplaced } from "../../model/spoken.ts";
import type { Text } from "../text.ts";
import { asWords, lostWords, type Reading, tidyLines } from "./reading.ts";
import { readClock } from "./writtenTime.ts";

/** `00:01:02,345`, with any number of digits, a full stop for the comma, no hours or no decimals, as found in the wild. */
const TIME = "-?\\d+:\\d{1,2}(?::\\d{1,2})?(?:[,.]\\d+)?";
const ARROWED = new RegExp(`^\\s*(${TIME})\\s*-->\\s*(${TIME})(?=\\s|$)`);
/** SBV: `0:00:01.000,0:00:03.000` alone on its line. */
const COMMA = /^\s*(-?\d+:\d\d:\d\d\.\d{1,3}),(-?\d+:\d\d:\d\d\.\d{1,3})\s*$/;
const TAGS = /<\/?(?:[bius]|font)\b[^<>]*>|\{\\[^{}]*\}/gi;

export const looksSubRip = (text: string): boolean => /\d:\d\d(?:[,.]\d+)?[ \t]*-->[ \t]*-?\d/.test(text);
export const looksSbv = (text: string): boolean =>
  /^[ \t]*-?\d+:\d\d:\d\d\.\d{1,3},-?\d+:\d\d:\d\d\.\d{1,3}[ \t]*$/m.test(text);

/**
 * SubRip: no standard; a number, times with decimal commas, lines of words, a blank line. Common practice, no source.
 * Words after a blank line inside a cue belong to it still.
 */
export const parseSubRip = (source: Text): Reading => parseCues(source, (line) => line.includes("-->"), ARROWED);

/** SBV: no standard; two times with a comma between, lines of words, a blank line. Common practice, no source. */
export const parseSbv = (source: Text): Reading => parseCues(source, (line) => COMMA.test(line), COMMA);

/** Cues below a line with their times. @param isTiming whether a line is such a line; what can't be read of it is told. */
function parseCues(source: Text, isTiming: (line: string) => boolean, times: RegExp): Reading {
  const [rawBlocks, unplaced, findings]: [RawBlock[], Unplaced[], Finding[]] = [[], [], []];
  const lines = source.text.split("\n");
  const timings = lines.flatMap((line, n) => (isTiming(line) ? [n] : []));
  const wordsBetween = (from: number, to: number) =>
    tidyLines(lines.slice(from, to).flatMap((line) => line.replace(TAGS, "").split(/\[br\]/i)));
  const lose = (text: string, line: number) => {
    const at = { file: source.file, line: line + 1, column: 1 };
    unplaced.push({ text: asWords(text), at });
    findings.push(lostWords(at));
  };
  const before = wordsBetween(0, headOf(timings[0] ?? lines.length, lines));
  if (before !== "") lose(before, 0);
  timings.forEach((timing, n) => {
    const [, from = "", to = ""] = times.exec(lines[timing] ?? "") ?? [];
    const [start, end] = [readClock(from), readClock(to)];
    const text = wordsBetween(timing + 1, headOf(timings[n + 1] ?? lines.length, lines));
    if (start === null || end === null) lose(`${lines[timing]} ${text}`, timing);
    else if (text !== "") {
      rawBlocks.push({ start, end, voice: null, text, at: { file: source.file, line: timing + 1, column: 1 } });
    }
  });
  return { rawBlocks, unplaced, findings };
}

/** The line with the number of the cue whose times stand in line `timing`, or that line itself. */
const headOf = (timing: number, lines: readonly string[]): number =>
  timing < lines.length && /^\s*\d+\s*$/.test(lines[timing - 1] ?? "") ? timing - 1 : timing;
