import type { Stretch } from "../../derive/stretches.ts";
import { countWords } from "../../derive/turns.ts";
import type { LaidCue } from "../../record/laid.ts";
import type { Word } from "../speech.ts";
import type { Subject } from "../subject.ts";

/** A caption of speech with its words. */
export interface SpokenCue {
  readonly cue: LaidCue;
  readonly words: readonly Word[];
  /** How many words, as people count them. */
  readonly count: number;
}

/** The captions of speech, in file order. */
export const spokenCues = ({ spoken }: Pick<Subject, "spoken">): readonly SpokenCue[] =>
  [...spoken.inCue].map(([cue, words]) => {
    return { cue, words, count: cue.pieces.reduce((sum, piece) => sum + countWords(piece.words), 0) };
  });

/** More words a minute than anybody can say. Common practice, no source. */
export const NEVER = 400;
/** Fewer words than this may be squeezed by a rounded time. */
export const A_LINE = 8;
/** Captions that begin within so many milliseconds begin at once: two frames. */
export const AT_ONCE = 80;
/** Two people speak at once, and each has a caption; not three. */
const TOGETHER = 3;
/** News is read at 130 to 180 words a minute: so many stalled words fill so much of the silence beside them. */
const USUAL = 150;

/** Captions in a row with more words than their times have room for, from the first beginning to the last end. */
export interface Stall extends Stretch {
  readonly cues: readonly SpokenCue[];
  readonly count: number;
  /** Whether all of them begin at one moment. */
  readonly isOneMoment: boolean;
}

/**
 * Where the times stand still: captions with more words than anybody can say before the same speaker's next caption
 * begins, and three or more that begin at once. Captions that begin before the one above them are the reader's to tell.
 */
export function stallsIn(cues: readonly SpokenCue[]): readonly Stall[] {
  const atOnce = manyAtOnce(cues);
  const stalls: Stall[] = [];
  for (let n = 0; n < cues.length; n++) {
    let to = n;
    while (to < cues.length && (atOnce.has(to) || isSqueezed(cues[to], cues[to + 1]))) to += 1;
    if (to === n) continue;
    // The last of those that begin at once has its own time, which is no truer.
    if (to < cues.length && startOf(cues[to]) - startOf(cues[to - 1]) <= AT_ONCE) to += 1;
    const stall = stallOf(cues.slice(n, to));
    if (stall.count >= A_LINE) stalls.push(stall);
    n = to - 1;
  }
  return stalls;
}

const startOf = (own: SpokenCue | undefined): number => own?.cue.start ?? Number.POSITIVE_INFINITY;

/** Which captions stand in a row of three or more that begin at once. */
function manyAtOnce(cues: readonly SpokenCue[]): ReadonlySet<number> {
  const found = new Set<number>();
  for (let n = 0; n < cues.length; ) {
    let to = n + 1;
    while (Math.abs(startOf(cues[to]) - startOf(cues[n])) <= AT_ONCE) to += 1;
    if (to - n >= TOGETHER) for (let own = n; own < to; own++) found.add(own);
    n = to;
  }
  return found;
}

/** Whether a caption has more words than can be said in its time, which ends where the same speaker's next begins. */
function isSqueezed(own: SpokenCue | undefined, next: SpokenCue | undefined): boolean {
  if (own === undefined) return false;
  const { start, end, settings } = own.cue;
  const isFollowed = next !== undefined && next.cue.start >= start && next.cue.settings === settings;
  const goesOn = isFollowed && next.words[0]?.voice === own.words.at(-1)?.voice;
  const room = (goesOn ? Math.min(end, next.cue.start) : end) - start;
  return own.count * 60_000 > NEVER * room;
}

function stallOf(cues: readonly SpokenCue[]): Stall {
  const from = startOf(cues[0]);
  return {
    cues,
    from,
    to: cues.reduce((latest, { cue }) => Math.max(latest, cue.end), 0),
    count: cues.reduce((sum, { count }) => sum + count, 0),
    isOneMoment: cues.length > 1 && cues.every((own) => Math.abs(startOf(own) - from) <= AT_ONCE),
  };
}

/** Whether a silence beside a stall is where its words were said; what is longer lacks other words too. */
export const fillsSilence = ({ from, to, count }: Stall, silence: Stretch): boolean =>
  (Math.abs(silence.from - to) <= AT_ONCE || Math.abs(silence.to - from) <= AT_ONCE) &&
  ((count * 60_000) / USUAL) * 2 >= silence.to - silence.from;
