import type { Correction, Episode, TranscriptCue, Withdrawal } from "../model/episode.ts";
import type { ClockMs } from "../model/units.ts";
import { type LaidSegment, WITHDRAWN_TITLE } from "./laid.ts";

/** What is withdrawn: by slug, and the whole episode. */
export interface Withdrawn {
  readonly episode: Withdrawal | null;
  readonly segments: ReadonlyMap<string, Withdrawal>;
}

/** The withdrawals among corrections in date order; of two for the same thing, the later one speaks. */
export function withdrawalsIn(corrections: readonly Correction[]): Withdrawn {
  const segments = new Map<string, Withdrawal>();
  let episode: Withdrawal | null = null;
  for (const correction of corrections) {
    if (correction.kind !== "withdrawal") continue;
    if (correction.segment === null) episode = correction;
    else segments.set(correction.segment, correction);
  }
  return { episode, segments };
}

/** Whether a segment, or the whole episode (null), is withdrawn. */
export const isWithdrawn = (slug: string | null, { episode, segments }: Withdrawn): boolean =>
  episode !== null || (slug !== null && segments.has(slug));

/**
 * Whether a cue goes with a withdrawn stretch: it starts in it, or most of it lies in it. A cue that runs over the edge
 * rather goes than stays.
 */
export function goesWith({ start, end }: TranscriptCue, from: ClockMs, to: ClockMs): boolean {
  const inside = Math.min(end, to) - Math.max(start, from);
  return (from <= start && start < to) || inside * 2 > end - start;
}

/** A segment with everything said in it or of it taken away; its sound is to be stepped over like a withheld one's. */
export function emptied(segment: LaidSegment, withdrawn: Withdrawal): LaidSegment {
  return {
    ...segment,
    title: WITHDRAWN_TITLE,
    summary: null,
    by: [],
    topics: [],
    places: [],
    cautions: [],
    rights: { withheld: true, until: null, holder: null, show: "nothing" },
    withdrawn,
    changes: [],
  };
}

/** What is left of an episode's own fields when it is withdrawn whole. */
export const emptiedEpisode = {
  title: WITHDRAWN_TITLE,
  summary: null,
  notes: "",
  media: [],
  changes: [],
} satisfies Partial<Episode & { changes: readonly never[] }>;

/** A correction with every word taken out that could repeat what was withdrawn. */
export function silenced(correction: Correction): Correction {
  switch (correction.kind) {
    case "withdrawal":
      return correction;
    case "transcript":
    case "page":
      return { ...correction, said: "", now: "", note: "" };
    case "on-air":
    case "clarification":
    case "update":
      return { ...correction, said: null, note: "" };
  }
}
