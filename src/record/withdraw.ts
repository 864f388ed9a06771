import { does } from "../model/correctionKinds.ts";
import { byEffect, type Correction, type Episode, type Segment, type Withdrawal } from "../model/episode.ts";
import { type LaidSegment, WITHDRAWN_TITLE } from "./laid.ts";
import type { WithdrawnStretch } from "./stretch.ts";

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
    if (!does(correction, "takes-away")) continue;
    if (correction.segment === null) episode = correction;
    else segments.set(correction.segment, correction);
  }
  return { episode, segments };
}

/** Whether a segment, or the whole episode (null), is withdrawn. */
export const isWithdrawn = (slug: string | null, { episode, segments }: Withdrawn): boolean =>
  episode !== null || (slug !== null && segments.has(slug));

/**
 * Where what a withdrawal takes away stands: one stretch. None where the episode has no such segment (the stretch that
 * was entered for it still holds).
 */
export function stretchesOf(withdrawal: Withdrawal, segments: readonly Segment[]): readonly WithdrawnStretch[] {
  const { segment: slug } = withdrawal;
  const own = slug === null ? segments : segments.filter((segment) => segment.slug === slug);
  const [first, last] = [own[0], own.at(-1)];
  return first === undefined || last === undefined ? [] : [{ segment: slug, from: first.in, to: last.out }];
}

/**
 * A segment with everything said in it or of it taken away; its sound may not be given, as if withheld. That the
 * recording is silent there stays known; that somebody accepted it in the file does not outlast the withdrawal.
 */
export function emptied({ story: _gone, ...segment }: LaidSegment, withdrawn: Withdrawal): LaidSegment {
  const sound = segment.rights?.sound;
  return {
    ...segment,
    title: WITHDRAWN_TITLE,
    summary: null,
    by: [],
    topics: [],
    places: [],
    cautions: [],
    rights: {
      withheld: true,
      until: null,
      holder: null,
      show: "nothing",
      ...(sound?.is === "silenced" ? { sound } : {}),
    },
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
export const silenced = (correction: Correction): Correction =>
  byEffect<Correction>(correction, {
    "adds-note": (own) => ({ ...own, said: null, note: "" }),
    "replaces-words": (own) => ({ ...own, said: "", now: "", note: "" }),
    "replaces-field": (own) => ({ ...own, said: "", now: "", note: "" }),
    "takes-away": (own) => own,
  });
