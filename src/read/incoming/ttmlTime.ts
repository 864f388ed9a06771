import { frameOf, frameToMs } from "../../model/timecode.ts";
import { readClock } from "./writtenTime.ts";

/** How a TTML document counts: its parameters on the root element (TTML2 §7.2). */
export interface TtmlClock {
  /** Frames a second, the multiplier counted in. */
  readonly rate: number;
  /** Frames that the label of a second has. */
  readonly labels: number;
  readonly subFrames: number;
  readonly ticks: number;
  /** Labels that count frames, and so run behind the clock where the rate is not whole (TTML2 §7.2.12). */
  readonly isSmpte: boolean;
  readonly isDrop: boolean;
}

type Parameters = Partial<
  Record<"frameRate" | "multiplier" | "subFrameRate" | "tickRate" | "timeBase" | "dropMode", string | undefined>
>;

/** The defaults are those of TTML2 §7.2: 30 frames, and a tick a second, or a frame where a rate is given. */
export function clockOf({ frameRate, multiplier, subFrameRate, tickRate, timeBase, dropMode }: Parameters): TtmlClock {
  const positive = (text: string | undefined): number | null => {
    const n = Number(text);
    return text !== undefined && Number.isFinite(n) && n > 0 ? n : null;
  };
  const labels = positive(frameRate) ?? 30;
  const [num, den] = (multiplier ?? "1 1")
    .trim()
    .split(/[\s:]+/)
    .map(positive);
  const rate = (labels * (num ?? 1)) / (den ?? 1);
  const subFrames = positive(subFrameRate) ?? 1;
  const ticks = positive(tickRate) ?? (positive(frameRate) === null ? 1 : rate * subFrames);
  return { rate, labels, subFrames, ticks, isSmpte: timeBase === "smpte", isDrop: dropMode === "dropNTSC" };
}

const CLOCK = /^(\d{2,}):([0-5]\d):([0-5]\d|60)(?:(\.\d+)|:(\d{2,})(?:\.(\d+))?)?$/;
const OFFSET = /^(\d+(?:\.\d+)?)(h|ms|m|s|f|t)$/;

/** A time expression (TTML2 §12.3.1) in whole milliseconds, or a clock time as others write it; null for what is none. */
export function readTtmlTime(written: string, clock: TtmlClock): number | null {
  const text = written.trim();
  const [, amount, metric] = OFFSET.exec(text) ?? [];
  if (amount !== undefined && metric !== undefined) return Math.round(Number(amount) * msOf(metric, clock));
  const [whole, hours, minutes, seconds, fraction = "0", frames, subFrames = "0"] = CLOCK.exec(text) ?? [];
  if (whole === undefined) return readClock(text.replace(",", "."));
  const all = Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds);
  if (frames === undefined) return Math.round((all + Number(fraction)) * 1000);
  if (clock.isDrop) {
    const frame = frameOf(`${hours}:${minutes}:${seconds};${frames}`, 29.97);
    return frame === null ? null : frameToMs(frame, 29.97);
  }
  const counted = Number(frames) + Number(subFrames) / clock.subFrames;
  if (counted >= clock.labels) return null;
  const ms = clock.isSmpte ? ((all * clock.labels + counted) / clock.rate) * 1000 : (all + counted / clock.rate) * 1000;
  return Math.round(ms);
}

/** Milliseconds of one of an offset's units. */
function msOf(metric: string, { rate, ticks }: TtmlClock): number {
  switch (metric) {
    case "h":
      return 3_600_000;
    case "m":
      return 60_000;
    case "s":
      return 1000;
    case "f":
      return 1000 / rate;
    case "t":
      return 1000 / ticks;
    default:
      return 1;
  }
}
