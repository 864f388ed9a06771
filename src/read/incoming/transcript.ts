import type { Finding } from "../../model/finding.ts";
import { MOST_WITHOUT_BLANK } from "../../model/limits.ts";
import type { RawBlock, Unplaced } from "../../model/spoken.ts";
import type { FrameRate } from "../../model/timecode.ts";
import { findingAt } from "../findings.ts";
import type { Source } from "../source.ts";
import type { Text } from "../text.ts";
import { decodeForeign } from "./decode.ts";
import { knownSpeakers } from "./labels.ts";
import { mendTimes } from "./mendTimes.ts";
import type { RawFormat, Reading } from "./reading.ts";
import { unrolled } from "./rolling.ts";
import { looksScenarist, parseScenarist } from "./scenarist.ts";
import { looksSbv, looksSubRip, parseSbv, parseSubRip } from "./subRip.ts";
import { looksSubStation, parseSubStation } from "./subStation.ts";
import { looksTable, parseTable } from "./table.ts";
import { looksTimed, parsePlainText, parseTimedText } from "./timedText.ts";
import { looksXml, parseTimedTextXml } from "./timedTextXml.ts";
import { intoTurns } from "./turns.ts";
import { parseRawVtt } from "./webVtt.ts";
import { looksJson, parseWordList } from "./wordList.ts";

/** What a file was taken for, to be told before anything else. */
export interface Recognised {
  readonly format: RawFormat;
  /** What its bytes were read as: `UTF-8`. */
  readonly encoding: string;
  readonly words: number;
  /** Runs of words with a beginning of their own in the file; `ended`: those with an end too. */
  readonly timed: number;
  readonly ended: number;
  /** Rolling captions that were joined with those before them. */
  readonly joined: number;
  /** Who speaks, in the order in which they are first heard. */
  readonly voices: readonly string[];
  /** Turns that begin with a dash or `>>` and no name. */
  readonly unnamedTurns: number;
}

/** A raw transcript: words in blocks, in the order in which they were said, with times that can be worked with. */
export interface RawTranscript extends Recognised {
  readonly rawBlocks: readonly RawBlock[];
  readonly unplaced: readonly Unplaced[];
  readonly findings: readonly Finding[];
}

export interface RawOptions {
  /** Names as the register spells them: labels before words take that spelling. */
  readonly names?: readonly string[];
  /** What the file was saved as; found out unless given. */
  readonly encoding?: string | null;
  /** Frames a second of the programme's timecode. */
  readonly frameRate?: FrameRate | null;
}

const READERS: Readonly<Record<RawFormat, (source: Text, rate: FrameRate) => Reading>> = {
  WebVTT: parseRawVtt,
  SubRip: parseSubRip,
  SBV: parseSbv,
  ASS: parseSubStation,
  TTML: parseTimedTextXml,
  SCC: parseScenarist,
  table: parseTable,
  "word list": parseWordList,
  "timed text": parseTimedText,
  "plain text": parsePlainText,
};

/** In this order: what says most clearly what it is comes first. */
const LOOKS: readonly (readonly [RawFormat, (text: string) => boolean])[] = [
  ["WebVTT", (text) => /^WEBVTT(?=[ \t\n]|$)/.test(text)],
  ["SCC", looksScenarist],
  ["TTML", looksXml],
  ["ASS", looksSubStation],
  ["word list", looksJson],
  ["SubRip", looksSubRip],
  ["SBV", looksSbv],
  ["table", looksTable],
  ["timed text", looksTimed],
];

/** Formats whose words come in captions, as they were shown. */
const CAPTIONS: ReadonlySet<RawFormat> = new Set(["WebVTT", "SubRip", "SBV", "ASS", "TTML", "SCC", "table"]);

/** Whether a format holds captions. */
export const holdsCaptions = (format: RawFormat): boolean => CAPTIONS.has(format) && format !== "table";

/** Which format a text is in: by what it holds, whatever its name. */
export const formatOf = ({ text }: Text): RawFormat => LOOKS.find(([, looks]) => looks(text))?.[0] ?? "plain text";

/** Reads a raw transcript in any of the formats. Nothing is lost: what has no place is in `unplaced`. */
export function parseRawTranscript(
  source: Source,
  { names = [], encoding: given = null, frameRate = null }: RawOptions = {},
): RawTranscript {
  const { text, encoding, findings } = decodeForeign(source, given);
  const format = formatOf(text);
  const reading = READERS[format](text, frameRate ?? 25);
  const { rawBlocks: once, joined } = CAPTIONS.has(format)
    ? unrolled(reading.rawBlocks)
    : { rawBlocks: reading.rawBlocks, joined: 0 };
  const { rawBlocks: voiced, voices, unnamedTurns } = intoTurns(once, knownSpeakers(names));
  const { rawBlocks, findings: ofTimes } = mendTimes(voiced, format !== "timed text");
  const at = { file: source.file, line: 1, column: 1 };
  const all = [...findings, ...fewOfEach([...reading.findings, ...ofTimes])];
  if (rawBlocks.length === 0 && !all.some(({ level }) => level === "blocks")) {
    all.push(
      findingAt(at, "blocks", "raw-empty", "There are no words in this file.", "Check that it is the right one."),
    );
  }
  const endless = rawBlocks.find((block) => block.text.split(" ").some(({ length }) => length > MOST_WITHOUT_BLANK));
  if (endless !== undefined) {
    const says = `Here more than ${MOST_WITHOUT_BLANK} characters stand without a blank between: nobody can read that.`;
    const mend = "Check that it is the right file, and that its words have blanks between them.";
    all.push(findingAt(endless.at, "blocks", "raw-word-endless", says, mend));
  }
  const words = rawBlocks.reduce((sum, block) => sum + block.text.split(" ").length, 0);
  const timed = once.filter(({ start }) => start !== null);
  const ended = timed.filter(({ end }) => end !== null).length;
  return {
    format,
    encoding,
    words,
    timed: timed.length,
    ended,
    joined,
    voices,
    unnamedTurns,
    rawBlocks,
    unplaced: reading.unplaced,
    findings: all,
  };
}

/** A fault that runs through a file is told this often. */
const MOST = 20;

/** A rule's later findings as one: a transcript with every time wrong has thousands. */
function fewOfEach(findings: readonly Finding[]): readonly Finding[] {
  const counts = new Map<string, number>();
  for (const { rule } of findings) counts.set(rule, (counts.get(rule) ?? 0) + 1);
  const told = new Map<string, number>();
  const kept: Finding[] = [];
  for (const finding of findings) {
    const times = (told.get(finding.rule) ?? 0) + 1;
    told.set(finding.rule, times);
    if (times <= MOST) kept.push(finding);
    if (times === MOST + 1) {
      const more = (counts.get(finding.rule) ?? 0) - MOST;
      kept.push({ ...finding, says: `${finding.says} So it is ${more} times from here on.` });
    }
  }
  return kept;
}
