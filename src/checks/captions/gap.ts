import { CAPTION_FIGURES } from "../../model/captions.ts";
import type { Check } from "../check.ts";
import { ofCues, seconds } from "./cues.ts";

export const captionGap: Check = {
  name: "caption-gap",
  level: "warns",
  group: "captions",
  reason: "A gap of a few frames looks like a flash, and the eye goes back to the beginning.",
  looks: `Gaps of under ${seconds(CAPTION_FIGURES.gap)} to the next caption: in a pause none, or at least that (BBC §4.5). \`captions.gap\` of programme.md sets another.`,
  example: "A gap of 0.3 s.",
  accept: "The player closes small gaps itself.",
  judge: (subject) =>
    ofCues(
      subject,
      "captions leave a short gap to the next",
      "Let it stand until the next begins, or leave a second.",
      (cue, { gap: least }, next) => {
        const gap = next === undefined ? 0 : next.start - cue.end;
        return gap > 0 && gap < least ? `A gap of ${seconds(gap)} to the next caption.` : null;
      },
    ),
};
