import { countWords } from "../../derive/turns.ts";
import { formatClock } from "../../model/clock.ts";
import type { LaidCue } from "../../record/laid.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import type { Word } from "../speech.ts";
import type { Subject } from "../subject.ts";

/**
 * News is read at 130 to 180 words a minute; a stretch under 60 or over 230 deserves a look. Over 400 nobody can be
 * understood, so a single cue is enough. Common practice, no source.
 */
const PACE = { slow: 60, fast: 230, never: 400 } as const;
/** How long a stretch must be before its pace says something. Milliseconds, words. */
const STRETCH = { ms: 30_000, words: 90, neverWords: 8 } as const;
/** Cues closer than this are one stretch. Milliseconds. */
const JOINED = 1000;

interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly words: number;
}

export const paceTooFast: Check = {
  name: "pace-too-fast",
  level: "warns",
  group: "recogniser",
  reason:
    "More words than anyone can say mean that the times stalled: captions would flash by, and moments would open at the wrong place.",
  looks:
    "A stretch of half a minute or more, and ninety words, at over 230 words a minute (news is read at 130 to 180); or cues with " +
    "eight words or more at over 400. Common practice, no source.",
  example: "72 words from 6:11 to 6:13.",
  accept: "An auctioneer, a race commentary, a list read against the clock.",
  judge: (subject) => fastStretches(speechCues(subject)).flatMap((stretch) => tell(stretch, subject)),
};

export const paceTooSlow: Check = {
  name: "pace-too-slow",
  level: "warns",
  group: "recogniser",
  reason: "A few words stretched over a long time mean that others are missing there, or that the times are wrong.",
  looks:
    "A cue of eight seconds or more with under 60 words a minute (news is read at 130 to 180). Common practice, no source.",
  example: "Six words in a lump of 20 seconds.",
  accept: "Somebody did speak so slowly, or the cue is held over a pause.",
  judge: (subject) =>
    speechCues(subject).flatMap((cue) => {
      const long = cue.end - cue.start;
      const words = wordsIn(cue);
      if (long < 8000 || words === 0 || (words * 60_000) / long >= PACE.slow) return [];
      const says = `${words} words in ${Math.round(long / 1000)} seconds are ${Math.round((words * 60_000) / long)} words a minute.`;
      return doubtOf(ofCue(cue, subject), subject, says, "Listen for words that are missing, and check the times.");
    }),
};

const speechCues = ({ spoken }: Subject): readonly LaidCue[] => [...new Set(spoken.words.map(({ cue }) => cue))];
const wordsIn = (cue: LaidCue): number => cue.parts.reduce((sum, { words }) => sum + countWords(words), 0);
const ofCue = (cue: LaidCue, { spoken }: Subject): readonly Word[] => spoken.words.filter((word) => word.cue === cue);

function tell({ from, to, words }: Stretch, subject: Subject): readonly Doubt[] {
  const own = subject.spoken.words.filter(({ cue }) => cue.start >= from && cue.end <= to);
  const pace = to > from ? `${Math.round((words * 60_000) / (to - from))} words a minute` : "no time at all";
  const says = `${words} words from ${formatClock(from)} to ${formatClock(to)} are ${pace}.`;
  return doubtOf(own, subject, says, "Check the times there against the recording; news is read at 130 to 180.");
}

/** Stretches that are too fast, joined where they touch. `cues`: in the order of their times. */
function fastStretches(cues: readonly LaidCue[]): readonly Stretch[] {
  const joined: { from: number; to: number }[] = [];
  for (const { from, to } of cues.flatMap((_, n) => fastFrom(cues, n))) {
    const last = joined.at(-1);
    if (last !== undefined && from <= last.to + JOINED) last.to = Math.max(last.to, to);
    else joined.push({ from, to });
  }
  return joined.map(({ from, to }) => ({
    from,
    to,
    words: cues.filter(({ start, end }) => start >= from && end <= to).reduce((sum, cue) => sum + wordsIn(cue), 0),
  }));
}

/** What is too fast from the cue `n` on: the cue itself, or the shortest stretch that is long enough to tell. */
function fastFrom(cues: readonly LaidCue[], n: number): { from: number; to: number }[] {
  const first = cues[n];
  if (first === undefined) return [];
  let end: number = first.end;
  let words = wordsIn(first);
  if (words >= STRETCH.neverWords && words * 60_000 > (end - first.start) * PACE.never)
    return [{ from: first.start, to: end }];
  for (let at = n + 1; end - first.start < STRETCH.ms || words < STRETCH.words; at++) {
    const next = cues[at];
    if (next === undefined || next.start - end > JOINED || isImpossible(next)) return [];
    end = next.end;
    words += wordsIn(next);
  }
  return words * 60_000 > (end - first.start) * PACE.fast ? [{ from: first.start, to: end }] : [];
}

function isImpossible(cue: LaidCue): boolean {
  const words = wordsIn(cue);
  return words >= STRETCH.neverWords && words * 60_000 > (cue.end - cue.start) * PACE.never;
}
