import { CAPTION_FIGURES } from "../../model/captions.ts";
import type { Check } from "../check.ts";
import { ofCues, seconds } from "./cues.ts";

export const captionTooShort: Check = {
  name: "caption-too-short",
  level: "warns",
  group: "captions",
  reason: "What stands for a second or so is seen as a flicker and not read.",
  looks:
    `Captions of under ${seconds(CAPTION_FIGURES.shortest)}, which DCMP writes as 1 s 10 frames; the BBC asks for 0.3 s a word (§4.1). ` +
    "`captions.shortest` of programme.md sets another.",
  example: "“Good evening.” for 0.73 s.",
  accept: "It is one short word, and the next caption follows at once.",
  judge: (subject) =>
    ofCues(
      subject,
      "captions stand too short",
      "Let it stand longer, or join it with its neighbour.",
      ({ start, end }, { shortest }) =>
        end - start < shortest ? `It stands for ${seconds(end - start)}, under ${seconds(shortest)}.` : null,
    ),
};
