import type { HeardWord } from "./recognise.ts";

/** A word of a lump, or what a program put there. */
export interface Token {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  /** A full stop comes after it. */
  readonly stop: boolean;
  /** The fault that it belongs to. */
  readonly fault?: string;
}
export interface Lump {
  readonly start: number;
  readonly end: number;
  readonly tokens: readonly Token[];
}

/** A gap after which a full stop is put, and how long lumps are: seconds. */
const [GAP, LEAST, MOST] = [0.27, 20, 30];

/** A recogniser's words in lumps of 20 to 30 seconds, which end in a pause where there is one. */
export function lumpsOf(words: readonly HeardWord[]): readonly Lump[] {
  const lumps: Token[][] = [];
  let open: Token[] = [];
  words.forEach(({ start, end, word }, n) => {
    const next = words[n + 1];
    const stop = next === undefined || next.start - end >= GAP;
    open.push({ start, end, text: word, stop });
    const from = open[0]?.start ?? start;
    const isLong = end - from >= LEAST;
    if (next === undefined || (isLong && stop) || next.end - from > MOST) {
      lumps.push(open);
      open = [];
    }
  });
  return lumps.map(lumpFrom);
}

export const lumpFrom = (tokens: readonly Token[]): Lump => ({
  start: tokens[0]?.start ?? 0,
  end: tokens.at(-1)?.end ?? 0,
  tokens,
});

/** Where a fault stands in a lump's line. */
export interface Mark {
  readonly fault: string;
  readonly start: number;
  readonly end: number;
}

/** A lump's line: capitals at the beginning and after full stops, and where the faults in it are. */
export function lineOf({ tokens }: Lump): { readonly text: string; readonly marks: readonly Mark[] } {
  let [text, opens] = ["", true];
  const marks: Mark[] = [];
  tokens.forEach((token, n) => {
    if (text !== "") text += " ";
    const start = text.length;
    const own = token.text === "i" || token.text.startsWith("i'") ? `I${token.text.slice(1)}` : token.text;
    text += opens ? own.charAt(0).toUpperCase() + own.slice(1) : own;
    const last = marks.at(-1);
    if (token.fault !== undefined) {
      if (last?.fault === token.fault && tokens[n - 1]?.fault === token.fault)
        marks[marks.length - 1] = { ...last, end: text.length };
      else marks.push({ fault: token.fault, start, end: text.length });
    }
    opens = token.stop || n === tokens.length - 1;
    if (opens && !/[.?!]$/.test(text)) text += ".";
  });
  return { text, marks };
}

const two = (value: number): string => String(value).padStart(2, "0");
const clock = (seconds: number): string => `${Math.floor(seconds / 60)}:${two(Math.floor(seconds) % 60)}`;
function stamp(seconds: number, point: string): string {
  const ms = Math.round(seconds * 1000);
  const whole = Math.floor(ms / 1000);
  const [hours, minutes] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60];
  return `${two(hours)}:${two(minutes)}:${two(whole % 60)}${point}${String(ms % 1000).padStart(3, "0")}`;
}

/** Lumps in lines that begin with `[m:ss]`. Lump n stands in line 2n + 1. */
export const textOf = (lumps: readonly Lump[]): string =>
  lumps.map((lump) => `[${clock(lump.start)}] ${lineOf(lump).text}\n`).join("\n");

/** How far a lump's words stand from the beginning of its line in `textOf`. */
export const indentOf = (lump: Lump): number => clock(lump.start).length + 3;

/** The same as WebVTT cues. Lump n stands in line 3n + 4. */
export const vttOf = (lumps: readonly Lump[]): string =>
  `WEBVTT\n\n${lumps.map((lump) => `${stamp(lump.start, ".")} --> ${stamp(lump.end, ".")}\n${lineOf(lump).text}\n`).join("\n")}`;

/** The same as SubRip cues. */
export const srtOf = (lumps: readonly Lump[]): string =>
  lumps
    .map((lump, n) => `${n + 1}\n${stamp(lump.start, ",")} --> ${stamp(lump.end, ",")}\n${lineOf(lump).text}\n`)
    .join("\n");
