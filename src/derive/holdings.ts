import type { Episode, Segment, TranscriptCue } from "../model/episode.ts";
import { type MediaSpan, mediaSpan } from "../model/timeMap.ts";
import type { ClockMs } from "../model/units.ts";
import { stretchesOf } from "./stretches.ts";

/** What may be given of a segment on a certain day. */
export interface Holding {
  readonly withheld: boolean;
  readonly words: boolean;
  /** The stretch of the recording that the player must step over; null where there is none, or it may be played. */
  readonly skip: MediaSpan | null;
}

/** Whether a segment is withheld on some day. */
export const isEverWithheld = ({ rights }: Pick<Segment, "rights">): boolean => rights?.withheld === true;

/**
 * Whether a segment is withheld on a day, and what of it may be given then. `day`: a local date, `2026-10-06`; ISO
 * dates compare as text. Withheld until a date means that it may be shown from that date on.
 */
export function holdingOf(segment: Segment, episode: Episode, day: string): Holding {
  const { rights } = segment;
  const withheld = rights?.withheld === true && (rights.until === null || day < rights.until);
  if (!withheld) return { withheld, words: true, skip: null };
  return { withheld, words: rights.show === "transcript", skip: mediaSpan(segment.in, segment.out, episode) };
}

/**
 * The segment that a cue goes with: the one that most of its time lies in; for one outside all segments, the nearest
 * before it, so that no word is lost. Undefined only where there are no segments. `segments`: by their in points.
 */
export function homesIn<S extends Pick<Segment, "in" | "out">>(
  segments: readonly S[],
): (cue: Pick<TranscriptCue, "start" | "end">) => S | undefined {
  const overlapping = stretchesOf(segments, (segment) => ({ from: segment.in, to: segment.out }));
  const before = stretchesOf(segments, (segment) => ({ from: segment.in, to: Number.POSITIVE_INFINITY }));
  return (cue) => {
    let [home, most]: [S | undefined, number] = [undefined, 0];
    overlapping.find(cue.start, cue.end, (segment) => {
      const shared = Math.min(cue.end, segment.out) - Math.max(cue.start, segment.in);
      if (shared > most) [home, most] = [segment, shared];
      return most === cue.end - cue.start; // no other can have more of it
    });
    return home ?? before.findLast(cue.start, cue.start, () => true) ?? segments[0];
  };
}

/** The segment that is on at a moment of the episode's clock; undefined where none is. */
export function segmentAt(at: ClockMs, segments: readonly Segment[]): Segment | undefined {
  return segments.findLast((segment) => segment.in <= at && at < segment.out);
}
