import { formatClock } from "../../model/clock.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";

/** The longest phrase looked for. Words. */
const LONGEST = 24;
/** How often a phrase of so many words must come at once to be a loop: people do say “no, no, no”. No source. */
const timesOf = (length: number): number => (length === 1 ? 6 : length === 2 ? 4 : 3);

/** A phrase that comes again and again without a word between. */
export interface Loop {
  readonly from: number;
  /** Words of the phrase. */
  readonly length: number;
  readonly times: number;
}

export const phraseLoops: Check = {
  name: "phrase-loops",
  level: "warns",
  group: "recogniser",
  reason: "Recognisers that hear music or silence say one phrase again and again; nobody said it even once.",
  looks:
    "The same words three times or more without a word between (a pair of words four times, a single word six times).",
  example: "“Stay with us awhile. Stay with us awhile. Stay with us awhile.”",
  accept: "A chant, a poem or a rhetorical figure that was really spoken.",
  judge: (subject) => loopsIn(subject.spoken.words).flatMap((loop) => tell(loop, subject)),
};

function tell({ from, length, times }: Loop, subject: Subject): readonly Doubt[] {
  const { words } = subject.spoken;
  const phrase = words.slice(from, from + length);
  const last = words[from + length * times - 1];
  const end = last === undefined ? "" : `, until ${formatClock(last.cue.end)}`;
  const says = `“${quoted(phrase)}” comes ${times} times without a word between${end}.`;
  return doubtOf(phrase, subject, says, "Listen there. Delete what nobody said.");
}

/** Loops in order, each with the shortest phrase that makes it. */
export function loopsIn(words: readonly Word[]): readonly Loop[] {
  const folds = words.map(({ fold }) => fold);
  const loops: Loop[] = [];
  for (let from = 0; from < folds.length; ) {
    const loop = loopAt(folds, from);
    if (loop === null) from += 1;
    else {
      loops.push(loop);
      from += loop.length * loop.times;
    }
  }
  return loops;
}

function loopAt(folds: readonly string[], from: number): Loop | null {
  for (let length = 1; length <= LONGEST; length++) {
    let same = 0;
    while (from + length + same < folds.length && folds[from + same] === folds[from + length + same]) same += 1;
    const times = 1 + Math.floor(same / length);
    if (times >= timesOf(length)) return { from, length, times };
  }
  return null;
}
