import { readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { checksumsPath } from "../model/address.ts";
import { readKept, writeKept } from "../write/kept.ts";
import { stateName, statePathOf } from "./state.ts";

/** Finds the states that belong to a site by its checksum lists, which are large: a list with the size and times that it had is not read. */
export interface ListNames {
  /** Where the state of a list is kept, a year's or "site"; null: the site has no such list. */
  pathOf(list: string): string | null;
  /** Keeps what was learned of lists for the next build. */
  keep(): Promise<void>;
}

interface KnownList {
  readonly sign: string;
  readonly name: string;
}
type Known = Readonly<Record<string, KnownList>>;

/** Times of files are only so exact: what changed less than this before it was looked at may have changed after, in milliseconds. */
export const TOO_YOUNG_MS = 2000;

export function listNames(site: string, kept: string, now: number): ListNames {
  const before = readKept<Known>(keptIn(kept)) ?? {};
  const after: Record<string, KnownList> = {};
  return {
    pathOf(list) {
      const stats = statsOfList(site, list, now);
      if (stats === null) return null;
      const known = before[list];
      const name = known?.sign === stats.sign ? known.name : stateName(list, readFileSync(stats.file));
      if (!stats.isYoung) after[list] = { sign: stats.sign, name };
      return statePathOf(kept, name);
    },
    async keep() {
      if (JSON.stringify(after) !== JSON.stringify(before)) await writeKept(keptIn(kept), after);
    },
  };
}

/**
 * Keeps what a build knows of the lists that it left in the site: the next build need not read them. Those that it found
 * there keep the sign they were found with: what somebody did to one since gives it away. @param names by list.
 */
export async function keepListNames(
  site: string,
  kept: string,
  names: ReadonlyMap<string, string>,
  now: number,
): Promise<void> {
  const before = readKept<Known>(keptIn(kept)) ?? {};
  const known = [...names].flatMap(([list, name]) => {
    const found = before[list];
    if (found?.name === name) return [[list, found] as const];
    const stats = statsOfList(site, list, now);
    return stats === null || stats.isYoung ? [] : [[list, { sign: stats.sign, name }] as const];
  });
  await writeKept(keptIn(kept), Object.fromEntries(known));
}

const keptIn = (kept: string): string => join(kept, "lists");

/** The sign by which a list is known again. @returns null: the site has no such list. */
function statsOfList(site: string, list: string, now: number) {
  const file = join(site, checksumsPath(list));
  const found = statSync(file, { throwIfNoEntry: false });
  if (found === undefined) return null;
  return { file, sign: `${found.size} ${found.mtimeMs} ${found.ino}`, isYoung: found.mtimeMs + TOO_YOUNG_MS >= now };
}
