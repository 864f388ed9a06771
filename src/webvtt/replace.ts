import { addAll } from "../model/addAll.ts";
import { type ComposedCue, composeVtt } from "./compose.ts";
import type { VttFile } from "./file.ts";
import { wholeMs } from "./timestamp.ts";

/** Cues and notes that come and go. */
export interface Replacement {
  /** Cues to be taken out, counted from 0 as in `VttFile.cues`. */
  readonly out: ReadonlySet<number>;
  /** Cues to be put in; they must not overlap those that stay, for the file to conform. */
  readonly cues: readonly ComposedCue[];
  /** Notes to be taken out, by their words, and notes to be put in before the first cue, each where it is not there yet. */
  readonly notesOut: readonly string[];
  readonly notes: readonly string[];
}

/** A piece of the new file. `old`: as it stood in the file, with the empty lines after it; `last`: the last of it. */
interface Piece {
  readonly text: string;
  readonly old: boolean;
  readonly last: boolean;
}

/**
 * A file with some cues and notes replaced by others. All else stays, character for character. New cues stand where the
 * ones taken out stood, or before the first cue that begins later.
 */
export function replaceCues(file: VttFile, { out, cues, notesOut, notes }: Replacement): string {
  const { text, blocks } = file;
  const known = new Set(blocks.flatMap((block) => (block.kind === "note" ? [block.words] : [])));
  const newNotes = notes.filter((note) => !known.has(wordsOf(note))).map((note) => made(noteText(note)));
  const waiting = cues.toSorted((a, b) => a.start - b.start);
  const next = nextStarts(file, out);
  const pieces: Piece[] = [
    { text: text.slice(0, blocks[0]?.from ?? text.length), old: true, last: blocks.length === 0 },
  ];
  const put = (before: number) => {
    while (waiting[0] !== undefined && waiting[0].start < before) {
      pieces.push(made(bodyOf(composeVtt({ cues: waiting.splice(0, 1) }))));
    }
  };
  let cue = 0;
  blocks.forEach((block, n) => {
    let stays = !(block.kind === "note" && notesOut.includes(block.words));
    if (block.kind === "cue") {
      if (cue === 0) addAll(pieces, newNotes);
      put(next[cue] ?? Number.POSITIVE_INFINITY);
      stays = !out.has(cue);
      cue++;
    }
    const [from, to] = [block.from, blocks[n + 1]?.from ?? text.length];
    if (stays) pieces.push({ text: text.slice(from, to), old: true, last: n === blocks.length - 1 });
  });
  if (cue === 0) addAll(pieces, newNotes);
  put(Number.POSITIVE_INFINITY);
  return joined(pieces, /\r\n|\r|\n/.exec(text)?.[0] ?? "\n");
}

/** For each cue the start of the first one from it on that stays, in milliseconds; Infinity after the last. */
function nextStarts({ cues }: VttFile, out: ReadonlySet<number>): readonly number[] {
  let next = Number.POSITIVE_INFINITY;
  return cues
    .map(({ startTime }, n) => {
      return { start: wholeMs(startTime), stays: !out.has(n) };
    })
    .toReversed()
    .map(({ start, stays }) => {
      if (stays) next = start;
      return next;
    })
    .toReversed();
}

const made = (text: string): Piece => ({ text, old: false, last: false });
/** A block as `composeVtt` writes it, without the head. */
const bodyOf = (written: string): string => written.slice(written.indexOf("\n\n") + 2);
const noteText = (note: string): string => bodyOf(composeVtt({ notes: [note], cues: [] }));
/** The words of a note when it is read again. */
const wordsOf = (note: string): string => noteText(note).replace(/^NOTE/, "").trim();

/** The pieces with an empty line between any two; a piece that was followed by one stays as it is. */
function joined(pieces: readonly Piece[], end: string): string {
  return pieces
    .map(({ text, old, last }, n) => {
      const isLast = n === pieces.length - 1;
      const own = old ? text : text.replaceAll("\n", end);
      if (old && last === isLast) return own;
      const bare = own.replace(/[\r\n]+$/, "");
      return isLast ? bare + end : bare + end + end;
    })
    .join("");
}
