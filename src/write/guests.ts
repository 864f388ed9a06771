import { existsSync, lstatSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { checksumsPath, isOfEpisodes, RECORD_PATH, SEARCH_PATH, SITE_MARK } from "../model/address.ts";
import { parseChecksums } from "../model/checksums.ts";
import { share } from "./share.ts";

/** What a site's folder holds at its top that no build made: `CNAME`, `robots.txt`, `.gitignore`, a folder of somebody's. */
export interface Guests {
  readonly names: readonly string[];
  /** False where the site's own list is missing: then nobody knows which these are. */
  readonly isSure: boolean;
}

/** The guests of a site, by its checksum lists: folders of episodes and years are never guests. */
export function guestsOf(site: string): Guests {
  if (!existsSync(site)) return { names: [], isSure: true };
  const list = join(site, checksumsPath("site"));
  const isSure = existsSync(list);
  const paths = isSure ? [...parseChecksums(readFileSync(list, "utf8")).keys()] : [];
  const own = new Set([RECORD_PATH, SEARCH_PATH, SITE_MARK, ...paths].map(topOf));
  const names = readdirSync(site).filter(
    (name) => !own.has(name) && !(isOfEpisodes(name) && lstatSync(join(site, name)).isDirectory()),
  );
  return { names, isSure };
}

/** What became of a site's guests in a swap. */
export interface Carried {
  readonly carried: readonly string[];
  /** They stand where the new site has something of its own, so that nothing was put in place. */
  readonly inTheWay: readonly string[];
}

/** Gives a tree the guests of the site that serves, and no others: those that it still has of an earlier build go. */
export function carryGuests(serves: string, tree: string): Carried {
  const before = guestsOf(tree);
  if (before.isSure) for (const name of before.names) rmSync(join(tree, name), { recursive: true, force: true });
  const { names, isSure } = guestsOf(serves);
  const taken = names.filter((name) => existsSync(join(tree, name)));
  const carried = names.filter((name) => !taken.includes(name));
  for (const name of carried) share(join(serves, name), join(tree, name));
  return { carried, inTheWay: isSure ? taken : [] };
}

const topOf = (path: string): string => path.split("/")[0] ?? "";
