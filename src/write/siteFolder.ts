import { constants } from "node:fs";
import { copyFile, cp, mkdir, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve, sep } from "node:path";

/** A site under way beside the one that serves, until it is swapped in whole. */
export interface SiteFolder {
  /** Where it is being built: for writers that want a folder. */
  readonly path: string;
  write(path: string, content: string | Uint8Array): Promise<void>;
  /** Copies a file in; where the file system can, the copy shares its blocks. */
  copy(path: string, from: string): Promise<void>;
  /** Puts it in the place of the one that serves. */
  swapIn(): Promise<void>;
  /** Takes away what was begun; the one that serves stays. */
  abandon(): Promise<void>;
}

/**
 * Begins a site beside `out`. A swap is two renames: the site that serves steps aside, the new one steps in. A build
 * killed between the two leaves it aside; the next one puts it back first.
 */
export async function beginSite(out: string): Promise<SiteFolder> {
  const place = resolve(out);
  const beside = (what: string) => join(dirname(place), `.${basename(place)}.${what}`);
  const [next, before] = [beside("next"), beside("before")];
  await recover(place, before);
  await rm(next, { recursive: true, force: true });
  await mkdir(next, { recursive: true });
  const inside = (path: string): string => {
    const full = resolve(next, path);
    if (!full.startsWith(next + sep)) throw new Error(`${path} would be written outside the site`);
    return full;
  };
  return {
    path: next,
    async write(path, content) {
      const full = inside(path);
      await mkdir(dirname(full), { recursive: true });
      await writeFile(full, content);
    },
    async copy(path, from) {
      const full = inside(path);
      await mkdir(dirname(full), { recursive: true });
      await copyFile(from, full, constants.COPYFILE_FICLONE);
    },
    async swapIn() {
      await keepIgnoreFile(place, next);
      const serves = await exists(place);
      if (serves) await rename(place, before);
      await rename(next, place);
      if (serves) await rm(before, { recursive: true, force: true });
    },
    async abandon() {
      await rm(next, { recursive: true, force: true });
    },
  };
}

async function recover(place: string, before: string): Promise<void> {
  if (!(await exists(before))) return;
  if (await exists(place)) await rm(before, { recursive: true, force: true });
  else await rename(before, place);
}

/** The output folder's ignore file belongs to the repository around it, not to the site. */
async function keepIgnoreFile(place: string, next: string): Promise<void> {
  const ignore = join(place, ".gitignore");
  if (await exists(ignore)) await cp(ignore, join(next, ".gitignore"));
}

async function exists(path: string): Promise<boolean> {
  try {
    await stat(path);
    return true;
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return false;
    throw error;
  }
}
