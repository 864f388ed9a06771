import { CAPTION_FIGURES } from "../../model/captions.ts";
import type { Check } from "../check.ts";
import { ofCues, seconds } from "./cues.ts";

export const captionTooLong: Check = {
  name: "caption-too-long",
  level: "warns",
  group: "captions",
  reason: "A caption that stands too long is read twice and no longer goes with the voice.",
  looks: `Captions of over ${seconds(CAPTION_FIGURES.longest)} (DCMP); \`captions.longest\` of programme.md sets another. A raw transcript in blocks has nothing else; one finding then speaks for all.`,
  example: "A block of 20 seconds.",
  accept: "The speaker takes that long over a few words.",
  judge: (subject) =>
    ofCues(subject, "captions stand too long", "Split it where the speaker pauses.", ({ start, end }, { longest }) =>
      end - start > longest ? `It stands for ${seconds(end - start)}, over ${seconds(longest)}.` : null,
    ),
};
