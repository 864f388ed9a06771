import { holdingOf } from "../../derive/holdings.ts";
import { formatClock } from "../../model/clock.ts";
import { areEdgesGuessed } from "../../record/held.ts";
import { GUESS_MS } from "../../record/stretch.ts";
import type { Check } from "../check.ts";
import { doubtAt } from "../doubts.ts";

export const heldEdgeGuessed: Check = {
  name: "held-edge-guessed",
  level: "blocks",
  group: "rights",
  reason:
    "Where times are guesses, the first words of what may not be given can stand in the captions of the item before it.",
  looks:
    `Segments whose words may not be given on the day, in an episode with \`times: guessed\`, or beside a proposed in point, without \`edges: heard\`. Until ` +
    `somebody has listened, captions within ${GUESS_MS / 1000} seconds of the segment are held back with it.`,
  example: "A withheld agency item from 5:04 to 5:40, and a raw transcript in blocks of twenty seconds.",
  accept: "What blocks can't be accepted: listen to both edges, and write `edges: heard` into the segment.",
  judge: ({ episode, day }) => {
    return episode.segments.flatMap((segment) => {
      if (holdingOf(segment, episode, day).words || !areEdgesGuessed(segment, episode)) return [];
      const says = `“${segment.title}” may not be given, and where its words begin and end is a guess: captions within ${GUESS_MS / 1000} seconds of it are held back too.`;
      const mend = `Listen to ${formatClock(segment.in)} and ${formatClock(segment.out)}, put the in and out points right, and write \`edges: heard\` into the segment.`;
      return [doubtAt(segment.at, segment.in, says, mend)];
    });
  },
};
