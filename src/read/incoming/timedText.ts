import type { Finding } from "../../model/finding.ts";
import type { RawBlock } from "../../model/spoken.ts";
import { findingAt } from "../findings.ts";
import type { Text } from "../text.ts";
import { blocksOf, type Reading, tidyLines } from "./reading.ts";
import { readClock } from "./writtenTime.ts";

const TIME = "-?\\d+:\\d\\d(?::\\d\\d)?(?:[.,:;]\\d+)?";
/** A time in brackets before words, or two of them. */
const BRACKETED = /^\s*[[(](-?[\d:.,;]+)(?:\s*(?:-->|-|–|—|to)\s*(-?[\d:.,;]+))?[\])]:?\s*/;
/** A time without brackets before words. */
const BARE = new RegExp(`^\\s*(${TIME})(?:\\s*(?:-->|-|–|—|to)\\s*(${TIME}))?(?:\\s*[-–—|]\\s+|:?\\s+|$)`);
/** Who speaks and since when, alone on a line: `Ilse Marrane 0:41`, `Speaker 1 (00:41)`. */
const HEAD = new RegExp(`^\\s*(\\p{Lu}[\\p{L}\\p{M}\\p{N} .'’_-]{0,60}?):?\\s+[[(]?(${TIME})[\\])]?:?\\s*$`, "u");

/** Whether a text times its paragraphs: `[0:21] The former treasurer`. */
export const looksTimed = (text: string): boolean =>
  /^[^\S\n]*[[(]\d+:\d\d(?::\d\d)?(?:[.,]\d+)?(?:\s*(?:-->|-|–|—|to)\s*\d[\d:.,]*)?[\])]/m.test(text) ||
  isTimedBare(text);

/** Fewer lines with a time, and they may be anything: a timetable, a score. */
const FEW = 2;

/** Whether lines begin with times without brackets, or end with them behind a name: several, and rising. */
function isTimedBare(text: string): boolean {
  const times = text.split("\n").flatMap((line) => {
    const found = BARE.exec(line)?.[1] ?? HEAD.exec(line)?.[2];
    const time = found === undefined ? null : readClock(found);
    return time === null ? [] : [time];
  });
  const rising = times.filter((time, n) => n === 0 || time >= (times[n - 1] ?? 0)).length;
  return (
    times.length >= FEW &&
    rising >= times.length * 0.8 &&
    blocksOf({ file: "", text, place: () => NOWHERE }).length <= times.length * 5
  );
}

const NOWHERE = { file: "", line: 1, column: 1 };

interface Stamp {
  readonly start: string;
  readonly end: string | undefined;
  /** Who speaks, as a label before the words; and the words on the stamp's own line. */
  readonly rest: string;
}

const withWords = (stamp: Stamp | null, rest: string): Stamp | null => (stamp === null ? null : { ...stamp, rest });

/** @param bare whether times may stand without brackets. */
function stampOf(line: string, bare: boolean): Stamp | null {
  const found = BRACKETED.exec(line) ?? (bare ? BARE.exec(line) : null);
  if (found !== null) return { start: found[1] ?? "", end: found[2], rest: line.slice(found[0].length) };
  const head = bare || /[[(]/.test(line) ? HEAD.exec(line) : null;
  return head === null ? null : { start: head[2] ?? "", end: undefined, rest: `${head[1]}:` };
}

/**
 * Paragraphs, each with a time before it, such as `[m:ss]` or `h:mm:ss`, or a name and a time above it; one without a
 * time goes on from the one before.
 */
export function parseTimedText(source: Text): Reading {
  const [rawBlocks, findings]: [RawBlock[], Finding[]] = [[], []];
  const bare = isTimedBare(source.text);
  // A time alone in its block is that of the words in the next one.
  let waiting: Stamp | null = null;
  for (const { from, lines } of blocksOf(source)) {
    let line = source.place(from).line;
    let open: { start: number | null; end: number | null; lines: string[]; line: number } | null = null;
    const close = () => {
      const text = tidyLines(open?.lines ?? []);
      if (open === null || text === "") return;
      const at = { file: source.file, line: open.line, column: 1 };
      rawBlocks.push({ start: open.start, end: open.end, voice: null, text, at });
    };
    for (const written of lines) {
      const above: Stamp | null = open === null ? waiting : null;
      const stamp: Stamp | null = stampOf(written, bare) ?? withWords(above, written);
      if (stamp !== null || open === null) {
        close();
        const start: number | null = stamp === null ? null : readClock(stamp.start);
        if (stamp !== null && start === null) findings.push(unreadable(source.file, line, stamp.start));
        const end: number | null = stamp?.end === undefined ? null : readClock(stamp.end);
        open = { start, end, lines: [stamp === null ? written : stamp.rest], line };
        waiting = null;
      } else {
        open.lines.push(written);
      }
      if (stamp !== null && stamp.rest.trim() === "" && lines.length === 1) waiting = stamp;
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
    text: tidyLines(lines),
    at: source.place(from),
  }));
  return { rawBlocks, unplaced: [], findings: [] };
}
