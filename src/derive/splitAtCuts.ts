import type { CuePiece } from "../model/episode.ts";
import { type Timed, toMediaEdge } from "../model/timeMap.ts";
import { clockMs, type MediaMs } from "../model/units.ts";

interface TimedPieces {
  readonly id: string;
  readonly start: number;
  readonly end: number;
  readonly pieces: readonly CuePiece[];
}

/** A piece of a cue in the media's time. */
export type MediaCue<C extends TimedPieces> = Omit<C, "start" | "end" | "id" | "pieces"> & {
  readonly id: string;
  readonly start: MediaMs;
  readonly end: MediaMs;
  readonly pieces: readonly CuePiece[];
};

/**
 * Cues in the time of the media file. A cue across a cut is split there: its words are shared out by their characters,
 * and those said inside the cut are gone. The pieces after the first get the id with a letter: `12b`.
 * Whole words only; a piece without words is left out.
 */
export function splitAtCuts<C extends TimedPieces>(cues: readonly C[], timed: Timed): readonly MediaCue<C>[] {
  const cuts = timed.clock === "aired" ? timed.cuts : [];
  return cues.flatMap((cue) => {
    const inside = cuts.filter(({ from, to }) => from < cue.end && to > cue.start);
    if (inside.length === 0) {
      const [start, end] = [toMediaEdge(clockMs(cue.start), timed), toMediaEdge(clockMs(cue.end), timed)];
      return end > start ? [{ ...cue, start, end }] : [];
    }
    const edges = [cue.start, ...inside.flatMap(({ from, to }) => [from, to]), cue.end].map((at) =>
      Math.min(Math.max(at, cue.start), cue.end),
    );
    const kept = edges.flatMap((start, n) => {
      const end = edges[n + 1];
      return n % 2 === 1 || end === undefined || end <= start ? [] : [{ start, end }];
    });
    return kept.flatMap(({ start, end }, n) => {
      const pieces = piecesBetween(cue, start, end);
      if (pieces.length === 0) return [];
      const id = n === 0 || cue.id === "" ? cue.id : `${cue.id}${String.fromCharCode(97 + n)}`;
      const [from, to] = [toMediaEdge(clockMs(start), timed), toMediaEdge(clockMs(end), timed)];
      return to > from ? [{ ...cue, id, start: from, end: to, pieces }] : [];
    });
  });
}

/** The words of a cue whose middle, by characters, falls into [start, end). */
function piecesBetween(cue: TimedPieces, start: number, end: number): readonly CuePiece[] {
  const whole = cue.pieces.reduce((sum, { words }) => sum + words.length, 0);
  const timeAt = (character: number) => cue.start + ((cue.end - cue.start) * character) / Math.max(1, whole);
  let before = 0;
  return cue.pieces.flatMap((piece) => {
    const runs = [...piece.words.matchAll(/\S+\s*/g)].filter(({ index, 0: run }) => {
      const at = timeAt(before + index + run.trimEnd().length / 2);
      return at >= start && at < end;
    });
    before += piece.words.length;
    const words = runs
      .map(([run]) => run)
      .join("")
      .trim();
    return words === "" ? [] : [{ ...piece, words }];
  });
}
