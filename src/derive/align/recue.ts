import { addAll } from "../../model/addAll.ts";
import type { CuePiece } from "../../model/episode.ts";
import type { SpokenWord } from "../../model/spoken.ts";
import { type Captioning, type MadeCue, makeCues } from "../captioning/cues.ts";
import type { Span } from "../captioning/lending.ts";
import { type Room, roomOutside } from "../captioning/room.ts";
import { HASTE } from "../captioning/wordTimes.ts";
import type { WrittenWord } from "./align.ts";
import { layWords, lengthOf } from "./layWords.ts";

/** A cue of speech as it stands in the transcript. Milliseconds. */
export interface ExistingCue extends Span {
  readonly pieces: readonly CuePiece[];
}

/** New words for a transcript. Times in milliseconds of the episode's clock. */
export interface Recuing {
  /** The cues of speech, in the order of the file. */
  readonly cues: readonly ExistingCue[];
  readonly written: readonly WrittenWord[];
  /** When each written word was heard; null: nobody knows. Rising. */
  readonly spans: readonly (Span | null)[];
  /** For each written word the word of the cues that it is, letter for letter; null: it is new. */
  readonly same: readonly (number | null)[];
  /** Stretches where nobody speaks, and moments that no cue stands across: breaks, and where the recording is cut. */
  readonly silent: readonly Span[];
  readonly edges: readonly number[];
  /** All new cues stand inside it; those that stay may reach over its ends. */
  readonly whole: Span;
  readonly captioning: Omit<Captioning, "edges">;
  /** What speaks for and against a seam of the room before a word: see `layWords`. */
  readonly clue?: (at: number, n: number) => number;
}

export interface Recued {
  /** The cues that stay as they are, as numbers of `cues`. */
  readonly kept: ReadonlySet<number>;
  readonly cues: readonly MadeCue[];
  /** Words had no room outside the silent stretches, and stand in them. */
  readonly crowded: boolean;
}

/** A cue that stays: words [from, to) of the written ones. */
interface Kept extends Span {
  readonly cue: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Cues for new words: those whose words nobody touched stay, and what lies between them is cut anew. So the same words
 * again change nothing. Where new words have too little room between two cues, those are cut anew too.
 * @returns null where the words can't be spoken in `whole`.
 */
export function recue(work: Recuing): Recued | null {
  let kept = untouched(work);
  for (;;) {
    const done = between(work, kept);
    if (done.cues !== null) return { kept: new Set(kept.map(({ cue }) => cue)), cues: done.cues, crowded: false };
    if (done.beside.length === 0) break;
    kept = kept.filter((one) => !done.beside.includes(one));
  }
  const cues = cutInto(work, 0, work.written.length, [work.whole]);
  return cues === null ? null : { kept: new Set(), cues, crowded: true };
}

/** The cues whose words all stand in the new text, one after the other, said by the same voice, where they may stand. */
function untouched({ cues, written, same, silent, edges }: Recuing): readonly Kept[] {
  const placeOf = new Map<number, number>();
  same.forEach((old, n) => {
    if (old !== null) placeOf.set(old, n);
  });
  const kept: Kept[] = [];
  let first = 0;
  cues.forEach((cue, n) => {
    const words = wordsIn(cue);
    const from = placeOf.get(first);
    const own = first;
    first += words.length;
    const last = kept.at(-1);
    if (from === undefined || words.length === 0 || from < (last?.to ?? 0) || cue.start < (last?.end ?? 0)) return;
    const isSame = words.every((word, i) => same[from + i] === own + i && isSameVoice(word, written[from + i]));
    const mayStand =
      !silent.some(({ start, end }) => start < cue.end && end > cue.start) &&
      !edges.some((edge) => cue.start < edge && edge < cue.end);
    if (isSame && mayStand) kept.push({ cue: n, from, to: from + words.length, start: cue.start, end: cue.end });
  });
  return kept;
}

const isSameVoice = (one: WrittenWord, other: WrittenWord | undefined): boolean =>
  one.voice === other?.voice && (one.proposed === true) === (other.proposed === true);

/** The words of a cue, each with its voice. */
export const wordsIn = ({ pieces }: Pick<ExistingCue, "pieces">): readonly WrittenWord[] =>
  pieces.flatMap(({ words, voice, proposed }) =>
    words
      .split(/\s+/)
      .filter((text) => text !== "")
      .map((text) => ({ text, voice, ...(proposed === true ? { proposed } : {}) })),
  );

/** New cues for the words between those that stay; null, and the cues beside, where there is too little room. */
function between(
  work: Recuing,
  kept: readonly Kept[],
):
  | { readonly cues: readonly MadeCue[]; readonly beside: readonly [] }
  | { readonly cues: null; readonly beside: readonly Kept[] } {
  const cues: MadeCue[] = [];
  for (let n = 0; n <= kept.length; n++) {
    const [before, after] = [kept[n - 1], kept[n]];
    const [from, to] = [before?.to ?? 0, after?.from ?? work.written.length];
    if (from === to) continue;
    const beside = [before, after].filter((one) => one !== undefined);
    const bounds = {
      start: Math.max(before?.end ?? 0, work.whole.start),
      end: Math.min(after?.start ?? Number.POSITIVE_INFINITY, work.whole.end),
    };
    const room = roomOutside(work.silent, work.edges, bounds);
    const isWide = beside.length === 0 || lengthOf(work.written.slice(from, to)) * HASTE <= sizeOf(room);
    const made = isWide ? cutInto(work, from, to, room) : null;
    if (made === null) return { cues: null, beside };
    addAll(cues, made);
  }
  return { cues, beside: [] };
}

const sizeOf = (room: Room): number => room.reduce((sum, { start, end }) => sum + end - start, 0);

/** Words [from, to) as cues in some room; null where they have none. */
function cutInto(work: Recuing, from: number, to: number, room: Room): readonly MadeCue[] | null {
  const { written, spans, captioning, clue = () => 0 } = work;
  const laid = layWords(written.slice(from, to), spans.slice(from, to), {
    room,
    clue: (seam, n) => clue(room[seam]?.end ?? 0, from + n),
  });
  if (laid === null) return null;
  const edges = [...new Set(room.flatMap(({ start, end }) => [start, end]))].filter(Number.isFinite);
  const words: readonly SpokenWord[] = laid;
  return makeCues(words, { ...captioning, edges });
}
