import type { Cut, Episode } from "./episode.ts";
import { type ClockMs, clockMs, type MediaMs, mediaMs } from "./units.ts";

/** What the time map needs of an episode. */
export interface Timed extends Pick<Episode, "clock"> {
  readonly cuts: readonly Pick<Cut, "from" | "to">[];
}

/** The stretches missing from the media, in the episode's clock; none where that clock is the media's own. */
function missing({ clock, cuts }: Timed): Timed["cuts"] {
  return clock === "aired" ? cuts : [];
}

/**
 * A moment of the episode's clock in the media file; null inside a cut. A cut is half open: its first moment is gone,
 * the moment it ends is there. `cuts`: sorted, disjoint. Common practice, no source.
 */
export function toMedia(at: ClockMs, timed: Timed): MediaMs | null {
  let gone = 0;
  for (const { from, to } of missing(timed)) {
    if (at < from) break;
    if (at < to) return null;
    gone += to - from;
  }
  return mediaMs(at - gone);
}

/** The same, but a moment inside a cut maps to its edge: where the media goes on. */
export function toMediaEdge(at: ClockMs, timed: Timed): MediaMs {
  let gone = 0;
  for (const { from, to } of missing(timed)) {
    if (at <= from) break;
    gone += Math.min(at, to) - from;
  }
  return mediaMs(at - gone);
}

/** A moment of the media file in the episode's clock; at the seam of a cut, the moment after it. */
export function toEpisode(at: MediaMs, timed: Timed): ClockMs {
  let back: number = at;
  for (const { from, to } of missing(timed)) {
    if (back < from) break;
    back += to - from;
  }
  return clockMs(back);
}

/** A stretch of the media file, in milliseconds. `to` > `from`. */
export interface MediaSpan {
  readonly from: MediaMs;
  readonly to: MediaMs;
}

/**
 * What the media has of a stretch of the episode's clock: null where all of it was cut. A stretch with a cut inside is
 * one span, because the media runs on over the seam.
 */
export function mediaSpan(from: ClockMs, to: ClockMs, timed: Timed): MediaSpan | null {
  const [start, end] = [toMediaEdge(from, timed), toMediaEdge(to, timed)];
  return end > start ? { from: start, to: end } : null;
}

/** Where the programme ends, in the episode's clock: its media and what was cut from it. */
export function programmeEnd(episode: Timed & Pick<Episode, "duration">): ClockMs {
  const cut = missing(episode).reduce((sum, { from, to }) => sum + (to - from), 0);
  return clockMs(episode.duration + cut);
}
