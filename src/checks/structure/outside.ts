import { stretchesOf } from "../../derive/stretches.ts";
import type { Check } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";

export const speechOutsideSegments: Check = {
  name: "speech-outside-segments",
  level: "warns",
  group: "structure",
  reason: "Words outside every segment are filed under the one before, where nobody looks for them.",
  looks: "Captions of speech whose middle lies in no segment; those that follow one another are told once.",
  example: "“Thank you, and good night.” after the last out point.",
  accept: "It doesn't matter which segment they are filed under.",
  judge: (subject) => {
    const { episode, spoken } = subject;
    const runs: Word[][] = [];
    const segments = stretchesOf(episode.segments, (segment) => ({ from: segment.in, to: segment.out }));
    let inside = true;
    for (const [cue, words] of spoken.inCue) {
      const middle = (cue.start + cue.end) / 2;
      const isInside = segments.find(middle, middle, () => true) !== undefined;
      if (!isInside && inside) runs.push([]);
      if (!isInside) for (const word of words) runs.at(-1)?.push(word);
      inside = isInside;
    }
    return runs.flatMap((words) =>
      doubtOf(
        words,
        subject,
        `${words.length} words stand in no segment, from “${quoted(words.slice(0, 5))}”.`,
        "Move an in or out point, or add the segment.",
      ),
    );
  },
};
