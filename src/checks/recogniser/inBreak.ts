import { stretchesOf } from "../../derive/stretches.ts";
import type { LaidCue } from "../../record/laid.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";

/** Fewer words than this in a break are the end of what was said before it. */
const FEW = 3;
/** How much of a cue must lie under music to be heard in it. */
const UNDER = 0.8;

export const wordsInBreak: Check = {
  name: "words-in-break",
  level: "warns",
  group: "recogniser",
  reason: "In a break, and under music alone, there is nothing to write down: such words are the recogniser's own.",
  looks:
    "Three words or more in cues whose middle lies in a segment of the kind break; and cues that name no speaker and lie, for four " +
    "fifths of their time, under a sound cue of music.",
  example: "“Stay with us awhile.” at 4:52, in the break.",
  accept: "Somebody did speak there, in a trailer for instance.",
  judge: (subject) => [...inBreaks(subject), ...underMusic(subject)],
};

function inBreaks(subject: Subject): readonly Doubt[] {
  const { episode, spoken } = subject;
  const middleOf = ({ start, end }: LaidCue) => (start + end) / 2;
  const byMiddle = stretchesOf([...spoken.inCue.keys()], (cue) => ({ from: middleOf(cue), to: middleOf(cue) + 1 }));
  return episode.segments
    .filter(({ kind }) => kind === "break")
    .flatMap((segment) => {
      const words: Word[] = [];
      byMiddle.find(segment.in - 1, segment.out, (cue) => {
        const isInside = segment.in <= middleOf(cue) && middleOf(cue) < segment.out;
        if (isInside) for (const word of spoken.inCue.get(cue) ?? []) words.push(word);
        return false;
      });
      if (words.length < FEW) return [];
      const says = `${words.length} words stand in the break “${segment.title}”, from “${quoted(words.slice(0, 5))}”.`;
      return doubtOf(
        words,
        subject,
        says,
        "Listen there. Delete what nobody said, or move the break's in and out points.",
      );
    });
}

function underMusic(subject: Subject): readonly Doubt[] {
  const music = subject.spoken.sounds.filter(({ text }) => /\b(?:music|sting|jingle|theme|song)\b/i.test(text));
  const byTime = stretchesOf(music, ({ cue }) => ({ from: cue.start, to: cue.end }));
  return [...subject.spoken.inCue].flatMap(([cue, all]) => {
    const words = all.filter(({ voice }) => voice === null);
    if (words.length === 0) return [];
    const over = byTime.find(cue.start - 1, cue.end, ({ cue: sound }) => {
      const shared = Math.min(cue.end, sound.end) - Math.max(cue.start, sound.start);
      return shared >= (cue.end - cue.start) * UNDER;
    });
    if (over === undefined) return [];
    return doubtOf(
      words,
      subject,
      `“${quoted(words)}” stands under [${over.text}] and names no speaker.`,
      "Listen there. Delete it unless somebody said it, and then name who.",
    );
  });
}
