import type { Timed } from "../../model/timeMap.ts";
import { toClock, toMedia } from "./playback.ts";

/** One peak of the outline lasts so long, in milliseconds. */
const WINDOW = 20;
/** A pause is looked for so far on both sides, in milliseconds. */
const REACH = 1500;

/**
 * The middle of the quietest 20 ms of the recording within 1.5 s of a moment, in whole milliseconds of the episode's clock;
 * of equally quiet ones the nearest. Null where the outline has nothing there.
 * @param peaks 50 a second of the recording.
 */
export function nearestPause(peaks: Uint8Array, at: number, timed: Timed): number | null {
  const media = toMedia(at, timed);
  let best: { readonly level: number; readonly moment: number } | null = null;
  const last = Math.min(peaks.length - 1, Math.floor((media + REACH) / WINDOW));
  for (let n = Math.max(0, Math.floor((media - REACH) / WINDOW)); n <= last; n++) {
    const level = peaks[n] ?? 0;
    const moment = Math.round(toClock(n * WINDOW + WINDOW / 2, timed));
    // Behind a cut the recording goes on at once, and the episode much later.
    if (Math.abs(moment - at) > REACH) continue;
    const isNearer = best !== null && level === best.level && Math.abs(moment - at) < Math.abs(best.moment - at);
    if (best === null || level < best.level || isNearer) best = { level, moment };
  }
  return best?.moment ?? null;
}
