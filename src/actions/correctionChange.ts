import type { PageField } from "../model/episode.ts";
import { byEffect } from "../model/episode.ts";
import type { LaidCorrection, LaidCue, LaidEpisode } from "../record/laid.ts";

/** What a correction does to an episode. */
export type CorrectionChange =
  | {
      readonly what: "field";
      /** The segment, or the episode's id. */
      readonly of: string;
      readonly field: PageField;
      readonly said: string;
      readonly now: string;
    }
  /** `cues`: how many go. A segment of null: the whole episode. */
  | { readonly what: "taken-away"; readonly segment: string | null; readonly cues: number }
  /** A note at no words. A segment of null: on the episode. */
  | { readonly what: "note"; readonly segment: string | null }
  | { readonly what: "passages"; readonly before: readonly ShownCue[]; readonly after: readonly ShownCue[] };

/** A cue in the passage that a correction concerns. */
export interface ShownCue {
  /** Clock ms. */
  readonly start: number;
  /** Whether the correction touches it, and it is not only its context. */
  readonly touched: boolean;
  readonly pieces: readonly {
    readonly voice: string | null;
    /** `marked`: by the correction. */
    readonly runs: readonly { readonly text: string; readonly marked: boolean }[];
  }[];
}

/** Cues shown on either side of a changed one. */
const AROUND = 1;

/** What a correction does, from the episode without it and with it; null where it was not laid. */
export function correctionChange(before: LaidEpisode, after: LaidEpisode, id: string): CorrectionChange | null {
  const own = after.laid.find(({ correction }) => correction.id === id);
  if (own === undefined) return null;
  const { correction } = own;
  return byEffect<CorrectionChange>(correction, {
    "adds-note": () => passages(before, after, own),
    "replaces-words": () => passages(before, after, own),
    "replaces-field": ({ segment, field, said, now }) => ({ what: "field", of: segment ?? after.id, field, said, now }),
    "takes-away": ({ segment }) => ({ what: "taken-away", segment, cues: before.cues.length - after.cues.length }),
  });
}

function passages(before: LaidEpisode, after: LaidEpisode, own: LaidCorrection): CorrectionChange {
  const { id } = own.correction;
  const touched = new Set(after.cues.flatMap((cue, index) => (isTouched(cue, id) ? [index] : [])));
  if (touched.size === 0) return { what: "note", segment: own.segment };
  const isShown = (index: number) => [...touched].some((own) => Math.abs(own - index) <= AROUND);
  const shown = (cues: readonly LaidCue[], marked: string | null): readonly ShownCue[] =>
    cues.flatMap((cue, index) => (isShown(index) ? [shownCue(cue, marked, touched.has(index))] : []));
  return { what: "passages", before: shown(before.cues, null), after: shown(after.cues, id) };
}

const isTouched = ({ pieces }: LaidCue, id: string): boolean =>
  pieces.some(
    ({ runs, speaker }) => speaker?.correction.id === id || runs.some(({ mark }) => mark?.correction.id === id),
  );

const shownCue = ({ start, pieces }: LaidCue, marked: string | null, touched: boolean): ShownCue => ({
  start,
  touched,
  pieces: pieces.map(({ voice, runs }) => ({
    voice,
    runs: runs.map(({ text, mark }) => ({ text, marked: mark !== null && mark.correction.id === marked })),
  })),
});
