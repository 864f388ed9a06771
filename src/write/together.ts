import { createHash, randomUUID } from "node:crypto";
import { dirname, join } from "node:path";
import { codeOf, type Files, WriteFault, writeFault } from "./files.ts";

/** A file to be written, by its path inside the folder, with forward slashes. */
export interface NewFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

const RECORD = "record.jsonl";
const STAGED = ".record.staged-";
/** A change that is decided: `.record.after-` and the digest of the record that it was decided on. */
const DECIDED = /^\.record\.after-([0-9a-f]{64}|nothing)$/;
const decidedOn = (state: string): string => `.record.after-${state}`;

/** What a change of an episode's record is decided on: the digest of its bytes, or that there is none. */
export async function stateOf(folder: string, files: Files): Promise<string> {
  const bytes = await files.read(join(folder, RECORD));
  return bytes === null ? "nothing" : createHash("sha256").update(bytes).digest("hex");
}

/**
 * Writes several files of an episode's folder so that either all of them are there or none, whenever the process is
 * killed, and only over the record that they were made for:
 *
 * 1. each is written whole into a folder of this change's own, which no reader looks at, and put on the disk;
 * 2. that folder is renamed to a name made of the digest of the record as it was. This one rename decides, and of two
 *    changes made for one record only one can have the name;
 * 3. where the record is still that one, each file is renamed into its place, the record last, and the folder taken away.
 *
 * A process killed in step 1 leaves only what nobody reads. One killed in step 3 leaves the folder, and the next command
 * ends it first (`finishTogether`). One that slept while others wrote decides on a record that is no more: nothing of that
 * is put in place, and it is told so by a WriteFault. Between, a reader may find a correction that awaits entry; never an
 * entry without its file. @param state the record that the files were made for, by `stateOf`.
 */
export async function writeTogether(
  folder: string,
  state: string,
  written: readonly NewFile[],
  files: Files,
): Promise<void> {
  // The name inside tells this change from another of the same record, to whoever puts it in place and was slow at it.
  const name = randomUUID();
  const staged = join(folder, STAGED + name);
  const own = join(staged, name);
  try {
    for (const { path, bytes } of written) {
      await files.makeFolder(join(own, dirname(path)));
      await files.writeSynced(join(own, path), bytes);
    }
    for (const inner of foldersOf(written.map(({ path }) => path))) await files.syncFolder(join(own, inner));
    await files.syncFolder(staged);
    await files.rename(staged, join(folder, decidedOn(state)));
  } catch (error) {
    await files.removeFolder(staged).catch(ignoreSystem);
    // Another change of this very record has the name, or took what was staged away.
    if (["ENOTEMPTY", "EEXIST", "ENOENT"].includes(codeOf(error) ?? "")) throw new WriteFault(OVERTAKEN);
    throw writeFault(error, folder, "Nothing was changed.");
  }
  await finishTogether(folder, files);
  const record = written.find(({ path }) => path === RECORD);
  if (record !== undefined && !(await hasEntered(folder, record.bytes, files))) throw new WriteFault(OVERTAKEN);
}

const OVERTAKEN =
  "Another process wrote this episode's record meanwhile. Nothing of this was entered: run the command again.";

/** Whether a record is the one that was to be written, or one that was continued since. */
async function hasEntered(folder: string, bytes: Uint8Array, files: Files): Promise<boolean> {
  const now = await files.read(join(folder, RECORD));
  return now !== null && Buffer.compare(now.subarray(0, bytes.length), bytes) === 0;
}

/** Ends what an earlier process decided and could not end, and takes away what was decided on a record that is no more. */
export async function finishTogether(folder: string, files: Files): Promise<void> {
  try {
    for (const name of await files.names(folder)) {
      const [, state] = DECIDED.exec(name) ?? [];
      if (state === undefined) continue;
      await files.syncFolder(folder);
      for (const change of await files.names(join(folder, name))) {
        if ((await stateOf(folder, files)) === state) await putInPlace(folder, join(name, change), files);
      }
      await files.removeFolder(join(folder, name));
      await files.syncFolder(folder);
    }
  } catch (error) {
    throw writeFault(error, folder, "What was begun is kept, and the next command ends it.");
  }
}

async function putInPlace(folder: string, change: string, files: Files): Promise<void> {
  const found = (await files.list(join(folder, change))).filter((path) => path !== RECORD);
  for (const path of [...found, RECORD]) {
    await files.makeFolder(join(folder, dirname(path)));
    await files.rename(join(folder, change, path), join(folder, path)).catch((error: unknown) => {
      // A change without a record, or a file that another process has put in its place since.
      if (codeOf(error) !== "ENOENT") throw error;
    });
  }
  for (const inner of foldersOf(found)) await files.syncFolder(join(folder, inner));
}

/** Takes away what processes killed before they decided left unread. */
export async function clearStaged(folder: string, files: Files): Promise<void> {
  for (const name of await files.names(folder)) {
    if (name.startsWith(STAGED)) await files.removeFolder(join(folder, name));
  }
}

/** Whether a change was decided and not ended. */
export const isUnfinished = async (folder: string, files: Files): Promise<boolean> =>
  (await files.names(folder)).some((name) => DECIDED.test(name));

const foldersOf = (paths: readonly string[]): readonly string[] => [...new Set(paths.map((path) => dirname(path)))];

/** What can't be taken away is unread, and taken away by the next. */
function ignoreSystem(error: unknown): void {
  if (codeOf(error) === undefined) throw error;
}
