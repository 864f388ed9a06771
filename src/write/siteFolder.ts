import { randomUUID } from "node:crypto";
import { existsSync, mkdirSync, rmSync } from "node:fs";
import { readdir, rename, rm } from "node:fs/promises";
import { join } from "node:path";
import { type Carried, carryGuests } from "./guests.ts";
import { makeCache } from "./mark.ts";
import { cacheOf } from "./outFolder.ts";
import { share } from "./share.ts";
import { lockSite } from "./siteLock.ts";
import { empty, insideOf, readBehind, resetBehind, type Standby, standbyAt } from "./standby.ts";
import { nodeSwap, type SwapCalls } from "./swapCalls.ts";

/** An output folder under a build of ours: the site that serves, and the standby that is to take its place. */
export interface SiteFolder extends Standby {
  /** The site that serves, which may not be there yet. */
  readonly serves: string;
  /** Where things are kept between builds, beside it. All of it can be taken away at any time. */
  readonly kept: string;
  /**
   * Makes the standby the same as the site that serves: costs what changed since it was that. Also after a swap: what the
   * old site had and the new one has not is then kept nowhere.
   */
  catchUp(): void;
  /** Makes the standby empty. */
  startOver(): void;
  /** Whether anything was written since they were the same. */
  differs(): boolean;
  /** Puts the standby in the place of the site that serves, and takes along what no build made there. */
  swapIn(): Promise<Carried>;
  /** Ends the work, swapped in or not. */
  close(): Promise<void>;
}

/**
 * Opens the folder of a site, after waiting for a build that is under way. A swap exchanges two folders in one step. Where
 * the system can't, it is renames: the site that serves steps aside, the standby steps in, and the old site becomes the
 * standby; a build killed between them leaves the old one aside, and this puts it back first.
 * @param serves as `outFolder` gave it. @param waiting is told who is waited for.
 */
export async function openSite(
  serves: string,
  waiting: (owner: string, lock: string) => void,
  calls: SwapCalls = nodeSwap,
): Promise<SiteFolder> {
  const kept = cacheOf(serves);
  const aside = join(kept, "aside");
  makeCache(kept);
  const release = await lockSite(join(kept, "lock"), waiting);
  let path: string;
  try {
    await endSwap(serves, aside, join(kept, `${TREE}aside`));
    path = await renameTree(kept);
  } catch (error) {
    await release();
    throw error;
  }
  const standby = standbyAt(kept, path);
  const renewAll = (): void => {
    resetBehind(kept, "anywhere");
    rmSync(path, { recursive: true, force: true });
    mkdirSync(path, { recursive: true });
  };
  const catchUp = (): void => {
    const behind = existsSync(path) ? readBehind(kept) : null;
    if (behind === null) {
      renewAll();
      share(serves, path);
    } else {
      for (const place of behind) {
        empty(insideOf(path)(place), path);
        share(join(serves, place), join(path, place));
      }
    }
    resetBehind(kept, "nowhere");
  };
  return {
    ...standby,
    serves,
    kept,
    catchUp,
    startOver: renewAll,
    differs: () => readBehind(kept)?.length !== 0,
    async swapIn() {
      const guests = carryGuests(serves, path);
      if (guests.inTheWay.length > 0) return guests;
      const replaces = existsSync(serves);
      if (replaces && (await calls.exchange(path, serves))) return guests;
      if (replaces) await calls.rename(serves, aside);
      await calls.rename(path, serves);
      if (replaces) await calls.rename(aside, path);
      return guests;
    },
    close: release,
  };
}

const TREE = "tree-";

/**
 * Gives the standby a name of this build's own. Processes of a build that was killed may live on for a moment: what they
 * still write goes to a name that nobody looks at any more.
 */
async function renameTree(kept: string): Promise<string> {
  const path = join(kept, TREE + randomUUID());
  const [tree, ...others] = (await readdir(kept)).filter((name) => name.startsWith(TREE));
  if (tree !== undefined) await rename(join(kept, tree), path);
  for (const other of others) await rm(join(kept, other), { recursive: true, force: true });
  // Where there were two, nobody knows which is which.
  if (others.length > 0) resetBehind(kept, "anywhere");
  return path;
}

/** Ends a swap by renames that was cut short: the old site back in its place, or off to the standby's. */
async function endSwap(serves: string, aside: string, standby: string): Promise<void> {
  if (!existsSync(aside)) return;
  if (!existsSync(serves)) await rename(aside, serves);
  else await rename(aside, standby);
}
