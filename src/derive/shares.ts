import type { Speech } from "./turns.ts";

/** How long a voice spoke. */
export interface SpokenShare {
  readonly voice: string;
  /** Milliseconds of cue time. */
  readonly ms: number;
  /** Of all named speech, from 0 to 1. */
  readonly fraction: number;
}

/** Speaking time by voice, the longest first; voices of equal time in the order of their names. Unnamed speech is left out. */
export function sharesOf(speech: readonly Speech[]): readonly SpokenShare[] {
  const times = new Map<string, number>();
  for (const turn of speech) {
    if (turn.is === "sound" || turn.voice === null) continue;
    const ms = turn.paragraphs
      .flatMap((paragraph) => paragraph.pieces)
      .reduce((sum, { cue, piece }) => sum + ((cue.end - cue.start) * piece.words.length) / lengthOf(cue), 0);
    times.set(turn.voice, (times.get(turn.voice) ?? 0) + ms);
  }
  const all = [...times.values()].reduce((sum, ms) => sum + ms, 0);
  return [...times]
    .map(([voice, ms]) => ({ voice, ms, fraction: all === 0 ? 0 : ms / all }))
    .sort((a, b) => b.ms - a.ms || (a.voice < b.voice ? -1 : 1));
}

/** Two voices in one cue share its time by the length of their words. */
function lengthOf(cue: { readonly pieces: readonly { readonly words: string }[] }): number {
  return cue.pieces.reduce((sum, { words }) => sum + words.length, 0) || 1;
}
