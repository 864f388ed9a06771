import { stretchesOf } from "../../derive/stretches.ts";
import type { Check } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";

/** Before a programme its music plays. */
const BEFORE_MEND =
  "Listen there: recognisers make words up over opening music. Delete what nobody said, or move the first in point.";

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
    const begins = Math.min(...episode.segments.map((segment) => segment.in));
    return runs.flatMap((words) => {
      const isBefore = (words[0]?.cue.start ?? 0) < begins;
      const where = isBefore ? "before the first in point" : "in no segment";
      return doubtOf(
        words,
        subject,
        `${words.length} words stand ${where}, from “${quoted(words.slice(0, 5))}”.`,
        isBefore ? BEFORE_MEND : "Move an in or out point, or add the segment.",
      );
    });
  },
};
