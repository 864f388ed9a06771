import { type ByBroadcast, type Tally, togetherOf } from "../../src/model/proposal.ts";

/** What came of a proposal in one transcript. */
export interface Outcome<Kind extends string> {
  readonly kind: Kind;
  readonly broadcast: string;
  /** What was proposed: the same in every transcript of a broadcast. */
  readonly of: string;
  readonly right: boolean;
}

/** By kind and broadcast: each thing counts once a kind, and as right where it was so in every transcript. */
export function tallyOf<Kind extends string>(
  kinds: readonly Kind[],
  outcomes: readonly Outcome<Kind>[],
): Readonly<Record<Kind, ByBroadcast>> {
  const tallied = (own: readonly Outcome<Kind>[]): Tally => {
    const all = new Set(own.map(({ of }) => of));
    const wrong = new Set(own.filter(({ right }) => !right).map(({ of }) => of));
    return { right: all.size - wrong.size, of: all.size };
  };
  const byBroadcast = (own: readonly Outcome<Kind>[]): ByBroadcast =>
    Object.fromEntries(
      [...new Set(own.map(({ broadcast }) => broadcast))]
        .sort()
        .map((id) => [id, tallied(own.filter(({ broadcast }) => broadcast === id))]),
    );
  const rows = kinds.map((kind) => [kind, byBroadcast(outcomes.filter((one) => one.kind === kind))]);
  return Object.fromEntries(rows) as Record<Kind, ByBroadcast>;
}

/** What the other broadcasts would have had us state of a kind, and what was true of the one left out. */
export interface LeftOut {
  readonly kind: string;
  readonly broadcast: string;
  readonly stated: Tally;
  readonly true: Tally;
}

export const leftOutOf = (measured: Readonly<Record<string, ByBroadcast>>): readonly LeftOut[] =>
  Object.entries(measured).flatMap(([kind, own]) =>
    Object.entries(own).map(([broadcast, tally]) => ({
      kind,
      broadcast,
      stated: togetherOf(own, broadcast),
      true: tally,
    })),
  );
