import { type Files, nodeFiles, writeFault } from "./files.ts";
import { type Patience, withLock } from "./lock.ts";
import { clearStaged, finishTogether, type NewFile, stateOf, writeTogether } from "./together.ts";

export { type Files, nodeFiles, WriteFault } from "./files.ts";
export type { NewFile } from "./together.ts";
export { isUnfinished } from "./together.ts";

/** What a change of a record comes to: the files to write, none where nothing is due, and an answer for the caller. */
export interface RecordChange<T> {
  readonly files: readonly NewFile[];
  readonly answer: T;
}

/** Where a record is changed. */
export interface RecordPlace {
  /** The episode's folder. */
  readonly folder: string;
  /** Whose lock is taken: the content folder's, so that corrections of two episodes can't take one number. */
  readonly content: string;
}

/**
 * Changes an episode's record, and the files that go with it, under the content folder's lock. `change` looks at the
 * folder as it is then: after what another process may have written, and after an interrupted write was ended. All its
 * files are written or none; record.jsonl last, and only over the record that `change` looked at.
 */
export async function changeRecord<T>(
  { folder, content }: RecordPlace,
  change: () => Promise<RecordChange<T>>,
  files: Files = nodeFiles,
  patience: Patience = { waits: 10_000 },
): Promise<T> {
  const locked = withLock(content, files, patience, () => changeUnlocked(folder, change, files));
  return locked.catch((error: unknown) => {
    throw writeFault(error, folder, "Nothing was changed.");
  });
}

/** The same without a lock. It is as safe; but of two at once one is refused, where the lock would have it wait. */
export async function changeUnlocked<T>(
  folder: string,
  change: () => Promise<RecordChange<T>>,
  files: Files,
): Promise<T> {
  await finishTogether(folder, files);
  await clearStaged(folder, files);
  const state = await stateOf(folder, files);
  const { files: written, answer } = await change();
  if (written.length > 0) await writeTogether(folder, state, written, files);
  return answer;
}
