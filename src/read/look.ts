import { createHash } from "node:crypto";
import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import type { EpisodeFolder } from "./source.ts";

/** What the file system says of an episode's files, without opening one. */
export interface Look {
  /** The same as long as no file was written, replaced, renamed, added or taken away. */
  readonly sign: string;
  /** What was looked at, by its path in the episode's folder, itself being "": folders, and the files in them. */
  readonly paths: readonly string[];
}

/**
 * Looks at an episode's folder and those in it. Change time and file number are in the sign as well: they give away a
 * file that was put in the place of another with its size and date. A folder's own times tell what was added to it or
 * taken away, so those that look as they did `before` need not be listed. Synchronous: for thousands of folders, waiting
 * for each answer would cost more than the answers.
 * @returns with `youngest`: when the youngest change was, in milliseconds since 1970.
 */
export function lookAtEpisode(
  root: string,
  { folder }: Pick<EpisodeFolder, "folder">,
  before: Look | null,
): Look & { readonly youngest: number } {
  const own = join(root, folder);
  if (before !== null) {
    const again = lookAt(own, before.paths);
    if (again.sign === before.sign) return again;
  }
  return lookAt(own, ["", ...pathsBelow(own, "")]);
}

function lookAt(own: string, paths: readonly string[]): Look & { readonly youngest: number } {
  const hash = createHash("sha1");
  let youngest = 0;
  for (const path of paths) {
    const found = statSync(path === "" ? own : `${own}/${path}`, { throwIfNoEntry: false });
    hash.update(`${path}\0${found?.size}\0${found?.mtimeMs}\0${found?.ctimeMs}\0${found?.ino}\0`);
    youngest = Math.max(youngest, found?.mtimeMs ?? 0, found?.ctimeMs ?? 0);
  }
  return { sign: hash.digest("base64url"), paths, youngest };
}

function pathsBelow(own: string, folder: string): readonly string[] {
  return readdirSync(join(own, folder), { withFileTypes: true })
    .filter(({ name }) => !name.startsWith("."))
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const path = folder + entry.name;
      return entry.isDirectory() ? [path, ...pathsBelow(own, `${path}/`)] : [path];
    });
}
