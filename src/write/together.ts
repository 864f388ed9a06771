import { dirname, join } from "node:path";
import { codeOf, type Files, writeFault } from "./files.ts";

/** A file to be written, by its path inside the folder, with forward slashes. */
export interface NewFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

const PLAN = ".record.pending";
const STAGED = /(^|\/)\.[^/]+\.new$/;

/**
 * Writes several files of a folder so that either all of them are there or none, whenever the process is killed:
 *
 * 1. each is written whole beside its place, under a name that no reader looks at, and put on the disk;
 * 2. a plan with their names is renamed into its place and put on the disk. This one rename decides: before it the old
 *    state stands, after it the new one does;
 * 3. each is renamed into its place, the last one last, and the plan taken away.
 *
 * A process killed in step 1 leaves only unread files, which the next writer takes away or writes over. One killed in
 * step 3 leaves the plan, and the next writer ends it first (`finishTogether`): the renames need no room on the disk
 * and can be repeated. Between, a reader may find a correction that awaits entry; never a record without its files,
 * because the record is renamed last. To be called under the folder's lock.
 */
export async function writeTogether(folder: string, written: readonly NewFile[], files: Files): Promise<void> {
  const staged: string[] = [];
  try {
    for (const { path, bytes } of written) {
      await files.makeFolder(join(folder, dirname(path)));
      staged.push(beside(path));
      await files.writeSynced(join(folder, beside(path)), bytes);
    }
    for (const inner of foldersOf(written.map(({ path }) => path))) await files.syncFolder(join(folder, inner));
    const plan = Buffer.from(`${JSON.stringify(written.map(({ path }) => path))}\n`);
    staged.push(beside(PLAN));
    await files.writeSynced(join(folder, beside(PLAN)), plan);
    await files.rename(join(folder, beside(PLAN)), join(folder, PLAN));
  } catch (error) {
    for (const path of staged) await files.remove(join(folder, path)).catch(ignoreSystem);
    throw writeFault(error, folder, "Nothing was changed.");
  }
  await finishTogether(folder, files);
}

/** Ends what an earlier process decided and could not end. True where there was something to end. */
export async function finishTogether(folder: string, files: Files): Promise<boolean> {
  const plan = await files.read(join(folder, PLAN));
  if (plan === null) return false;
  try {
    await files.syncFolder(folder);
    const paths = pathsIn(plan);
    for (const path of paths) {
      await files.rename(join(folder, beside(path)), join(folder, path)).catch((error: unknown) => {
        // Already in its place.
        if (codeOf(error) !== "ENOENT") throw error;
      });
    }
    for (const inner of foldersOf(paths)) await files.syncFolder(join(folder, inner));
    await files.remove(join(folder, PLAN));
    await files.syncFolder(folder);
    return true;
  } catch (error) {
    throw writeFault(error, folder, "What was begun is kept, and the next command ends it.");
  }
}

/** Takes away what a process killed before it decided left unread beside its places. */
export async function clearStaged(folder: string, files: Files): Promise<void> {
  for (const path of await files.list(folder)) {
    if (STAGED.test(path)) await files.remove(join(folder, path));
  }
}

/** Whether a write was decided and not ended. */
export const isUnfinished = async (folder: string, files: Files): Promise<boolean> =>
  (await files.read(join(folder, PLAN))) !== null;

/** `corrections/.2026-10-06-1.md.new`: names with a dot in front are read by nobody. */
function beside(path: string): string {
  const at = path.lastIndexOf("/") + 1;
  return `${path.slice(0, at)}.${path.slice(at)}.new`;
}

const foldersOf = (paths: readonly string[]): readonly string[] => [...new Set(paths.map((path) => dirname(path)))];

function pathsIn(plan: Uint8Array): readonly string[] {
  const paths: unknown = JSON.parse(Buffer.from(plan).toString("utf8"));
  const sound = (path: unknown): path is string =>
    typeof path === "string" && !path.startsWith("/") && !path.split("/").includes("..");
  if (!Array.isArray(paths) || !paths.every(sound)) throw new Error(`${PLAN} is no plan of this tool`);
  return paths;
}

/** What can't be taken away is unread, and written over by the next. */
function ignoreSystem(error: unknown): void {
  if (codeOf(error) === undefined) throw error;
}
