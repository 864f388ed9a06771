import type { NewEpisode } from "../actions/new.ts";
import { formatClock } from "../model/clock.ts";
import { counted } from "./report.ts";

/** What was made, for people: a line an in point, and whether it is only proposed. */
export function madeText({ folder, draft, cues, listened }: NonNullable<NewEpisode["made"]>): string {
  const lines = draft.segments.map(({ in: start, edgeState, kind, title }) => {
    const mark = edgeState === null ? "" : `proposed, ${edgeState}`;
    return `${formatClock(start).padStart(8)}  ${mark.padEnd(18)}  ${kind.padEnd(9)}  ${title}`;
  });
  const head = `${folder}: ${counted(cues, "cue")}, ${counted(draft.segments.length, "segment")}. In points:`;
  return [...(listened === null ? [] : [listened]), head, ...lines].join("\n");
}
