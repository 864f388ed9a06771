import { type Stretch, stretchesOf } from "../../derive/stretches.ts";
import { formatClock } from "../../model/clock.ts";
import { firstWhere } from "../../model/firstWhere.ts";
import type { LaidCue } from "../../record/laid.ts";
import type { Check } from "../check.ts";
import { doubtAt } from "../doubts.ts";
import type { Subject } from "../subject.ts";
import { AT_ONCE, fillsSilence, spokenCues, stallsIn } from "./stalls.ts";

/** Longer than this without a word or a sound in a segment that has speech. Milliseconds; common practice, no source. */
const SILENCE = 12_000;

export const stretchMissing: Check = {
  name: "stretch-missing",
  level: "warns",
  group: "recogniser",
  reason: "Recognisers drop whole stretches when they stall; what was said there is then in no caption and no search.",
  looks:
    "More than twelve seconds of a segment (breaks, and what was cut from the recording, aside) between two cues, before the first or " +
    "after the last, without speech or a sound in square brackets; unless the words that stalled beside it (times-stalled) fill it.",
  example: "Nothing stands between 6:13 and 6:34.",
  accept: "Nothing was said there. Better still: write the sound in square brackets, as [Waves].",
  judge: (subject) => {
    const lastBy = lastCues(subject.episode.cues);
    const stalls = stretchesOf(stallsIn(spokenCues(subject)), (stall) => stall);
    const isTold = (silence: Stretch) =>
      stalls.find(silence.from - AT_ONCE, silence.to + AT_ONCE, (stall) => fillsSilence(stall, silence)) !== undefined;
    const silences = silencesIn(subject).filter((silence) => !isTold(silence));
    return silences.map(({ from, to }) => {
      const says = `Nothing stands in the transcript from ${formatClock(from)} to ${formatClock(to)}, ${Math.round((to - from) / 1000)} seconds.`;
      const before = lastBy(from) ?? subject.episode.cues[0];
      return doubtAt(
        before?.at ?? subject.episode.at,
        from,
        says,
        "Listen there. Write down what was said, or the sound in square brackets.",
      );
    });
  },
};

/** The last cue of the file that has ended by a moment. */
function lastCues(cues: readonly LaidCue[]): (at: number) => LaidCue | undefined {
  const byEnd = [...cues.keys()].sort((a, b) => (cues[a]?.end ?? 0) - (cues[b]?.end ?? 0));
  const last: number[] = [];
  for (const n of byEnd) last.push(Math.max(n, last.at(-1) ?? n));
  return (at) => {
    const ended = firstWhere(byEnd.length, (n) => (cues[byEnd[n] ?? 0]?.end ?? 0) > at);
    return ended === 0 ? undefined : cues[last[ended - 1] ?? 0];
  };
}

/** The silent parts of the segments, in order. A cue covers its time, whatever it holds. */
export function silencesIn({ episode }: Pick<Subject, "episode">): readonly Stretch[] {
  if (episode.cues.length === 0) return [];
  const covered = [
    ...episode.cues.map(({ start, end }) => ({ from: start, to: end })),
    ...episode.cuts.map(({ from, to }) => ({ from, to })),
    ...episode.segments
      .filter(({ kind, withdrawn }) => kind === "break" || withdrawn !== null)
      .map((segment) => ({ from: segment.in, to: segment.out })),
  ].sort((a, b) => a.from - b.from);
  const end = Math.max(...episode.segments.map(({ out }) => out));
  const silences: Stretch[] = [];
  let at: number = Math.min(...episode.segments.map((segment) => segment.in));
  for (const { from, to } of covered) {
    if (from - at > SILENCE) silences.push({ from: at, to: from });
    at = Math.max(at, to);
  }
  if (end - at > SILENCE) silences.push({ from: at, to: end });
  return silences;
}
