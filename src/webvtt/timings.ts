import { ARROW, normalise, skipSpace } from "./characters.ts";
import type { Cue, VttFile } from "./file.ts";
import { lineEnd } from "./lines.ts";
import { type CueSetting, splitSettings } from "./settings.ts";
import { readTimestamp, type Timestamp } from "./timestamp.ts";

/** The parts of a timing line; the caller owns it and may use it again. Offsets count UTF-16 units. */
export interface Timings {
  /** The start timestamp, in seconds and as a span. */
  start: number;
  startFrom: number;
  startTo: number;
  /** Where `-->` stands. */
  arrow: number;
  end: number;
  endFrom: number;
  endTo: number;
  /** Where reading stopped, when the line could not be read. */
  stopped: number;
  readonly stamp: Timestamp;
}

export function emptyTimings(): Timings {
  return {
    start: 0,
    startFrom: 0,
    startTo: 0,
    arrow: 0,
    end: 0,
    endFrom: 0,
    endTo: 0,
    stopped: 0,
    stamp: { seconds: 0, end: 0 },
  };
}

/**
 * "Collect WebVTT cue timings" (WebVTT §6.3, without the settings, which start at `endTo`) from the line [from, to).
 * @returns false when a parser drops the cue.
 */
export function readTimings(text: string, from: number, to: number, into: Timings): boolean {
  const { stamp } = into;
  into.startFrom = skipSpace(text, from, to);
  if (!readTimestamp(text, into.startFrom, to, stamp)) return stop(into, stamp.end);
  into.start = stamp.seconds;
  into.startTo = stamp.end;
  into.arrow = skipSpace(text, into.startTo, to);
  if (!text.startsWith(ARROW, into.arrow)) return stop(into, into.arrow);
  into.endFrom = skipSpace(text, into.arrow + ARROW.length, to);
  if (!readTimestamp(text, into.endFrom, to, stamp)) return stop(into, stamp.end);
  into.end = stamp.seconds;
  into.endTo = stamp.end;
  return true;
}

function stop(into: Timings, at: number): false {
  into.stopped = at;
  return false;
}

/** The timing line of a cue, read again for its positions. */
export function timingsOf({ text }: VttFile, cue: Cue): Timings {
  const timings = emptyTimings();
  readTimings(text, cue.timings, lineEnd(text, cue.timings), timings);
  return timings;
}

/** The settings of a cue as written, good and bad, with their places; they stand on line `cue.line`. */
export function settingsOf(file: VttFile, cue: Cue): readonly CueSetting[] {
  return splitSettings(file.text, timingsOf(file, cue).endTo, lineEnd(file.text, cue.timings));
}

/** The settings of a cue as written, on one line with single spaces: `align:start line:0`; "" when there are none. */
export function settingsText(file: VttFile, cue: Cue): string {
  return settingsOf(file, cue)
    .map(({ from, to }) => normalise(file.text.slice(from, to)))
    .join(" ");
}
