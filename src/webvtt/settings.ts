import { COLON, normalise, skipSpace, skipWord } from "./characters.ts";

export const VERTICALS = ["rl", "lr"] as const;
export const LINE_ALIGNS = ["start", "center", "end"] as const;
export const POSITION_ALIGNS = ["line-left", "center", "line-right"] as const;
export const ALIGNS = ["start", "center", "end", "left", "right"] as const;

/** Where and how a cue is shown: names, values and defaults of the VTTCue interface (WebVTT §9.1). */
export interface CueSettings {
  readonly vertical: "" | (typeof VERTICALS)[number];
  readonly snapToLines: boolean;
  /** A line number when `snapToLines`, else a percentage. */
  readonly line: number | "auto";
  readonly lineAlign: (typeof LINE_ALIGNS)[number];
  /** A percentage. */
  readonly position: number | "auto";
  readonly positionAlign: "auto" | (typeof POSITION_ALIGNS)[number];
  /** A percentage. */
  readonly size: number;
  readonly align: (typeof ALIGNS)[number];
  /** The id of a region that stands above the cue; null: none. */
  readonly region: string | null;
}

/** What a cue without settings has (WebVTT §6.1, "cue creation"). Shared by all such cues. */
export const DEFAULT_SETTINGS: CueSettings = Object.freeze({
  vertical: "",
  snapToLines: true,
  line: "auto",
  lineAlign: "start",
  position: "auto",
  positionAlign: "auto",
  size: 100,
  align: "center",
  region: null,
});

/** One word of a settings list, cut at its first colon. Offsets count UTF-16 units. */
export interface CueSetting {
  readonly from: number;
  readonly to: number;
  /** "" when there is no colon, or nothing before or after it: a parser skips such a word. */
  readonly name: string;
  readonly value: string;
}

/** The words of [from, to), split on ASCII whitespace and then at the first colon (WebVTT §6.2 and §6.3). */
export function splitSettings(text: string, from: number, to: number): readonly CueSetting[] {
  const found: CueSetting[] = [];
  let at = skipSpace(text, from, to);
  while (at < to) {
    const end = skipWord(text, at, to);
    let colon = at;
    while (colon < end && text.charCodeAt(colon) !== COLON) colon++;
    const whole = colon > at && colon < end - 1;
    found.push({
      from: at,
      to: end,
      name: whole ? normalise(text.slice(at, colon)) : "",
      value: whole ? normalise(text.slice(colon + 1, end)) : "",
    });
    at = skipSpace(text, end, to);
  }
  return found;
}

type Changeable = { -readonly [K in keyof CueSettings]: CueSettings[K] };

/**
 * "Parse the WebVTT cue settings" (WebVTT §6.3). A setting that can't be taken is left out alone; of two, the later
 * counts; a vertical, a line or a size takes the cue out of the region named before it.
 */
export function parseSettings(settings: readonly CueSetting[], regionIds: ReadonlySet<string>): CueSettings {
  const cue: Changeable = { ...DEFAULT_SETTINGS };
  for (const { name, value } of settings) {
    switch (name) {
      case "region":
        cue.region = regionIds.has(value) ? value : null;
        break;
      case "vertical":
        cue.vertical = oneOf(VERTICALS, value) ?? cue.vertical;
        if (cue.vertical !== "") cue.region = null;
        break;
      case "line":
        takeLine(cue, value);
        break;
      case "position":
        takePosition(cue, value);
        break;
      case "size":
        cue.size = parsePercentage(value) ?? cue.size;
        if (parsePercentage(value) !== null && cue.size !== 100) cue.region = null;
        break;
      case "align":
        cue.align = oneOf(ALIGNS, value) ?? cue.align;
        break;
    }
  }
  return cue;
}

function takeLine(cue: Changeable, value: string): void {
  const [offset, alignment] = cutAtComma(value);
  const percentage = offset.endsWith("%");
  const line = percentage ? parsePercentage(offset) : parseLineNumber(offset);
  const lineAlign = alignment === null ? cue.lineAlign : oneOf(LINE_ALIGNS, alignment);
  if (line === null || lineAlign === null) return;
  Object.assign(cue, { line, lineAlign, snapToLines: !percentage, region: null });
}

function takePosition(cue: Changeable, value: string): void {
  const [offset, alignment] = cutAtComma(value);
  const position = parsePercentage(offset);
  const positionAlign = alignment === null ? cue.positionAlign : oneOf(POSITION_ALIGNS, alignment);
  if (position === null || positionAlign === null) return;
  Object.assign(cue, { position, positionAlign });
}

/** `value` when it is one of `words`, in the same case; else null. */
export function oneOf<W extends string>(words: readonly W[], value: string): W | null {
  return words.find((word) => word === value) ?? null;
}

/** Cuts at the first comma; the second half is null when there is none. */
export function cutAtComma(value: string): readonly [string, string | null] {
  const comma = value.indexOf(",");
  return comma < 0 ? [value, null] : [value.slice(0, comma), value.slice(comma + 1)];
}

/** "Parse a percentage string" (WebVTT §6.2): `50%`, `035.50%`; null outside 0 to 100 and for any other shape. */
export function parsePercentage(text: string): number | null {
  if (!/^\d+(?:\.\d+)?%$/.test(text)) return null;
  const percentage = Number(text.slice(0, -1));
  return percentage <= 100 ? percentage : null;
}

/** A line offset that is no percentage, as far as a parser takes it (WebVTT §6.3): also `1.5` and `-0`. */
function parseLineNumber(text: string): number | null {
  if (!/^-?\d+(?:\.\d+)?$/.test(text)) return null;
  const line = Number(text) + 0; // never -0, which the rules for parsing floating-point numbers of HTML leave out
  return Number.isFinite(line) ? line : null;
}
