import { createHash } from "node:crypto";
import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { grouped } from "../model/grouped.ts";
import { type EpisodeFolder, isPassedOver } from "./source.ts";

/** What the file system says of an episode's files, without opening one. */
export interface FileStats {
  /** What was looked at, by its path in the episode's folder, itself being "": folders, and the files in them. */
  readonly paths: readonly string[];
  /** The size, times and number of each: the same as long as none was written, replaced, renamed, added or taken away. */
  readonly marks: readonly number[];
}

/** What it says of all episodes of a year, small enough to be read and compared for every year in every build. */
export interface YearStats {
  /** A digest of all marks; null where those of one episode can't be relied on. */
  readonly sign: string | null;
  /** The episodes, by what was looked at in their folders: for most of them the same. */
  readonly shapes: readonly { readonly paths: readonly string[]; readonly ids: readonly string[] }[];
}

/**
 * Asks for the size and times of an episode's folder, of those in it, and of the files. Change time and file number are in the marks as well: they give away a
 * file that was put in the place of another with its size and date. A folder's own times tell what was added to it or
 * taken away, so those that are as they were `before` need not be listed. Synchronous: for thousands of folders, waiting
 * for each answer would cost more than the answers.
 */
export function statsOfEpisode(
  root: string,
  { folder }: Pick<EpisodeFolder, "folder">,
  before: FileStats | null,
): FileStats {
  const own = join(root, folder);
  const again = before === null ? null : statsOf(own, before.paths);
  return again !== null && isSameStats(before, again) ? again : statsOf(own, ["", ...pathsBelow(own, "")]);
}

/** When the youngest change was, in milliseconds since 1970. */
export const youngestIn = ({ marks }: FileStats): number =>
  Math.max(0, ...marks.filter((_mark, n) => MARKS[n % MARKS.length]?.endsWith("timeMs")));

/** Whether nothing happened to the files between two askings, as far as they can be relied on. */
export const isSameStats = (before: FileStats | null, now: FileStats | null): boolean =>
  before !== null && now !== null && isSame(before.paths, now.paths) && isSame(before.marks, now.marks);

const isSame = <T>(some: readonly T[], others: readonly T[]): boolean =>
  some.length === others.length && some.every((one, n) => one === others[n]);

/** The stats of a year's episodes in one. @param all by id; null: it can't be relied on. */
export function yearStatsOf(all: readonly (readonly [id: string, look: FileStats | null])[]): YearStats {
  const groups = [...grouped(all, ([, stats]) => (stats?.paths ?? []).join("\n")).values()];
  const isWhole = all.every(([, stats]) => stats !== null);
  return {
    sign: isWhole ? signOf(groups.flat().flatMap(([, stats]) => stats?.marks ?? [])) : null,
    shapes: groups.map((own) => ({ paths: own[0]?.[1]?.paths ?? [], ids: own.map(([id]) => id) })),
  };
}

/** The sign of a year when what was looked at before is looked at again. @param folder where its episodes stand. */
export function signOfYear(folder: string, { shapes }: YearStats): string {
  const marks: number[] = [];
  for (const { paths, ids } of shapes) for (const id of ids) addStats(`${folder}/${id}`, paths, marks);
  return signOf(marks);
}

const signOf = (marks: readonly number[]): string =>
  createHash("sha256").update(new Float64Array(marks)).digest("base64url");

function statsOf(own: string, paths: readonly string[]): FileStats {
  const marks: number[] = [];
  addStats(own, paths, marks);
  return { paths, marks };
}

/** The marks of each path. What is not there has some that nothing has. */
const MARKS = ["size", "mtimeMs", "ctimeMs", "ino"] as const;

function addStats(own: string, paths: readonly string[], marks: number[]): void {
  for (const path of paths) {
    const found = statSync(path === "" ? own : `${own}/${path}`, { throwIfNoEntry: false });
    for (const mark of MARKS) marks.push(found?.[mark] ?? -1);
  }
}

function pathsBelow(own: string, folder: string): readonly string[] {
  return readdirSync(join(own, folder), { withFileTypes: true })
    .filter(({ name }) => !isPassedOver(name))
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const path = folder + entry.name;
      return entry.isDirectory() ? [path, ...pathsBelow(own, `${path}/`)] : [path];
    });
}
