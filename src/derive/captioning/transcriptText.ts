import type { CuePiece } from "../../model/episode.ts";
import { composeVtt, cueText } from "../../webvtt/index.ts";

/** A cue of a transcript that is being made. Whole milliseconds. */
export interface NewCue {
  readonly start: number;
  readonly end: number;
  readonly pieces: readonly CuePiece[];
}

export const PROPOSED_NOTE =
  "Speakers marked v.proposed are guesses from the running order, the names and, with the recording, the voices.\n" +
  "Check each, and take .proposed away.";

/**
 * A transcript as a file. Voices that nobody has accepted are written `<v.proposed Name>`, which players read as any
 * voice (WebVTT §4.2.2: a voice span may have classes).
 */
export function transcriptText(cues: readonly NewCue[], notes: readonly string[]): string {
  const ordered = [...cues].sort((a, b) => a.start - b.start);
  const hasProposals = cues.some(({ pieces }) => pieces.some(({ proposed }) => proposed === true));
  return composeVtt({
    notes: hasProposals ? [PROPOSED_NOTE, ...notes] : notes,
    cues: ordered.map(({ pieces, ...cue }) => ({ ...cue, payload: cueText(pieces) })),
  });
}
