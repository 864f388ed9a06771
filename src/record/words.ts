import type { Correction, CuePiece, TranscriptCue } from "../model/episode.ts";
import { type Token, tokensOf } from "./fold.ts";

/** A correction's hold on a stretch of words, while corrections are being laid. */
export interface Hold {
  readonly correction: Correction;
  readonly occurrence: number;
}

/** Words with one history: what stands, what was first published there if that was replaced, and who marks them. */
export interface Stretch {
  readonly text: string;
  /** As first published; null where `text` is that. */
  readonly was: string | null;
  /** Newest first. */
  readonly holds: readonly Hold[];
}

/** A correction of a speaker's name. */
export interface VoiceHold extends Hold {
  /** As first published. */
  readonly was: string | null;
}

/** A cue's piece under work. Pieces stand in one flat list, in file order. */
export interface WorkingPiece {
  readonly cue: TranscriptCue;
  /** The cue's place among the episode's, from 0. */
  readonly place: number;
  /** Which piece of the cue, from 0. */
  readonly index: number;
  /** Which of all pieces, from 0. */
  readonly number: number;
  readonly piece: CuePiece;
  voice: string | null;
  voiceHold: VoiceHold | null;
  stretches: readonly Stretch[];
  /** Of the words as they stand; null until they are asked for: most episodes have no correction. */
  tokens: readonly Token[] | null;
}

/** A stretch of one piece's words, in UTF-16 offsets. */
export interface Span {
  readonly piece: number;
  readonly from: number;
  readonly to: number;
}

export function workingPieces(cues: readonly TranscriptCue[]): WorkingPiece[] {
  let number = 0;
  return cues.flatMap((cue, place) =>
    cue.pieces.map((piece, index) => ({
      cue,
      place,
      index,
      number: number++,
      piece,
      voice: piece.voice,
      voiceHold: null,
      stretches: [{ text: piece.words, was: null, holds: [] }],
      tokens: null,
    })),
  );
}

export const wordsOf = (stretches: readonly Stretch[]): string => stretches.map(({ text }) => text).join("");

/** The words of a piece for comparison. */
export function tokensIn(piece: WorkingPiece): readonly Token[] {
  piece.tokens ??= tokensOf(wordsOf(piece.stretches));
  return piece.tokens;
}

/** Marks words and leaves them. */
export function markWords(piece: WorkingPiece, span: Span, hold: Hold): void {
  const { before, inside, after } = cutOut(piece.stretches, span);
  piece.stretches = [
    ...before,
    ...inside.map((stretch) => ({ ...stretch, holds: [hold, ...stretch.holds] })),
    ...after,
  ];
}

/** Puts `now` in the place of words. */
export function replaceWords(piece: WorkingPiece, span: Span, now: string, hold: Hold): void {
  const { before, inside, after, keepBefore, keepAfter } = cutOut(piece.stretches, span);
  const replaced: Stretch = {
    text: keepBefore + now + keepAfter,
    was: inside.map((stretch) => stretch.was ?? stretch.text).join(""),
    holds: [hold, ...holdsOnce(inside)],
  };
  piece.stretches = [...before, replaced, ...after];
  piece.tokens = null;
}

/** All holds on stretches, each once. */
function holdsOnce(stretches: readonly Stretch[]): readonly Hold[] {
  if (stretches.length === 1) return stretches[0]?.holds ?? [];
  const once = new Map<string, Hold>();
  for (const hold of stretches.flatMap(({ holds }) => holds)) {
    const key = `${hold.correction.id} ${hold.occurrence}`;
    if (!once.has(key)) once.set(key, hold);
  }
  return [...once.values()];
}

interface CutOut {
  readonly before: readonly Stretch[];
  readonly inside: readonly Stretch[];
  readonly after: readonly Stretch[];
  /** Words of `inside` that the span itself does not reach. */
  readonly keepBefore: string;
  readonly keepAfter: string;
}

/**
 * Parts a run of stretches in three. Words that were replaced before are never parted, because nobody can say which of
 * the first words belongs to which of the new: the inside then reaches to their edges.
 */
function cutOut(stretches: readonly Stretch[], { from, to }: Span): CutOut {
  const [before, inside, after]: [Stretch[], Stretch[], Stretch[]] = [[], [], []];
  let [keepBefore, keepAfter] = ["", ""];
  let start = 0;
  for (const stretch of stretches) {
    const end = start + stretch.text.length;
    if (end <= from) before.push(stretch);
    else if (start >= to) after.push(stretch);
    else if (stretch.was !== null) {
      inside.push(stretch);
      keepBefore += stretch.text.slice(0, Math.max(0, from - start));
      keepAfter += stretch.text.slice(Math.max(0, to - start));
    } else {
      const [head, tail] = [Math.max(0, from - start), Math.min(stretch.text.length, to - start)];
      if (head > 0) before.push({ ...stretch, text: stretch.text.slice(0, head) });
      inside.push({ ...stretch, text: stretch.text.slice(head, tail) });
      if (tail < stretch.text.length) after.push({ ...stretch, text: stretch.text.slice(tail) });
    }
    start = end;
  }
  return { before, inside, after, keepBefore, keepAfter };
}

/**
 * Lets a later correction take an earlier one's place: its marks go to the later one where that has no words of its own
 * (`inherits`), or where words were replaced and must stay marked; elsewhere they are lifted.
 */
export function passHolds(piece: WorkingPiece, earlier: string, later: Correction, inherits: boolean): void {
  const pass = (stretch: Stretch): Stretch => {
    const holds = stretch.holds.flatMap((hold) =>
      hold.correction.id !== earlier ? [hold] : inherits ? [{ ...hold, correction: later }] : [],
    );
    const lifted = stretch.holds.find((hold) => hold.correction.id === earlier);
    const orphaned = holds.length === 0 && lifted !== undefined && stretch.was !== null;
    return { ...stretch, holds: orphaned ? [{ ...lifted, correction: later }] : holds };
  };
  if (piece.stretches.some(({ holds }) => holds.some(({ correction }) => correction.id === earlier)))
    piece.stretches = piece.stretches.map(pass);
  if (piece.voiceHold?.correction.id === earlier) piece.voiceHold = { ...piece.voiceHold, correction: later };
}

/** The cues, by place, that share a replaced passage: its new words stand in the first, whichever the old ones stood in. */
export function sharedPassages(pieces: readonly WorkingPiece[]): readonly (readonly number[])[] {
  const passages = new Map<string, Set<number>>();
  for (const { place, stretches } of pieces) {
    for (const { was, holds } of stretches) {
      for (const { correction, occurrence } of was === null ? [] : holds) {
        const key = `${correction.id} ${occurrence}`;
        passages.set(key, (passages.get(key) ?? new Set()).add(place));
      }
    }
  }
  return [...passages.values()].flatMap((places) => (places.size > 1 ? [[...places]] : []));
}
