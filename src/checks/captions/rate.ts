import { countWords } from "../../derive/turns.ts";
import { CAPTION_FIGURES } from "../../model/captions.ts";
import type { Check } from "../check.ts";
import { ofCues, seconds, wordsOf } from "./cues.ts";

/** A rate of fewer words says nothing. */
const LEAST_WORDS = 4;

export const captionRate: Check = {
  name: "caption-rate",
  level: "warns",
  group: "captions",
  reason: "A caption that goes faster than people read is no caption for those who need it.",
  looks:
    `Captions of ${LEAST_WORDS} words or more that run at over ${CAPTION_FIGURES.fastest} words a minute: the most that DCMP allows; the ` +
    "BBC's target is 160 to 180 (§4). `captions.fastest` of programme.md sets another.",
  example: "Twelve words in 2.5 seconds: 288 words a minute.",
  accept: "The speaker is that fast, and cutting words would change what was said.",
  judge: (subject) =>
    ofCues(
      subject,
      "captions are faster than people read",
      "Let it stand longer, or split it where the speaker pauses.",
      (cue, { fastest }) => {
        const [words, long] = [countWords(wordsOf(cue)), cue.end - cue.start];
        if (long <= 0 || words < LEAST_WORDS) return null;
        const rate = (words * 60_000) / long;
        return rate > fastest ? `${words} words in ${seconds(long)} are ${Math.round(rate)} words a minute.` : null;
      },
    ),
};
