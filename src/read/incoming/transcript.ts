import type { Finding } from "../../model/finding.ts";
import type { RawBlock, Unplaced } from "../../model/spoken.ts";
import { findingAt } from "../findings.ts";
import type { Source } from "../source.ts";
import type { Text } from "../text.ts";
import { decodeForeign } from "./decode.ts";
import { mendTimes } from "./mendTimes.ts";
import type { RawFormat, Reading } from "./reading.ts";
import { parseSubRip } from "./subRip.ts";
import { looksTimed, parsePlainText, parseTimedText } from "./timedText.ts";
import { parseRawVtt } from "./webVtt.ts";
import { parseWordList } from "./wordList.ts";

/** A raw transcript: words in blocks, in the order in which they were said, with times that can be worked with. */
export interface RawTranscript {
  readonly format: RawFormat;
  readonly rawBlocks: readonly RawBlock[];
  readonly unplaced: readonly Unplaced[];
  readonly findings: readonly Finding[];
}

const READERS: Readonly<Record<RawFormat, (source: Text) => Reading>> = {
  WebVTT: parseRawVtt,
  SubRip: parseSubRip,
  "timed text": parseTimedText,
  "word list": parseWordList,
  "plain text": parsePlainText,
};

/** Which format a text is in: by what it holds, whatever its name. */
export function formatOf({ text }: Text): RawFormat {
  if (/^WEBVTT(?=[ \t\n]|$)/.test(text)) return "WebVTT";
  if (/^\s*[[{]\s*["{[\]}]/.test(text)) return "word list";
  if (/\d[,.]\d+\s*-->\s*-?\d/.test(text)) return "SubRip";
  return looksTimed(text) ? "timed text" : "plain text";
}

/** Reads a raw transcript in any of the formats. Nothing is lost: what has no place is in `unplaced`. */
export function parseRawTranscript(source: Source): RawTranscript {
  const { text, findings } = decodeForeign(source);
  const format = formatOf(text);
  const reading = READERS[format](text);
  const { rawBlocks, findings: ofTimes } = mendTimes(reading.rawBlocks, format !== "timed text");
  const all = [...findings, ...fewOfEach([...reading.findings, ...ofTimes])];
  if (rawBlocks.length === 0 && !all.some(({ level }) => level === "blocks")) {
    const at = { file: source.file, line: 1, column: 1 };
    all.push(
      findingAt(at, "blocks", "raw-empty", "There are no words in this file.", "Check that it is the right one."),
    );
  }
  return { format, rawBlocks, unplaced: reading.unplaced, findings: all };
}

/** A fault that runs through a file is told this often. */
const MOST = 20;

/** A rule's later findings as one: a transcript with every time wrong has thousands. */
function fewOfEach(findings: readonly Finding[]): readonly Finding[] {
  const told = new Map<string, number>();
  const kept: Finding[] = [];
  for (const finding of findings) {
    const times = (told.get(finding.rule) ?? 0) + 1;
    told.set(finding.rule, times);
    if (times <= MOST) kept.push(finding);
    if (times === MOST + 1) {
      const more = findings.filter(({ rule }) => rule === finding.rule).length - MOST;
      kept.push({ ...finding, says: `${finding.says} So it is ${more} times from here on.` });
    }
  }
  return kept;
}
