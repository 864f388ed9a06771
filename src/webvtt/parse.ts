import { BOM, isNormal, isSpace, normalise, SPACE, TAB } from "./characters.ts";
import type { Block, Cue, Header, Lost, Note, Region, Style, VttFile } from "./file.ts";
import { type LineReader, lineReader, readLine } from "./lines.ts";
import { parseRegion } from "./region.ts";
import { type CueSettings, DEFAULT_SETTINGS, parseSettings, splitSettings } from "./settings.ts";
import { emptyTimings, readTimings, type Timings } from "./timings.ts";

const SIGNATURE = "WEBVTT";

/** What the parser carries from block to block. */
interface Progress {
  readonly lines: LineReader;
  /** Whether the text has nothing to normalise: then the many small pieces need not be looked through. */
  readonly isNormal: boolean;
  readonly blocks: Block[];
  readonly cues: Cue[];
  readonly styles: Style[];
  readonly regions: Region[];
  readonly regionIds: Set<string>;
  readonly timings: Timings;
  /** The settings already read, by their words: most cues of a file share a few. */
  readonly settings: Map<string, CueSettings>;
}

/**
 * The WebVTT parser algorithm (WebVTT §6.1), whole. Never throws; reads every character once.
 * @param text the decoded file; one byte order mark may lead it, and is kept in `VttFile.text`.
 */
export function parseVtt(text: string): VttFile {
  const start = text.charCodeAt(0) === BOM ? 1 : 0;
  const lines = lineReader(text, start);
  const [blocks, cues, styles, regions]: [Block[], Cue[], Style[], Region[]] = [[], [], [], []];
  readLine(lines);
  const accepted = hasSignature(text, start, lines.to);
  const header = accepted ? readHeader(lines, start) : { title: "", from: start, to: start };
  if (accepted) {
    const progress: Progress = {
      lines,
      isNormal: isNormal(text),
      blocks,
      cues,
      styles,
      regions,
      regionIds: new Set(),
      timings: emptyTimings(),
      settings: new Map(),
    };
    while (!lines.done) {
      if (lines.from === lines.to) readLine(lines);
      else blocks.push(readBlock(progress));
    }
  }
  return { text, accepted, header, blocks, cues, styles, regions };
}

function hasSignature(text: string, from: number, to: number): boolean {
  if (!text.startsWith(SIGNATURE, from)) return false;
  const after = from + SIGNATURE.length;
  return after === to || text.charCodeAt(after) === SPACE || text.charCodeAt(after) === TAB;
}

/** From line 1 to the first line that the block loop shall see. */
function readHeader(lines: LineReader, start: number): Header {
  const title = normalise(lines.text.slice(start + SIGNATURE.length, lines.to)).slice(1);
  const from = lines.next;
  const to = passText(lines, from);
  return { title, from, to };
}

/**
 * Moves on until the current line is blank, holds `-->` or is past the end.
 * @returns the end of the last line passed, or `end` when it passed none.
 */
function passText(lines: LineReader, end: number): number {
  let last = end;
  while (readLine(lines) && lines.to > lines.from && !lines.arrow) last = lines.to;
  return last;
}

/** "Collect a WebVTT block" (WebVTT §6.1); the current line is its first, afterwards the first that is not its own. */
function readBlock(progress: Progress): Block {
  const { lines } = progress;
  const { text, from, to: headTo, line } = lines;
  if (lines.arrow) return readCue(progress, from, from);
  if (!readLine(lines) || lines.to === lines.from) return quietBlock(text, from, headTo, headTo, line);
  if (lines.arrow) return readCue(progress, from, headTo);
  const body = lines.from;
  const to = passText(lines, lines.to);
  if (progress.cues.length === 0) {
    if (isHeading(text, from, headTo, "STYLE")) return takeStyle(progress, { from, to, line, body });
    if (isHeading(text, from, headTo, "REGION")) return takeRegion(progress, { from, to, line, body });
  }
  return quietBlock(text, from, headTo, to, line);
}

/** Whether a line is `heading` and nothing else but ASCII whitespace (WebVTT §6.1). */
export function isHeading(text: string, from: number, to: number, heading: string): boolean {
  if (!text.startsWith(heading, from)) return false;
  for (let at = from + heading.length; at < to; at++) if (!isSpace(text.charCodeAt(at))) return false;
  return true;
}

interface Bounds {
  readonly from: number;
  readonly to: number;
  readonly line: number;
  readonly body: number;
}

function takeStyle({ lines, styles }: Progress, { from, to, line, body }: Bounds): Style {
  const style: Style = { kind: "style", from, to, line, css: normalise(lines.text.slice(body, to)) };
  styles.push(style);
  return style;
}

function takeRegion({ lines, regions, regionIds }: Progress, { from, to, line, body }: Bounds): Region {
  const region: Region = { kind: "region", from, to, line, ...parseRegion(splitSettings(lines.text, body, to)) };
  regions.push(region);
  regionIds.add(region.id);
  return region;
}

/** A block that yields nothing: a NOTE (WebVTT §4.1), or lines without timings. */
function quietBlock(text: string, from: number, headTo: number, to: number, line: number): Note | Lost {
  if (!isNote(text, from, headTo)) return { kind: "lost", from, to, line, timings: null };
  return { kind: "note", from, to, line, words: normalise(text.slice(from + "NOTE".length, to)).trim() };
}

/** Whether a line opens a comment: `NOTE`, alone or before a space or a tab (WebVTT §4.1). */
export function isNote(text: string, from: number, to: number): boolean {
  if (!text.startsWith("NOTE", from)) return false;
  const after = from + "NOTE".length;
  return after === to || text.charCodeAt(after) === SPACE || text.charCodeAt(after) === TAB;
}

const words = ({ lines, isNormal }: Progress, from: number, to: number): string =>
  isNormal ? lines.text.slice(from, to) : normalise(lines.text.slice(from, to));

/** The current line holds `-->`; the id, if any, is [from, idTo). */
function readCue(progress: Progress, from: number, idTo: number): Cue | Lost {
  const { lines, timings } = progress;
  const { text, from: timingFrom, to: timingTo, line, next: payload } = lines;
  const readable = readTimings(text, timingFrom, timingTo, timings);
  const settings = readable ? readSettings(progress, timings.endTo, timingTo) : DEFAULT_SETTINGS;
  const to = passText(lines, payload);
  if (!readable) {
    const last = to === payload ? timingTo : to;
    return { kind: "lost", from, to: last, line: from === timingFrom ? line : line - 1, timings: timingFrom };
  }
  const cue: Cue = {
    kind: "cue",
    id: words(progress, from, idTo),
    startTime: timings.start,
    endTime: timings.end,
    settings,
    text: words(progress, payload, to),
    line,
    from,
    to,
    timings: timingFrom,
    payload,
  };
  progress.cues.push(cue);
  return cue;
}

/** Enough for the ways that a station places its captions; a file where each cue differs is not remembered whole. */
const SETTINGS_KEPT = 1000;

/** Regions stand before the first cue that is taken, so the same words always mean the same settings. */
function readSettings({ lines, settings, regionIds }: Progress, from: number, to: number): CueSettings {
  if (from === to) return DEFAULT_SETTINGS;
  const text = lines.text.slice(from, to);
  const known = settings.get(text);
  if (known !== undefined) return known;
  const read = parseSettings(splitSettings(text, 0, text.length), regionIds);
  if (settings.size < SETTINGS_KEPT) settings.set(text, read);
  return read;
}
