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
  return episode.segments
    .filter(({ kind }) => kind === "break")
    .flatMap((segment) => {
      const words = spoken.words.filter(({ cue }) => {
        const middle = (cue.start + cue.end) / 2;
        return segment.in <= middle && middle < segment.out;
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
  const byCue = new Map<Word["cue"], Word[]>();
  for (const word of subject.spoken.words) {
    if (word.voice === null) byCue.set(word.cue, [...(byCue.get(word.cue) ?? []), word]);
  }
  return [...byCue].flatMap(([cue, words]) => {
    const over = music.find(({ cue: sound }) => {
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
