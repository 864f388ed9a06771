import { CAPTION_FIGURES } from "../../model/captions.ts";
import type { Check } from "../check.ts";
import { ofCues, wordsOf } from "./cues.ts";

export const captionLines: Check = {
  name: "caption-lines",
  level: "warns",
  group: "captions",
  reason: "Three lines hide what the picture shows, and often the face of who speaks.",
  looks: `Captions of over ${CAPTION_FIGURES.lines} lines (BBC §3.3; upright pictures may have three). \`captions.lines\` of programme.md sets another.`,
  example: "A caption of four lines.",
  accept: "The picture is upright.",
  judge: (subject) =>
    ofCues(subject, "captions have too many lines", "Split the caption.", (cue, figures) => {
      const lines = wordsOf(cue, figures).split("\n").length;
      return lines > figures.lines ? `${lines} lines, over ${figures.lines}.` : null;
    }),
};
