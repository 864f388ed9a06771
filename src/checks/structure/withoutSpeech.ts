import type { Check } from "../check.ts";
import { doubtAt } from "../doubts.ts";

export const segmentWithoutSpeech: Check = {
  name: "segment-without-speech",
  level: "warns",
  group: "structure",
  reason: "A segment without a word has no page worth having: its times are wrong, or its words are missing.",
  looks: "Segments, breaks aside, that no spoken word falls into.",
  example: "The weather from 6:55 to 7:29, without a word.",
  accept: "It is music or sound alone.",
  judge: ({ episode, spoken }) => {
    const speaking = new Set(spoken.words.map(({ segment }) => segment));
    return episode.segments
      .filter(({ slug, kind, withdrawn }) => kind !== "break" && withdrawn === null && !speaking.has(slug))
      .filter(() => spoken.words.length > 0)
      .map((segment) =>
        doubtAt(
          segment.at,
          segment.in,
          `No word is spoken in “${segment.title}”.`,
          "Check its in and out points against the transcript.",
        ),
      );
  },
};
