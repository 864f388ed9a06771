import { randomUUID } from "node:crypto";
import { basename, dirname, join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { codeOf, type Files, WriteFault } from "./files.ts";
import { isGone, type Owner, ownerHere, ownerText, readOwner } from "./owner.ts";

/** Gives a lock back. */
export type Release = () => Promise<void>;

/** Called while somebody else has the lock, who may be unknown: true to try again, false to give up. */
export type Wait = (owner: Owner | null) => Promise<boolean>;

/**
 * Takes a lock, or gives up; null then.
 *
 * A lock is a folder with one file in it, named by chance, that says who its owner is. It is made beside its place and
 * renamed into it, which works only where no lock is or where one was left empty: so it is never there without its owner.
 * The lock of a process that is gone is broken by taking away the very file that named it: whoever has taken the lock since
 * has another. One whose owner lives is never broken, however long that takes.
 * @param gone whether an owner is gone for sure.
 */
export async function takeLock(path: string, files: Files, wait: Wait, gone = isGone): Promise<Release | null> {
  const name = randomUUID();
  const staged = `${path}.${name}`;
  await files.makeFolder(staged);
  try {
    await files.writeSynced(join(staged, name), Buffer.from(ownerText(await ownerHere())));
    while (!(await putThere(staged, path, files))) {
      const owner = await breakLeft(path, files, gone);
      if (owner !== "broken" && !(await wait(owner))) return null;
    }
  } finally {
    await files.removeFolder(staged);
  }
  await clearLeft(path, files, gone);
  return async () => {
    await files.remove(join(path, name));
    await files.removeEmpty(path);
  };
}

/** Codes by which systems say that something is in the way of a rename. */
const TAKEN = ["ENOTEMPTY", "EEXIST", "EPERM", "ENOTDIR"];

async function putThere(staged: string, path: string, files: Files): Promise<boolean> {
  try {
    await files.rename(staged, path);
    return true;
  } catch (error) {
    if (!TAKEN.includes(codeOf(error) ?? "")) throw error;
    // Where a system renames over nothing, not even over an empty folder.
    await files.removeEmpty(path);
    return false;
  }
}

/** Breaks a lock whose owner is gone. @returns who has it otherwise; null where that can't be read. */
async function breakLeft(path: string, files: Files, gone: typeof isGone): Promise<Owner | null | "broken"> {
  const [name] = await files.names(path);
  if (name === undefined) return null;
  const file = join(path, name);
  const owner = readOwner(await files.read(file));
  if (owner === null || !(await gone(owner))) return owner;
  await files.remove(file);
  return "broken";
}

/** Takes away what processes left beside a lock that were killed while they waited for it. */
async function clearLeft(path: string, files: Files, gone: typeof isGone): Promise<void> {
  const folder = dirname(path);
  for (const name of await files.names(folder)) {
    if (!name.startsWith(`${basename(path)}.`)) continue;
    const left = join(folder, name);
    const owner = readOwner(await files.read(join(left, name.slice(basename(path).length + 1))));
    if (owner !== null && (await gone(owner))) await files.removeFolder(left);
  }
}

const LOCK = ".record.lock";
const PAUSE_MS = 20;

/** How long to wait for another writer. */
export interface Patience {
  /** Milliseconds. */
  readonly waits: number;
  /** Whether an owner is gone for sure; left out: by what the system says. */
  readonly gone?: typeof isGone;
}

/**
 * Does something while no other process writes below a folder. Throws a WriteFault where another writer keeps the lock
 * for longer than `waits`.
 */
export async function withLock<T>(
  folder: string,
  files: Files,
  { waits, gone = isGone }: Patience,
  body: () => Promise<T>,
): Promise<T> {
  const path = join(folder, LOCK);
  const until = Date.now() + waits;
  let has: Owner | null = null;
  const wait: Wait = async (owner) => {
    has = owner;
    if (Date.now() >= until) return false;
    await pause(PAUSE_MS);
    return true;
  };
  const release = await takeLock(path, files, wait, gone);
  if (release === null) throw new WriteFault(refusal(has, path));
  try {
    return await body();
  } finally {
    await release();
  }
}

/** Who has a lock, as people are told. */
export const nameOf = (owner: Owner | null): string =>
  owner === null ? "another process" : `process ${owner.pid} on ${owner.place.split(" ")[0]}`;

const refusal = (owner: Owner | null, path: string): string =>
  `The content is being written by ${nameOf(owner)}. Nothing was changed: run the command again in a moment. If that process is gone, take ${path} away.`;
