import { parseClock } from "./clock.ts";

/** Frames a second of a programme's timecode, as programme.md names it. */
export type FrameRate = 25 | 29.97 | 30;

/** How labels count: `drop` leaves two labels out at most minutes, so that 29.97 keeps to the clock. */
export type Counting = "drop" | "non-drop";

/** A rate as whole numbers: `count` labels to the second, a frame lasting `num / den` seconds. */
interface Rate {
  readonly count: number;
  readonly num: number;
  readonly den: number;
}

const RATES: Readonly<Record<FrameRate, Rate>> = {
  25: { count: 25, num: 1, den: 25 },
  29.97: { count: 30, num: 1001, den: 30_000 },
  30: { count: 30, num: 1, den: 30 },
};

/** Labels left out at the start of a minute, but not of every tenth (SMPTE ST 12-1). */
const DROPPED = 2;
const MINUTE = 30 * 60 - DROPPED;
const TEN_MINUTES = 30 * 600 - 9 * DROPPED;
const DROP_DAY = 144 * TEN_MINUTES;

/** A label taken apart. */
interface Label {
  readonly minutes: number;
  readonly seconds: number;
  readonly frames: number;
  readonly counting: Counting;
}

const LABEL = /^(\d{2}):([0-5]\d):([0-5]\d)([:;])(\d{2})$/;

/** `01:00:00;00` taken apart; null when it has not that form, or hours past 23. The semicolon is drop-frame by custom. */
function readLabel(text: string): Label | null {
  const [, hours, minutes, seconds, mark, frames] = LABEL.exec(text) ?? [];
  if (hours === undefined || Number(hours) > 23) return null;
  return {
    minutes: Number(hours) * 60 + Number(minutes),
    seconds: Number(seconds),
    frames: Number(frames),
    counting: mark === ";" ? "drop" : "non-drop",
  };
}

/** Whether a text has the form of a label, at whatever rate. */
export const isLabel = (text: string): boolean => readLabel(text) !== null;

/**
 * The number of a label's frame, counted from 0 at `00:00:00:00` (SMPTE ST 12-1). Whole numbers throughout: 29.97 as
 * a decimal drifts.
 * @returns null for what is no label at this rate: frames past the rate, hours past 23, a drop-frame label at a rate
 * that drops none, or one of the labels that drop-frame leaves out.
 */
export function frameOf(text: string, rate: FrameRate): number | null {
  const label = readLabel(text);
  const { count } = RATES[rate];
  if (label === null || label.frames >= count) return null;
  const frame = count * (label.minutes * 60 + label.seconds) + label.frames;
  if (label.counting === "non-drop") return frame;
  const isLeftOut = label.seconds === 0 && label.frames < DROPPED && label.minutes % 10 !== 0;
  if (rate !== 29.97 || isLeftOut) return null;
  return frame - DROPPED * (label.minutes - Math.floor(label.minutes / 10));
}

/** The label of a frame, the day starting again at its end (SMPTE ST 12-1). `frame`: whole, 0 or more. */
export function labelOf(frame: number, rate: FrameRate, counting: Counting = "non-drop"): string {
  const { count } = RATES[rate];
  const isDrop = counting === "drop" && rate === 29.97;
  const n = isDrop ? withDropped(frame % DROP_DAY) : frame % (count * 86_400);
  const seconds = Math.floor(n / count);
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60].map(two);
  return `${h}:${m}:${s}${isDrop ? ";" : ":"}${two(n % count)}`;
}

/** A drop-frame day's frame, counted as if no label had been left out. */
function withDropped(frame: number): number {
  const [tens, rest] = [Math.floor(frame / TEN_MINUTES), frame % TEN_MINUTES];
  const minutes = rest < DROPPED ? 0 : Math.floor((rest - DROPPED) / MINUTE);
  return frame + DROPPED * (9 * tens + minutes);
}

const two = (n: number): string => String(n).padStart(2, "0");

/** When a frame begins, in whole milliseconds. */
export function frameToMs(frame: number, rate: FrameRate): number {
  const { num, den } = RATES[rate];
  return Math.round((frame * num * 1000) / den);
}

/** The frame that begins nearest to a moment in milliseconds. */
export function nearestFrame(ms: number, rate: FrameRate): number {
  const { num, den } = RATES[rate];
  return Math.round((ms * den) / (num * 1000));
}

/**
 * A written time in whole milliseconds: a label with frames (`00:13:20:00`, `00:13:20;00`), or a clock time
 * (`13:20`, `1:13:20.500`). Null when it is neither, and for a label where the rate is not
 * known.
 */
export function parseTimecode(text: string, rate: FrameRate | null): number | null {
  const frame = rate === null ? null : frameOf(text, rate);
  return frame === null || rate === null ? parseClock(text) : frameToMs(frame, rate);
}
