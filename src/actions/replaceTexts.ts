import { join } from "node:path";
import { UsageError } from "../model/usageError.ts";
import { type EpisodeSources, readEpisodeSources, type Source } from "../read/index.ts";
import { isPublished } from "../record/entry.ts";
import { changeRecord, type Files, type NewFile, nodeFiles } from "../write/record.ts";

export interface ToReplace {
  readonly content: string;
  readonly id: string;
  /** The episode's files as they were when what is written now was made from them. */
  readonly sources: EpisodeSources;
}

/**
 * Writes all files of an episode that is not published, or none, unless somebody else changed it since it was read.
 * @throws UsageError where somebody did.
 */
export async function replaceTexts(
  { content, id, sources }: ToReplace,
  written: readonly NewFile[],
  files: Files = nodeFiles,
): Promise<void> {
  const isSame = (one: Source | null, other: Source | null) =>
    one === other || (one !== null && other !== null && Buffer.compare(one.bytes, other.bytes) === 0);
  const change = async () => {
    const { sources: now } = readEpisodeSources(content, sources);
    const stands =
      isSame(now.transcript, sources.transcript) &&
      isSame(now.episode, sources.episode) &&
      !isPublished(now.record?.bytes ?? null);
    if (!stands) throw changedMeanwhile(id);
    return { files: written, answer: null };
  };
  await changeRecord({ folder: join(content, sources.folder), content }, change, files);
}

export const changedMeanwhile = (id: string): UsageError =>
  new UsageError(`${id} was changed meanwhile, and left as it is now. Run the command again.`);
