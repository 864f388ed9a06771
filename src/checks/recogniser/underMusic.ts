import { stretchesOf } from "../../derive/stretches.ts";
import { grouped } from "../../model/grouped.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted } from "../speech.ts";
import type { Subject } from "../subject.ts";

/** How much of a cue must lie under music to be heard in it. */
const UNDER = 0.8;

export const wordsUnderMusic: Check = {
  name: "words-under-music",
  level: "warns",
  group: "recogniser",
  reason: "Under music alone there is nothing to write down: such words are the recogniser's own.",
  looks:
    "Cues that name no speaker, or one who is only proposed, and lie, for four fifths of their time, under a sound cue of music.",
  example: "“Stay with us.” from 0:01 to 0:03, under [Theme music].",
  accept: "Somebody did speak over the music.",
  judge: underMusic,
};

function underMusic(subject: Subject): readonly Doubt[] {
  const music = subject.spoken.sounds.filter(({ text }) => /\b(?:music|sting|jingle|theme|song)\b/i.test(text));
  const played = stretchesOf(music, ({ cue }) => ({ from: cue.start, to: cue.end }));
  const byCue = grouped(
    subject.spoken.words.filter(({ voice, cue, piece }) => voice === null || cue.pieces[piece]?.proposed === true),
    ({ cue }) => cue,
  );
  return [...byCue].flatMap(([cue, words]) => {
    const over = played.find(cue.start, cue.end, ({ cue: sound }) => {
      const shared = Math.min(cue.end, sound.end) - Math.max(cue.start, sound.start);
      return shared >= (cue.end - cue.start) * UNDER;
    });
    if (over === undefined) return [];
    return doubtOf(
      words,
      subject,
      `“${quoted(words)}” stands under [${over.text}], and nobody is known to say it.`,
      "Listen there. Delete it unless somebody said it, and then name who.",
    );
  });
}
