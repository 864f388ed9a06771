import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { type RecordFolder, textOf } from "../build/recordFolder.ts";
import type { Finding } from "../model/finding.ts";
import { UsageError } from "../model/usageError.ts";
import { judgeChain } from "../record/chain.ts";
import { readRecord } from "../record/entry.ts";
import { type Merge, mergedPath, mergeRecords } from "../record/merge.ts";
import { recordFile } from "../record/recordFile.ts";
import type { NewFile } from "../write/record.ts";
import { unmergedRecords } from "./git.ts";

/** A line that version control puts into a file whose two versions it could not bring together. */
const MARK = /^(?:<{7}|={7}|>{7}|\|{7})/m;

/**
 * Finds the two records of an episode that two copies of the content went on with, and decides how they become one.
 * Throws a `UsageError` where there is no other record, or where they can't become one.
 * @param other the file of the other record; null: what version control has of both since the merge that it could not end.
 */
export async function findMerge(
  content: string,
  { sources, input }: RecordFolder,
  other: string | null,
): Promise<Merge> {
  const { id, folder } = sources;
  const [ours, theirs] = other === null ? await unmerged() : [input.record ?? "", await textIn(other)];
  for (const [text, whose] of [
    [ours, "this copy's record"],
    [theirs, "the other record"],
  ] as const) {
    const aired = input.content?.episode.aired ?? null;
    const [wrong] = judgeChain(readRecord(text), { folder, episode: id, aired, now: input.now }).filter(isFault);
    if (wrong !== undefined) throw new UsageError(`Line ${wrong.at.line} of ${whose}: ${wrong.says} ${wrong.mend}`);
  }
  const merged = mergeRecords(ours, theirs);
  if (!merged.ok) throw new UsageError(`${merged.says} ${merged.mend}`);
  return merged.merge;

  async function unmerged(): Promise<readonly [string, string]> {
    const found = await unmergedRecords(join(content, folder));
    if (found === null) {
      throw new UsageError(
        `Version control has no two records of ${id} that it could not bring together. Name the other one: --merge RECORD.`,
      );
    }
    const now = input.record ?? "";
    if (MARK.test(now) || found.includes(now)) return found;
    throw new UsageError(
      `${recordFile(folder)} is neither of the two records that version control has. Bring one back: git checkout --ours ${recordFile(folder)}`,
    );
  }
}

const isFault = ({ level }: Finding): boolean => level === "blocks";

/** The files that a merge adds: the other record, byte for byte. */
export const keptOther = ({ other }: Merge): readonly NewFile[] =>
  other === null ? [] : [{ path: mergedPath(other.tip), bytes: Buffer.from(other.text) }];

async function textIn(path: string): Promise<string> {
  const bytes = await readFile(path).catch(() => null);
  if (bytes === null) throw new UsageError(`${path} is not there, or can't be read.`);
  return textOf({ bytes });
}
