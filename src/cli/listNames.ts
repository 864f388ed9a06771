import { readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { checksumsPath } from "../model/address.ts";
import { readKept, writeKept } from "../write/kept.ts";
import { stateName, statePathOf } from "./buildState.ts";

/** Finds the states that belong to a site by its checksum lists, which are large: a list that looks as it did is not read. */
export interface ListNames {
  /** Where the state of a part is kept, a year or "site"; null: the site has nothing of it. */
  pathOf(part: string): string | null;
  /** Keeps what was learned of lists for the next build. */
  keep(): Promise<void>;
}

interface KnownList {
  readonly sign: string;
  readonly name: string;
}

/** Times of files are only so exact: what changed less than this before it was looked at may have changed after, in milliseconds. */
export const TOO_YOUNG_MS = 2000;

export function listNames(site: string, kept: string, now: number): ListNames {
  const path = join(kept, "lists");
  const before = readKept<Readonly<Record<string, KnownList>>>(path) ?? {};
  const after: Record<string, KnownList> = {};
  return {
    pathOf(part) {
      const file = join(site, checksumsPath(part));
      const found = statSync(file, { throwIfNoEntry: false });
      if (found === undefined) return null;
      const sign = `${found.size} ${found.mtimeMs} ${found.ino}`;
      const known = before[part];
      const name = known?.sign === sign ? known.name : stateName(part, readFileSync(file));
      if (found.mtimeMs + TOO_YOUNG_MS < now) after[part] = { sign, name };
      return statePathOf(kept, name);
    },
    async keep() {
      if (JSON.stringify(after) !== JSON.stringify(before)) await writeKept(path, after);
    },
  };
}
