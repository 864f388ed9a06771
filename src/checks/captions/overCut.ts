import { formatClockExact } from "../../model/clock.ts";
import { firstWhere } from "../../model/firstWhere.ts";
import type { Check } from "../check.ts";
import { ofCues } from "./cues.ts";

/** A caption may lie over a cut by this, which nobody sees: two frames. Milliseconds; common practice, no source. */
const OVER = 80;

export const captionOverCut: Check = {
  name: "caption-over-cut",
  level: "warns",
  group: "captions",
  reason: "A caption over a cut shows words that the recording does not have, or too long.",
  looks:
    "Captions that begin before a cut of the recording and end in it, or begin in it and end after it, by over two frames.",
  example: "A caption from 4:50.9 to 4:52.4 over a cut at 4:51.464.",
  accept: "Its words are all heard.",
  judge: (subject) => {
    const { clock, cuts } = subject.episode;
    const edges = clock === "aired" ? cuts.flatMap(({ from, to }) => [from, to]) : [];
    return ofCues(
      subject,
      "captions lie over a cut",
      "End it at the cut, and give the rest its own caption.",
      ({ start, end }) => {
        const edge = edges[firstWhere(edges.length, (n) => (edges[n] ?? 0) > start + OVER)];
        return edge === undefined || end <= edge + OVER ? null : `It lies over the cut at ${formatClockExact(edge)}.`;
      },
    );
  },
};
