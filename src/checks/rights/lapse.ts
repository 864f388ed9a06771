import { DateTime } from "luxon";
import { holdingOf } from "../../derive/holdings.ts";
import type { Check } from "../check.ts";
import { doubtAt } from "../doubts.ts";

/** Days ahead that are told of. */
const AHEAD = 30;

export const rightsLapse: Check = {
  name: "rights-lapse",
  level: "warns",
  group: "rights",
  reason: "On the day a restriction lapses, the next build shows everything; somebody should know before.",
  looks: `Segments that are withheld on the day and will be shown within ${AHEAD} days. \`check --on DATE\` looks at another day.`,
  example: "Withheld until 2026-10-14, checked on 12 October.",
  accept: "The date was checked against the contract.",
  judge: ({ episode, day }) =>
    episode.segments.flatMap((segment) => {
      const until = segment.rights?.until ?? null;
      if (!holdingOf(segment, episode, day).withheld || until === null || segment.withdrawn !== null) return [];
      const days = DateTime.fromISO(until).diff(DateTime.fromISO(day), "days").days;
      if (days > AHEAD) return [];
      const says = `“${segment.title}” is withheld until ${until}: in ${days} ${days === 1 ? "day" : "days"} it will be shown whole.`;
      return [
        doubtAt(segment.at, segment.in, says, "Check the date against the contract, and that the recording holds it."),
      ];
    }),
};
