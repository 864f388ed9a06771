import { seeCues } from "../actions/cues.ts";
import { CALLED } from "../actions/recognisedText.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { decodeForeign } from "../read/incoming/decode.ts";
import { notTextFault } from "../read/incoming/notText.ts";
import { formatOf } from "../read/incoming/transcript.ts";
import {
  type Cue,
  formatTimestamp,
  isWritableMs,
  type Region,
  type VttFile,
  type VttKind,
  wholeMs,
} from "../webvtt/index.ts";

/** The outside world of the command. */
export interface CuesIo {
  /** The bytes of a file; rejects when it can't be read. */
  read(path: string): Promise<Uint8Array>;
  /** Writes to standard output, with no line end of its own: a line of JSON may be longer than a string can be. */
  write(text: string): void;
  /** Writes a line to standard error. */
  err(line: string): void;
}

export interface CuesOptions {
  readonly json: boolean;
  /** What the files are for, which decides what their cues may hold; captions unless given. */
  readonly kind?: VttKind;
}

/**
 * `afterair cues`: WebVTT files as the standard's parser sees them, and their faults.
 * @returns the exit code: 2 when a file could not be read, else 1 when a parser must reject one or loses something of it, else 0.
 */
export async function cues(files: readonly string[], options: CuesOptions, io: CuesIo): Promise<0 | 1 | 2> {
  let code: 0 | 1 | 2 = 0;
  for (const path of files) {
    const bytes = await io.read(path).catch((error: unknown) => {
      io.err(`${path}: can't be read: ${error instanceof Error ? error.message : String(error)}`);
      return null;
    });
    if (bytes === null) {
      code = 2;
      continue;
    }
    const fault = await notTextFault(bytes, false);
    if (fault !== null) {
      io.err(`${path}: ${fault}`);
      code = 2;
      continue;
    }
    const { file, problems } = seeCues(bytes, path, options.kind);
    if (options.json) writeJson(path, file, problems, io);
    else writeTable(path, file, problems, io);
    if (file.accepted && !problems.some(blocks)) continue;
    const format = file.accepted ? "WebVTT" : formatOf(decodeForeign({ file: path, bytes }).text);
    if (format !== "WebVTT" && format !== "plain text")
      io.err(`${path}: This is ${CALLED[format]}; \`afterair new --transcript\` reads it.`);
    if (code === 0) code = 1;
  }
  return code;
}

/** One object on one line. */
function writeJson(path: string, file: VttFile, problems: readonly Finding[], io: CuesIo): void {
  io.write(`{"file":${JSON.stringify(path)}`);
  writeList("regions", file.regions, regionRecord, io);
  writeList("styles", file.styles, (style) => style.css, io);
  writeList("cues", file.cues, cueRecord, io);
  writeList("problems", problems, problemRecord, io);
  io.write("}\n");
}

const CHUNK = 65_536;

/** A key and its list, in pieces that stay small however long the list is. */
function writeList<T>(key: string, list: readonly T[], toRecord: (one: T) => unknown, io: CuesIo): void {
  let piece = `,${JSON.stringify(key)}:[`;
  list.forEach((one, n) => {
    piece += (n === 0 ? "" : ",") + JSON.stringify(toRecord(one));
    if (piece.length < CHUNK) return;
    io.write(piece);
    piece = "";
  });
  io.write(`${piece}]`);
}

/** The properties of VTTRegion (WebVTT §9.2). */
function regionRecord(region: Region): unknown {
  const { id, width, lines, regionAnchorX, regionAnchorY, viewportAnchorX, viewportAnchorY, scroll } = region;
  return { id, width, lines, regionAnchorX, regionAnchorY, viewportAnchorX, viewportAnchorY, scroll };
}

/** The properties of VTTCue (WebVTT §9.1). `line_number`: the line of the timings, from 1. */
function cueRecord({ id, startTime, endTime, text, settings, line: line_number }: Cue): unknown {
  const { vertical, snapToLines, line, lineAlign, position, positionAlign, size, align, region } = settings;
  return {
    id,
    startTime,
    endTime,
    text,
    vertical,
    snapToLines,
    line,
    lineAlign,
    position,
    positionAlign,
    size,
    align,
    region,
    line_number,
  };
}

function problemRecord({ at, level, rule, says, mend }: Finding): unknown {
  return { line: at.line, column: at.column, severity: level, rule, message: `${says} ${mend}` };
}

/** A row a cue, then a row a problem, for people. */
function writeTable(path: string, file: VttFile, problems: readonly Finding[], io: CuesIo): void {
  const count = (n: number, one: string): string => `${n} ${one}${n === 1 ? "" : "s"}`;
  const [cueCount, problemCount] = [count(file.cues.length, "cue"), count(problems.length, "problem")];
  io.write(`${path}: ${file.accepted ? cueCount : "not a WebVTT file"}, ${problemCount}\n`);
  for (const cue of file.cues) {
    const times = [cue.startTime, cue.endTime].map((seconds) => clockOf(seconds).padStart(12));
    const name = cue.id === "" ? "" : `[${cue.id}] `;
    io.write(`${String(cue.line).padStart(7)}  ${times.join(" ")}  ${name}${cue.text.replaceAll("\n", " / ")}\n`);
  }
  for (const { at, level, rule, says, mend } of problems) {
    io.write(`${path}:${at.line}:${at.column}: ${level} ${rule}: ${says} ${mend}\n`);
  }
}

/** A time as it may be written; one past all counting in seconds. */
function clockOf(seconds: number): string {
  const ms = wholeMs(seconds);
  return isWritableMs(ms) ? formatTimestamp(ms) : `${seconds} s`;
}
