import { formatClockExact } from "../model/clock.ts";
import type { Episode } from "../model/episode.ts";
import type { Finding, Place } from "../model/finding.ts";
import { toMedia } from "../model/timeMap.ts";
import type { ClockMs } from "../model/units.ts";

/** In and out points, and corrections' moments, that the recording does not have: links to them lead to the cut's edge. */
export function timesInCuts(episode: Episode): readonly Finding[] {
  const points = episode.segments.flatMap(({ slug, in: start, out, at }) => [
    { what: `The in point of ${slug}`, ms: start, at },
    { what: `The out point of ${slug}`, ms: out, at },
  ]);
  const moments = episode.corrections.flatMap(({ at: ms, place: at }) =>
    ms === null ? [] : [{ what: "The moment", ms, at }],
  );
  return [...points, ...moments].filter(({ ms }) => isInside(ms, episode)).map(told);
}

/** Whether a moment lies inside a cut, and not at its edge. */
const isInside = (at: ClockMs, episode: Episode): boolean =>
  toMedia(at, episode) === null && episode.cuts.every(({ from }) => from !== at);

function told({ what, ms, at }: { readonly what: string; readonly ms: ClockMs; readonly at: Place }): Finding {
  return {
    rule: "time-in-cut",
    level: "warns",
    at,
    seconds: ms / 1000,
    says: `${what}, ${formatClockExact(ms)}, was cut from the recording: links lead to the edge of the cut.`,
    mend: "Check it, and `cuts`; nothing is to do where a segment was cut in part.",
  };
}
