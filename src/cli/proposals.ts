import { SHOWN } from "../actions/proposals.ts";
import { formatClock } from "../model/clock.ts";
import type { ProposedThing } from "../read/proposals.ts";

const HEAD =
  "Proposed, and not accepted by anybody yet; in brackets, how many of such were right on the broadcasts it was tuned on:";

/** What is proposed, for people. */
export function proposalsText(proposals: readonly ProposedThing[]): string {
  const more = proposals.length - SHOWN;
  return [HEAD, ...proposals.slice(0, SHOWN).map(rowOf), ...(more > 0 ? [`and ${more} more`] : [])].join("\n");
}

const rowOf = ({ what, name, ms, measured }: ProposedThing): string =>
  `${formatClock(ms).padStart(8)}  ${what.padEnd(8)}  ${name}${measured === null ? "" : ` (${measured})`}`;
