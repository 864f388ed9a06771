import type { Asked } from "./asked.ts";
import type { Query } from "./query.ts";
import { type Hit, rank, type TierHits } from "./rank.ts";

/** What segments are counted by, beside their years. */
export const GROUPS = ["speaker", "topic", "place", "kind", "corrected"] as const;
export type Group = (typeof GROUPS)[number];

/** Which records of a tier have a value of a group, by id. */
export type Having = (group: Group, value: string) => ReadonlySet<string>;

/** A question as some tiers answer it. */
export interface Answered {
  readonly asked: Asked;
  readonly tiers: readonly { readonly hits: Pick<TierHits<unknown>, "clauses">; readonly having: Having }[];
}

/** The values that a search is narrowed to in each group. */
export const chosenIn = ({
  speaker,
  topic,
  place,
  kinds,
  corrected,
}: Query): Readonly<Record<Group, readonly string[]>> => ({
  speaker: speaker === null ? [] : [speaker],
  topic: topic === null ? [] : [topic],
  place: place === null ? [] : [place],
  kind: kinds,
  corrected: corrected ? ["1"] : [],
});

/**
 * How many segments the search has with this value alone in its group, and all that is chosen in the others. They are
 * ranked again: what lacks a word is found only where nothing better is, and that another value may leave out.
 * @param answers what was meant before what was typed: as in a search, the first that has any is the one that counts.
 */
export function countOf(answers: readonly Answered[], query: Query, group: Group, value: string): number {
  const others = Object.entries(chosenIn(query)).filter(([name, values]) => name !== group && values.length > 0);
  for (const { asked, tiers } of answers) {
    const own = tiers.flatMap(({ hits, having }) => {
      const kept = others.map(([name, values]) => values.map((other) => having(name as Group, other))); // a key of the record
      const ids = [...having(group, value)].filter((id) => kept.every((any) => any.some((set) => set.has(id))));
      return ids.length === 0 ? [] : [only(hits, ids)];
    });
    const count = foundIn(own, asked);
    if (count > 0) return count;
  }
  return 0;
}

function foundIn(tiers: readonly TierHits<string>[], { clauses }: Asked): number {
  if (clauses.length === 0) return tiers.reduce((sum, { size }) => sum + size, 0);
  const at = clauses.map(({ is, weak }, place) => ({ place, must: is === "phrase", weak: weak === true }));
  return rank(
    tiers,
    at.flatMap(({ must, place }) => (must ? [place] : [])),
    at.flatMap(({ weak, place }) => (weak ? [place] : [])),
  ).length;
}

const NOWHERE: ReadonlyMap<string, Hit> = new Map();
/** Where and how well decides about the order, which nobody sees here. */
const THERE: Hit = { score: 0, places: [], fields: [] };

/** What a tier has in these records alone: most values have few, so each is gone through once. */
function only({ clauses }: Pick<TierHits<unknown>, "clauses">, ids: readonly string[]): TierHits<string> {
  return {
    size: ids.length,
    records: new Map(ids.map((id) => [id, id])),
    whole: NOWHERE,
    clauses: clauses.map(({ byId, begins }) => ({
      begins,
      byId: new Map(ids.flatMap((id) => (byId.has(id) ? [[id, THERE] as const] : []))),
    })),
  };
}
