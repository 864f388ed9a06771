import { type Holding, holdingOf } from "../derive/holdings.ts";
import { type MediaSpan, mediaSpan } from "../derive/timeMap.ts";
import type { LaidCue, LaidEpisode, LaidSegment } from "./laid.ts";

/** A segment as the public may have it on a day. */
export interface ShownSegment {
  readonly segment: LaidSegment;
  readonly holding: Holding;
  /** Its stretch of the recording; null where all of it was cut. */
  readonly span: MediaSpan | null;
  /** Empty where its words may not be given. */
  readonly cues: readonly LaidCue[];
}

/** An episode as the public may have it on a day. Everything that leaves the house is made from this. */
export interface ShownEpisode {
  readonly episode: LaidEpisode;
  /** The local date it was aired, `2026-10-05`. */
  readonly date: string;
  readonly segments: readonly ShownSegment[];
}

/**
 * Takes away what may not be given on `day` (a local date): the words of segments withheld whole. A cue goes with the
 * segment that most of its time lies in; one outside all segments goes with the nearest before it, so that no word is lost.
 */
export function showEpisode(episode: LaidEpisode, day: string): ShownEpisode {
  const bySegment = new Map<string, LaidCue[]>(episode.segments.map(({ slug }) => [slug, []]));
  for (const cue of episode.cues) {
    const home = homeOf(cue, episode.segments);
    if (home !== undefined) bySegment.get(home.slug)?.push(cue);
  }
  return {
    episode,
    date: episode.aired.slice(0, 10),
    segments: episode.segments.map((segment) => {
      const holding = holdingOf(segment, episode, day);
      const given = holding.words && segment.withdrawn === null && episode.withdrawn === null;
      return {
        segment,
        holding,
        span: mediaSpan(segment.in, segment.out, episode),
        cues: given ? (bySegment.get(segment.slug) ?? []) : [],
      };
    }),
  };
}

function homeOf(cue: LaidCue, segments: readonly LaidSegment[]): LaidSegment | undefined {
  let [home, most] = [segments.findLast((segment) => segment.in <= cue.start) ?? segments[0], 0];
  for (const segment of segments) {
    const shared = Math.min(cue.end, segment.out) - Math.max(cue.start, segment.in);
    if (shared > most) [home, most] = [segment, shared];
  }
  return home;
}
