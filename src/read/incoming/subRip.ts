import type { Finding } from "../../model/finding.ts";
import type { RawBlock, Unplaced } from "../../model/spoken.ts";
import { findingAt } from "../findings.ts";
import type { Text } from "../text.ts";
import { joined, type Reading } from "./reading.ts";

/** `00:01:02,345 --> 00:01:04,000`, with any number of digits and a full stop for the comma, as found in the wild. */
const TIMES = /^\s*(-?)(\d+):(\d{1,2}):(\d{1,2})[,.](\d{1,3})\s*-->\s*(-?)(\d+):(\d{1,2}):(\d{1,2})[,.](\d{1,3})/;
const TAGS = /<\/?(?:[biu]|font)\b[^<>]*>|\{\\[^{}]*\}/gi;

/**
 * SubRip: no standard; a number, times with decimal commas, lines of words, a blank line. Common practice, no source.
 * Words after a blank line inside a cue belong to it still.
 */
export function parseSubRip(source: Text): Reading {
  const [rawBlocks, unplaced, findings]: [RawBlock[], Unplaced[], Finding[]] = [[], [], []];
  const lines = source.text.split("\n");
  const timings = lines.flatMap((line, n) => (line.includes("-->") ? [n] : []));
  const wordsBetween = (from: number, to: number) => joined(lines.slice(from, to)).replace(TAGS, "").trim();
  const lose = (text: string, line: number) => {
    const at = { file: source.file, line: line + 1, column: 1 };
    unplaced.push({ text, at });
    findings.push(lost(at));
  };
  const before = wordsBetween(0, headOf(timings[0] ?? lines.length, lines));
  if (before !== "") lose(before, 0);
  timings.forEach((timing, n) => {
    const found = TIMES.exec(lines[timing] ?? "");
    const text = wordsBetween(timing + 1, headOf(timings[n + 1] ?? lines.length, lines));
    if (found === null) lose(`${lines[timing]} ${text}`.trim(), timing);
    else if (text !== "") {
      const at = { file: source.file, line: timing + 1, column: 1 };
      rawBlocks.push({ start: moment(found, 1), end: moment(found, 6), voice: null, text, at });
    }
  });
  return { rawBlocks, unplaced, findings };
}

/** The line with the number of the cue whose times stand in line `timing`, or that line itself. */
const headOf = (timing: number, lines: readonly string[]): number =>
  timing < lines.length && /^\s*\d+\s*$/.test(lines[timing - 1] ?? "") ? timing - 1 : timing;

/** Milliseconds of the timestamp whose sign is group `n`. */
function moment(found: RegExpExecArray, n: number): number {
  const [sign = "", hours, minutes, seconds, decimals = ""] = found.slice(n, n + 5);
  const whole = Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds);
  const ms = whole * 1000 + Number(decimals.padEnd(3, "0"));
  return sign === "-" ? -ms : ms;
}

const lost = (at: RawBlock["at"]): Finding =>
  findingAt(
    at,
    "warns",
    "raw-times-unreadable",
    "These lines have no times that can be read.",
    "They are kept in a note at the head of the transcript: put the words where they belong.",
  );
