import { constants, copyFileSync, linkSync, mkdirSync, readdirSync } from "node:fs";
import { copyFile, mkdir, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve, sep } from "node:path";
import { codeOf } from "./files.ts";
import { readKept, writeKept } from "./kept.ts";
import { lockSite } from "./siteLock.ts";

/**
 * A site under way, in a whole tree of its own: the standby. Files that don't change are the very files of the site
 * that serves, by hard links, so bringing the standby up to date costs what changed. Nothing in either tree is ever
 * written over in place: that would change the other one too.
 */
export interface SiteFolder {
  /** Where it is being built: for writers that want a folder. */
  readonly path: string;
  /** Where things are kept between builds. All of it can be taken away at any time. */
  readonly kept: string;
  /** The site that serves, which may not be there yet. */
  readonly serves: string;
  /** Empties places (files, or folders with all in them), so that they can be written anew. Null: everything. */
  renew(places: readonly string[] | null): Promise<void>;
  write(path: string, content: string | Uint8Array): Promise<void>;
  /** Copies a file in; where the file system can, the copy shares its blocks. */
  copy(path: string, from: string): Promise<void>;
  /** Puts the standby in the place of the site that serves. */
  swapIn(): Promise<void>;
  /** Makes the standby the same as the site again where that takes long, so that the next build need not. */
  settle(): Promise<void>;
  /** Ends the work, swapped in or not. */
  close(): Promise<void>;
}

/** What the standby may differ in from the site that serves; null: in anything. */
interface Standby {
  readonly behind: readonly string[] | null;
}
const STANDBY = "standby.json";
const ANYTHING: Standby = { behind: null };

/**
 * Opens the output folder `out` for a build, after waiting for one that is under way. A swap is two renames: the site
 * that serves steps aside, the standby steps in. A build killed between the two leaves the old one aside; this puts it
 * back first. Before a place of the standby is touched, it is noted as behind; so a build killed at any moment leaves
 * a site that is whole, and a standby whose differences are known.
 */
export async function openSite(out: string, waiting: (owner: string) => void = () => undefined): Promise<SiteFolder> {
  const serves = resolve(out);
  const beside = (what: string) => join(dirname(serves), `.${basename(serves)}.${what}`);
  const [aside, kept] = [beside("before"), beside("cache")];
  await mkdir(kept, { recursive: true });
  const release = await lockSite(beside("lock"), waiting);
  const path = join(kept, "standby");
  await recover(serves, aside, path);
  let { behind } = (await exists(path)) ? ((await readKept<Standby>(join(kept, STANDBY))) ?? ANYTHING) : ANYTHING;
  const note = async (places: Standby["behind"]): Promise<void> => {
    behind = places;
    await writeKept(join(kept, STANDBY), { behind } satisfies Standby);
  };
  const inside = (file: string): string => {
    const full = resolve(path, file);
    if (!full.startsWith(path + sep)) throw new Error(`${file} would be written outside the site`);
    return full;
  };
  const replace = async (place: string): Promise<void> => {
    await rm(inside(place), { recursive: true, force: true });
    share(join(serves, place), inside(place));
  };
  return {
    path,
    kept,
    serves,
    async renew(places) {
      const due = behind;
      await note(places === null || due === null ? null : [...new Set([...due, ...places])]);
      if (places === null) await rm(path, { recursive: true, force: true });
      else if (due === null) await copyTree(serves, path);
      else for (const place of due) await replace(place);
      await mkdir(path, { recursive: true });
      for (const place of places ?? []) await rm(inside(place), { recursive: true, force: true });
      await note(places);
    },
    async write(file, content) {
      const full = inside(file);
      await mkdir(dirname(full), { recursive: true });
      await writeFile(full, content);
    },
    async copy(file, from) {
      const full = inside(file);
      await mkdir(dirname(full), { recursive: true });
      await copyFile(from, full, constants.COPYFILE_FICLONE);
    },
    async swapIn() {
      await keepIgnoreFile(serves, path);
      const replaces = await exists(serves);
      if (replaces) await rename(serves, aside);
      await rename(path, serves);
      if (replaces) await rename(aside, path);
    },
    async settle() {
      if (behind !== null) return;
      await copyTree(serves, path);
      await note([]);
    },
    close: release,
  };
}

async function copyTree(from: string, to: string): Promise<void> {
  await rm(to, { recursive: true, force: true });
  share(from, to);
}

/** A file, or a folder with all in it, at a second place: by hard links where the file system has them, copies else. */
function share(from: string, to: string): void {
  let names: readonly string[];
  try {
    names = readdirSync(from);
  } catch (error) {
    if (codeOf(error) === "ENOENT") return;
    if (codeOf(error) !== "ENOTDIR") throw error;
    mkdirSync(dirname(to), { recursive: true });
    return shareFile(from, to);
  }
  mkdirSync(to, { recursive: true });
  for (const name of names) share(join(from, name), join(to, name));
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
async function recover(serves: string, aside: string, standby: string): Promise<void> {
  if (!(await exists(aside))) return;
  if (!(await exists(serves))) await rename(aside, serves);
  else if (await exists(standby)) await rm(aside, { recursive: true, force: true });
  else await rename(aside, standby);
}

/** The output folder's ignore file belongs to the repository around it, not to the site. */
async function keepIgnoreFile(serves: string, standby: string): Promise<void> {
  const [from, to] = [join(serves, ".gitignore"), join(standby, ".gitignore")];
  await rm(to, { force: true });
  if (await exists(from)) await copyFile(from, to);
}

async function exists(path: string): Promise<boolean> {
  try {
    await stat(path);
    return true;
  } catch (error) {
    if (codeOf(error) === "ENOENT") return false;
    throw error;
  }
}
