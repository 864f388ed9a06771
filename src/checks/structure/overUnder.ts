import { findSlot } from "../../derive/slots.ts";
import { formatClock } from "../../model/clock.ts";
import { programmeEnd } from "../../model/timeMap.ts";
import type { Check } from "../check.ts";
import { doubtAt } from "../doubts.ts";

/** A segment may differ from its plan by a quarter and 15 seconds; a programme runs over by 10 seconds or under by a minute. */
const PLAN = { share: 0.25, ms: 15_000 } as const;
const SLOT = { over: 10_000, under: 60_000 } as const;

export const segmentOverUnder: Check = {
  name: "segment-over-under",
  level: "warns",
  group: "structure",
  reason:
    "A segment far off its planned duration has a wrong in or out point, or was dropped and left in the running order.",
  looks:
    "Segments that differ from `planned` by more than a quarter, and more than 15 seconds. Common practice, no source.",
  example: "A reader planned for 0:40 that runs for 1:35.",
  accept: "It did run so long.",
  judge: ({ episode }) =>
    episode.segments.flatMap((segment) => {
      const ran = segment.out - segment.in;
      const planned = segment.planned ?? ran;
      const off = Math.abs(ran - planned);
      if (off <= PLAN.ms || off <= planned * PLAN.share || segment.withdrawn !== null) return [];
      const says = `“${segment.title}” runs for ${formatClock(ran)}, ${formatClock(off)} ${ran > planned ? "over" : "under"} its plan of ${formatClock(planned)}.`;
      return [doubtAt(segment.at, segment.in, says, "Check the in points against the recording.")];
    }),
};

export const slotOverUnder: Check = {
  name: "slot-over-under",
  level: "warns",
  group: "structure",
  reason: "A programme that does not fit its slot was cut short, or its duration or cuts are written wrong.",
  looks:
    "A broadcast of over ten seconds more, or a minute less, than the slot of programme.md. Common practice, no source.",
  example: "27:10 in a slot of 28:30.",
  accept: "The slot was another on that day.",
  judge: ({ episode, programme }) => {
    if (episode.withdrawn !== null || (episode.clock === "media" && episode.cuts.length > 0)) return [];
    const ran = programmeEnd(episode);
    const slot = findSlot(programme.slots, episode);
    if (slot === undefined) return [];
    const over = ran - slot.runs;
    if (over <= SLOT.over && over >= -SLOT.under) return [];
    const says = `The broadcast ran for ${formatClock(ran)}, ${formatClock(Math.abs(over))} ${over > 0 ? "over" : "under"} the slot of ${formatClock(slot.runs)}.`;
    return [doubtAt(episode.at, null, says, "Check `duration` and `cuts`.")];
  },
};
