import { formatClock } from "../../model/clock.ts";
import { seconds } from "../captions/cues.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import type { Subject } from "../subject.ts";
import { type SpokenCue, spokenCues } from "./stalls.ts";
import { mendOf } from "./timesStalled.ts";

/** So many captions in a row are as even as no speaker is. */
const ROW = 10;
/** A frame of 25 a second: times are rounded to it. Milliseconds. */
const ROUNDED = 40;
/** How many words more the longest of them must have, and how many times as many: what is counted aloud is even. No source. */
const [MORE, TIMES] = [4, 1.5] as const;

export const timesEven: Check = {
  name: "times-even",
  level: "warns",
  group: "recogniser",
  reason: "Times that go on like a clock's, however many words there are, were set by a program that heard nothing.",
  looks:
    `${ROW} captions or more in a row that begin in even steps and stand equally long, to a frame (${ROUNDED} ms), though one has half ` +
    `as many words again as another, and ${MORE} at least. No source.`,
  example: "Twelve captions of exactly 5 s, of 4 to 17 words.",
  accept: "The words were read to a beat.",
  judge: (subject) =>
    rowsIn(spokenCues(subject))
      .filter(isUneven)
      .flatMap((row) => tell(row, subject)),
};

/** The longest rows of captions in even steps, in their order. */
function rowsIn(cues: readonly SpokenCue[]): readonly (readonly SpokenCue[])[] {
  const rows: (readonly SpokenCue[])[] = [];
  for (let n = 0; n + 1 < cues.length; ) {
    const step = stepAt(cues, n);
    let to = n + 1;
    while (to < cues.length && isLike(cues[n], cues[to]) && isNear(stepAt(cues, to - 1), step)) to += 1;
    if (to - n >= ROW && step > 0) rows.push(cues.slice(n, to));
    n = to - n > 1 ? to - 1 : n + 1;
  }
  return rows;
}

const stepAt = (cues: readonly SpokenCue[], n: number): number =>
  (cues[n + 1]?.cue.start ?? 0) - (cues[n]?.cue.start ?? 0);
const lengthOf = (own: SpokenCue | undefined): number => (own?.cue.end ?? 0) - (own?.cue.start ?? 0);
const isNear = (a: number, b: number): boolean => Math.abs(a - b) <= ROUNDED;
const isLike = (a: SpokenCue | undefined, b: SpokenCue | undefined): boolean => isNear(lengthOf(a), lengthOf(b));

function isUneven(row: readonly SpokenCue[]): boolean {
  const counts = row.map(({ count }) => count);
  const [least, most] = [Math.min(...counts), Math.max(...counts)];
  return most - least >= MORE && most >= least * TIMES;
}

function tell(row: readonly SpokenCue[], subject: Subject): readonly Doubt[] {
  const [first, last] = [row[0], row.at(-1)];
  if (first === undefined || last === undefined) return [];
  const counts = row.map(({ count }) => count);
  const says =
    `${row.length} captions from ${formatClock(first.cue.start)} to ${formatClock(last.cue.end)} begin every ` +
    `${seconds(stepAt(row, 0))}, whether they have ${Math.min(...counts)} words or ${Math.max(...counts)}: a clock's times, and no speaker's.`;
  return doubtOf(first.words, subject, says, mendOf(subject)).map((doubt) => ({ ...doubt, answered: false }));
}
