import { type FrameRate, parseTimecode } from "../../model/timecode.ts";

const CLOCK = /^(-?)(?:(\d+):)?(\d+):(\d{1,2})(?:[.,](\d+))?$/;

/**
 * A clock time as programs and people write it, in whole milliseconds: `1:02`, `01:02:03`, `0:00:01.5`, `00:00:01,250`,
 * `-0:01`, with frames `00:00:01:12` or `00:00:01;12`. Null for what is none, also for minutes and seconds past 59.
 * @param rate how many frames a second of timecode has.
 */
export function readClock(text: string, rate: FrameRate = 25): number | null {
  const [whole, sign, hours, minutes = "", seconds = "", decimals = ""] = CLOCK.exec(text.trim()) ?? [];
  if (whole === undefined) return parseTimecode(text.trim(), rate);
  if (Number(seconds) > 59 || (hours !== undefined && Number(minutes) > 59)) return null;
  const ms = (Number(hours ?? 0) * 3600 + Number(minutes) * 60 + Number(seconds)) * 1000;
  const all = ms + Math.round(Number(`0.${decimals === "" ? "0" : decimals}`) * 1000);
  return sign === "-" ? -all : all;
}

/** Words a minute that a programme as a whole may have, music and pauses counted. Common practice, no source. */
const [SLOWEST, FASTEST] = [15, 450];

/**
 * Milliseconds in one unit of the times of a text. Fractions speak for seconds; so does, or does not, the pace of the
 * whole. @param times in the order of the text. @param words how many words it has.
 */
export function unitOf(times: readonly number[], words: number): { readonly unit: 1 | 1000; readonly isSure: boolean } {
  const span = Math.max(0, ...times.slice(-2)) - Math.min(...times.slice(0, 1), 0);
  if (span <= 0) return { unit: 1000, isSure: false };
  const pace = (words / span) * 60;
  /** How far a pace is from any that speech has: 0 when it is one, else a factor's logarithm. */
  const farOff = (one: number) => Math.max(0, Math.log(SLOWEST / one), Math.log(one / FASTEST));
  const [seconds, milliseconds] = [farOff(pace), farOff(pace * 1000)];
  const hasFractions = times.some((time) => !Number.isInteger(time));
  if (seconds === milliseconds) return { unit: hasFractions ? 1000 : 1, isSure: false };
  const unit = seconds < milliseconds ? 1000 : 1;
  return { unit, isSure: Math.min(seconds, milliseconds) === 0 && (unit === 1000 || !hasFractions) };
}
