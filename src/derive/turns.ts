import type { CuePiece, TranscriptCue } from "../model/episode.ts";
import type { ClockMs } from "../model/units.ts";

/** A pause longer than this begins a new paragraph. Common practice, no source. */
const PAUSE_MS = 2000;
/** A sentence end past about this many words begins a new paragraph. Common practice, no source. */
const WORDS = 60;

/** A cue whose pieces are of some kind. */
interface CueOf<P extends CuePiece> extends TranscriptCue {
  readonly pieces: readonly P[];
}

/** The words of one voice in one cue. */
export interface SpokenPiece<P extends CuePiece = CuePiece> {
  readonly cue: CueOf<P>;
  readonly piece: P;
  /** Which piece of the cue, from 0. */
  readonly index: number;
}
export interface SpokenParagraph<P extends CuePiece = CuePiece> {
  readonly start: ClockMs;
  readonly end: ClockMs;
  readonly pieces: readonly SpokenPiece<P>[];
}
/** One speaker's unbroken speech. */
export interface Turn<P extends CuePiece = CuePiece> {
  readonly is: "turn";
  readonly voice: string | null;
  /** The voice is a guess: given only where it is so. */
  readonly proposed?: true;
  readonly paragraphs: readonly SpokenParagraph<P>[];
}
/** What is heard but not said: a cue whose words all stand in square brackets. Common practice, no source. */
export interface Sound {
  readonly is: "sound";
  readonly cue: TranscriptCue;
  readonly text: string;
}
export type Speech<P extends CuePiece = CuePiece> = Turn<P> | Sound;

const SOUND = /^\s*\[([^\]]+)\]\s*$/;
const SENTENCE_END = /[.!?…]["'’”)\]]*$/;

/** Words as people count them: runs between white space that hold a letter or a digit. Common practice, no source. */
export function countWords(text: string): number {
  return text.match(/[\p{L}\p{N}]\S*/gu)?.length ?? 0;
}

/** The text of a sound cue, or null for speech. */
export function soundIn(cue: TranscriptCue): string | null {
  const [only, second] = cue.pieces;
  if (only === undefined || second !== undefined || only.voice !== null) return null;
  return SOUND.exec(only.words)?.[1]?.trim() ?? null;
}

/** Cues, in file order, as turns and sounds; a turn's speech in paragraphs. */
export function turnsOf<P extends CuePiece>(cues: readonly CueOf<P>[]): readonly Speech<P>[] {
  const speech: Speech<P>[] = [];
  let open: (Pick<CuePiece, "voice" | "proposed"> & { pieces: SpokenPiece<P>[] }) | null = null;
  const close = () => {
    if (open !== null) {
      const { pieces, ...voice } = open;
      speech.push({ is: "turn", ...voice, paragraphs: paragraphsOf(pieces) });
    }
    open = null;
  };
  for (const cue of cues) {
    const text = soundIn(cue);
    if (text !== null) {
      close();
      speech.push({ is: "sound", cue, text });
      continue;
    }
    for (const [index, piece] of cue.pieces.entries()) {
      if (piece.words.trim() === "") continue;
      if (open === null || open.voice !== piece.voice || open.proposed !== piece.proposed) {
        close();
        open = { voice: piece.voice, ...(piece.proposed === true ? { proposed: true } : {}), pieces: [] };
      }
      open.pieces.push({ cue, piece, index });
    }
  }
  close();
  return speech;
}

function paragraphsOf<P extends CuePiece>(pieces: readonly SpokenPiece<P>[]): readonly SpokenParagraph<P>[] {
  const paragraphs: SpokenPiece<P>[][] = [];
  let words = 0;
  for (const spoken of pieces) {
    const last = paragraphs.at(-1);
    const before = last?.at(-1);
    const breaks =
      before === undefined ||
      spoken.cue.start - before.cue.end > PAUSE_MS ||
      (words >= WORDS && SENTENCE_END.test(before.piece.words.trimEnd()));
    if (last === undefined || breaks) {
      paragraphs.push([spoken]);
      words = 0;
    } else {
      last.push(spoken);
    }
    words += countWords(spoken.piece.words);
  }
  return paragraphs.flatMap((own) => {
    const [first, last] = [own[0], own.at(-1)];
    return first === undefined || last === undefined
      ? []
      : [{ start: first.cue.start, end: last.cue.end, pieces: own }];
  });
}
