import { stretchesOf } from "../../derive/stretches.ts";
import { formatClock } from "../../model/clock.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import type { Subject } from "../subject.ts";
import { type SpokenCue, spokenCues, stallsIn } from "./stalls.ts";

/** News is read at 130 to 180 words a minute; a stretch under 60 or over 230 deserves a look. Common practice, no source. */
const PACE = { slow: 60, fast: 230 } as const;
/** How long a stretch must be before its pace says something. Milliseconds, words. */
const STRETCH = { ms: 30_000, words: 90 } as const;
/** Cues closer than this are one stretch. Milliseconds. */
const JOINED = 1000;

interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly cues: readonly SpokenCue[];
}

export const paceTooFast: Check = {
  name: "pace-too-fast",
  level: "warns",
  group: "recogniser",
  reason:
    "More words than a newsreader says mean that the times are wrong: captions would go by too fast, and moments would open at the wrong place.",
  looks:
    "A stretch of half a minute or more, and ninety words, at over 230 words a minute (news is read at 130 to 180); but for captions " +
    "that nobody can say (times-stalled). Common practice, no source.",
  example: "124 words from 6:11 to 6:42.",
  accept: "An auctioneer, a race commentary, a list read against the clock.",
  judge: (subject) => fastStretches(spokenCues(subject)).flatMap((stretch) => tell(stretch, subject)),
};

export const paceTooSlow: Check = {
  name: "pace-too-slow",
  level: "warns",
  group: "recogniser",
  reason: "A few words stretched over a long time mean that others are missing there, or that the times are wrong.",
  looks:
    "A cue of eight seconds or more with under 60 words a minute (news is read at 130 to 180). Common practice, no source.",
  example: "Six words in a block of 20 seconds.",
  accept: "Somebody did speak so slowly, or the cue is held over a pause.",
  judge: (subject) =>
    spokenCues(subject).flatMap(({ cue, count, words }) => {
      const long = cue.end - cue.start;
      if (long < 8000 || count === 0 || (count * 60_000) / long >= PACE.slow) return [];
      const says = `${count} words in ${Math.round(long / 1000)} seconds are ${Math.round((count * 60_000) / long)} words a minute.`;
      return doubtOf(words, subject, says, "Listen for words that are missing, and check the times.");
    }),
};

function tell({ from, to, cues }: Stretch, subject: Subject): readonly Doubt[] {
  const count = cues.reduce((sum, own) => sum + own.count, 0);
  const pace = Math.round((count * 60_000) / (to - from));
  const says = `${count} words from ${formatClock(from)} to ${formatClock(to)} are ${pace} words a minute.`;
  const words = cues.flatMap((own) => own.words);
  return doubtOf(words, subject, says, "Check the times there against the recording; news is read at 130 to 180.");
}

/** Stretches that are too fast, joined where they touch. `cues`: in the order of their times. */
function fastStretches(cues: readonly SpokenCue[]): readonly Stretch[] {
  const joined: { from: number; to: number }[] = [];
  for (const { from, to } of fastSpans(cues)) {
    const last = joined.at(-1);
    if (last !== undefined && from <= last.to + JOINED) last.to = Math.max(last.to, to);
    else joined.push({ from, to });
  }
  const byTime = stretchesOf(cues, ({ cue }) => ({ from: cue.start, to: cue.end }));
  return joined.map(({ from, to }) => {
    const own: SpokenCue[] = [];
    byTime.find(from - 1, to, (one) => {
      if (one.cue.start >= from && one.cue.end <= to) own.push(one);
      return false;
    });
    return { from, to, cues: own };
  });
}

/** What is too fast from each cue on: the shortest stretch that is long enough to tell. Stalled times have no pace. */
function fastSpans(cues: readonly SpokenCue[]): readonly { readonly from: number; readonly to: number }[] {
  const before = [0];
  for (const { count } of cues) before.push((before.at(-1) ?? 0) + count);
  const wordsFrom = (n: number, to: number) => (before[to + 1] ?? 0) - (before[n] ?? 0);
  const stalled = new Set(stallsIn(cues).flatMap((stall) => stall.cues));
  const ends = runEnds(cues, stalled);
  // A stretch that is too short from one cue on is so from every later one.
  let last = 0;
  return cues.flatMap((own, n) => {
    const { start, end } = own.cue;
    if (stalled.has(own)) return [];
    const runEnd = ends[n] ?? n;
    last = Math.max(last, n);
    const isTooShort = () => (cues[last]?.cue.end ?? 0) - start < STRETCH.ms || wordsFrom(n, last) < STRETCH.words;
    while (last <= runEnd && isTooShort()) last += 1;
    if (last > runEnd) return [];
    const to = cues[last]?.cue.end ?? end;
    return wordsFrom(n, last) * 60_000 > (to - start) * PACE.fast ? [{ from: start, to }] : [];
  });
}

/** For each cue the last one that it runs on to: with no pause between, and none that stalled. */
function runEnds(cues: readonly SpokenCue[], stalled: ReadonlySet<SpokenCue>): readonly number[] {
  const ends: number[] = [];
  for (let n = cues.length - 1; n >= 0; n--) {
    const [own, next] = [cues[n], cues[n + 1]];
    const runsOn =
      own !== undefined && next !== undefined && next.cue.start - own.cue.end <= JOINED && !stalled.has(next);
    ends[n] = runsOn ? (ends[n + 1] ?? n) : n;
  }
  return ends;
}
