import type { Check } from "../check.ts";
import { doubtAt } from "../doubts.ts";
import { finderOf } from "../finder.ts";

export const agencyCreditMissing: Check = {
  name: "agency-credit-missing",
  level: "warns",
  group: "rights",
  reason: "An agency's words without its name break the contract under which they were sent.",
  looks:
    "Agency segments that name nobody: no `by`, or no `rights` with a `holder`, and no agency of the register in their words.",
  example: "A segment of the kind agency with `by: []`.",
  accept: "The contract asks for no credit.",
  judge: ({ episode, spoken, programme }) => {
    const agencies = finderOf(
      programme.names.flatMap(({ kind, name }) =>
        kind === "organisation" && /agency|press|news/i.test(name) ? [name] : [],
      ),
    );
    return episode.segments.flatMap((segment) => {
      if (segment.kind !== "agency" || segment.withdrawn !== null) return [];
      const isSpoken = () => agencies([{ words: spoken.inSegment.get(segment.slug)?.words ?? [] }]).length > 0;
      const holder = segment.rights?.holder ?? null;
      if (segment.by.length > 0 && (holder !== null || isSpoken())) return [];
      const missing = segment.by.length === 0 ? "no reporter (`by`)" : "no agency (`rights: { holder: … }`)";
      return [
        doubtAt(
          segment.at,
          segment.in,
          `“${segment.title}” is an agency's, and names ${missing}.`,
          "Add the credit that the agency asks for.",
        ),
      ];
    });
  },
};
