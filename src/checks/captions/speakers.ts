import type { Check } from "../check.ts";
import { ofCues } from "./cues.ts";

export const captionSpeakers: Check = {
  name: "caption-speakers",
  level: "warns",
  group: "captions",
  reason: "In a caption of two voices nobody can tell who said what before it is gone.",
  looks:
    "Captions with the words of more than one speaker (BBC §5.6: do not caption two together unless they speak together).",
  example: "“Was that opposed? It was.” in one caption.",
  accept: "They speak at the same time.",
  judge: (subject) =>
    ofCues(subject, "captions hold two speakers", "Give each speaker a caption.", ({ pieces }) => {
      const voices = new Set(
        pieces.filter(({ words }) => words.trim() !== "").map(({ voice }) => voice ?? "nobody named"),
      );
      return voices.size > 1 ? `${[...voices].join(" and ")} speak in one caption.` : null;
    }),
};
