import { createHash } from "node:crypto";
import { type Dirent, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import type { EpisodeFolder } from "./source.ts";

/** What the file system says of an episode's files, without opening one. */
export interface Look {
  /** The same as long as no file was written, replaced, renamed, added or taken away. */
  readonly sign: string;
  /** When the youngest change was, in milliseconds since 1970. */
  readonly youngest: number;
}

/**
 * Looks at an episode's folder and those in it. Change time and file number are in the sign as well: they give away a
 * file that was put in the place of another with its size and date. Synchronous: for thousands of folders, waiting for
 * each answer would cost more than the answers.
 */
export function lookAtEpisode(root: string, { folder }: Pick<EpisodeFolder, "folder">): Look {
  const hash = createHash("sha1");
  let youngest = 0;
  const walk = (path: string): void => {
    for (const entry of list(path)) {
      const file = `${path}/${entry.name}`;
      const found = statSync(file, { throwIfNoEntry: false });
      hash.update(`${file}\0${found?.size}\0${found?.mtimeMs}\0${found?.ctimeMs}\0${found?.ino}\0`);
      youngest = Math.max(youngest, found?.mtimeMs ?? 0, found?.ctimeMs ?? 0);
      if (entry.isDirectory()) walk(file);
    }
  };
  walk(join(root, folder));
  return { sign: hash.digest("base64url"), youngest };
}

function list(path: string): readonly Dirent[] {
  return readdirSync(path, { withFileTypes: true })
    .filter(({ name }) => !name.startsWith("."))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}
