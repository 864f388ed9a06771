import { CAPTION_FIGURES } from "../../model/captions.ts";
import type { Check } from "../check.ts";
import { ofCues, wordsOf } from "./cues.ts";

export const captionLineLength: Check = {
  name: "caption-line-length",
  level: "warns",
  group: "captions",
  reason: "A long line is broken by the player wherever it likes, and covers the picture.",
  looks: `Lines of over ${CAPTION_FIGURES.line} characters, a teletext line (BBC §3.1). \`captions.line\` of programme.md sets another.`,
  example: "A line of 53 characters.",
  accept: "The captions are for a wide player of your own.",
  judge: (subject) =>
    ofCues(
      subject,
      "captions have a line that is too long",
      "Break it at a clause, or split the caption.",
      (cue, figures) => {
        const lines = wordsOf(cue, figures).split("\n");
        const longest = lines.reduce((most, { length }) => Math.max(most, length), 0);
        return longest > figures.line ? `A line of ${longest} characters, over ${figures.line}.` : null;
      },
    ),
};
