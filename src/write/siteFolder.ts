import { randomUUID } from "node:crypto";
import { constants, copyFileSync, existsSync, linkSync, lstatSync, mkdirSync, readdirSync, rmSync } from "node:fs";
import { copyFile, mkdir, readdir, rename, rm } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { codeOf } from "./files.ts";
import { lockSite } from "./siteLock.ts";
import { empty, insideOf, readBehind, resetBehind, type Standby, standbyAt } from "./standby.ts";

/** An output folder under a build of ours: the site that serves, and the standby that is to take its place. */
export interface SiteFolder extends Standby {
  /** The site that serves, which may not be there yet. */
  readonly serves: string;
  /** Where things are kept between builds, beside it. All of it can be taken away at any time. */
  readonly kept: string;
  /** Makes the standby the same as the site that serves: costs what changed since it was that. */
  catchUp(): void;
  /** Makes the standby empty. */
  startOver(): void;
  /** Whether anything was written since they were the same. */
  differs(): boolean;
  /** Puts the standby in the place of the site that serves. */
  swapIn(): Promise<void>;
  /** After a swap: what the old site had and the new one has not is kept nowhere, and the next build need not catch up. */
  settle(): void;
  /** Ends the work, swapped in or not. */
  close(): Promise<void>;
}

/**
 * Opens the output folder `out`, after waiting for a build that is under way. A swap is renames: the site that serves
 * steps aside, the standby steps in, and the old site becomes the standby. A build killed between them leaves the old
 * one aside; this puts it back first. @param waiting is told who is waited for.
 */
export async function openSite(out: string, waiting: (owner: string) => void): Promise<SiteFolder> {
  const serves = resolve(out);
  const beside = (what: string) => join(dirname(serves), `.${basename(serves)}.${what}`);
  const [aside, kept] = [beside("before"), beside("cache")];
  await mkdir(kept, { recursive: true });
  const release = await lockSite(beside("lock"), waiting);
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
      await keepIgnoreFile(serves, path);
      const replaces = existsSync(serves);
      if (replaces) await rename(serves, aside);
      await rename(path, serves);
      if (replaces) await rename(aside, path);
    },
    settle: catchUp,
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

/** A file, or a folder with all in it, at a second place: by hard links where the file system has them, copies else. */
function share(from: string, to: string): void {
  const found = lstatSync(from, { throwIfNoEntry: false });
  if (found?.isDirectory()) {
    shareFolder(from, to);
  } else if (found !== undefined) {
    mkdirSync(dirname(to), { recursive: true });
    shareFile(from, to);
  }
}

function shareFolder(from: string, to: string): void {
  mkdirSync(to, { recursive: true });
  for (const entry of readdirSync(from, { withFileTypes: true })) {
    const [one, other] = [`${from}/${entry.name}`, `${to}/${entry.name}`];
    if (entry.isDirectory()) shareFolder(one, other);
    else shareFile(one, other);
  }
}

/** Codes by which a file system says that it has no (more) hard links for this file. */
const NO_LINKS = ["EXDEV", "EPERM", "EMLINK", "ENOTSUP", "EOPNOTSUPP", "ENOSYS", "EACCES"];

function shareFile(from: string, to: string): void {
  try {
    linkSync(from, to);
  } catch (error) {
    if (!NO_LINKS.includes(codeOf(error) ?? "")) throw error;
    copyFileSync(from, to, constants.COPYFILE_FICLONE);
  }
}

/** Ends a swap that was cut short: the old site back in its place, or off to the standby's. */
async function endSwap(serves: string, aside: string, standby: string): Promise<void> {
  if (!existsSync(aside)) return;
  if (!existsSync(serves)) await rename(aside, serves);
  else await rename(aside, standby);
}

/** The output folder's ignore file belongs to the repository around it, not to the site. */
async function keepIgnoreFile(serves: string, standby: string): Promise<void> {
  const [from, to] = [join(serves, ".gitignore"), join(standby, ".gitignore")];
  await rm(to, { force: true });
  if (existsSync(from)) await copyFile(from, to);
}
