import type { Finding } from "../model/finding.ts";
import { type Digest, digestOf } from "./digest.ts";
import type { ReadRecord } from "./entry.ts";
import { recordFile } from "./recordFile.ts";

/** An earlier state of a record: its text, or only the digest of its file. */
export type EarlierRecord = { readonly text: string } | { readonly digest: Digest };

/** An earlier state of a record, and who has it, as it stands in a sentence: `the last site`. */
export interface EarlierCopy {
  readonly from: string;
  readonly record: EarlierRecord;
}

/** An episode that somebody else has as published, and whose record is not there. @param what is not there, as a clause. */
export const missingRecord = (id: string, folder: string, from: string, what = "its record is not there"): Finding => ({
  rule: "record-missing",
  level: "blocks",
  at: { file: recordFile(folder), line: 1, column: 1 },
  seconds: null,
  says: `The episode ${id} was published, by ${from}, and ${what}.`,
  mend: "Bring it back. What must not be shown is withdrawn by a correction.",
});

/**
 * Whether an earlier record is the beginning of today's, or of one that was merged into it. A record that was made anew
 * whole agrees only with itself. @param records today's first, then those that were merged into it.
 */
export function judgeAgainst(
  { from, record: earlier }: EarlierCopy,
  records: readonly ReadRecord[],
  folder: string,
): readonly Finding[] {
  if (records.some((record) => goesOnFrom(earlier, record))) return [];
  const lines = records[0]?.lines ?? [];
  const mend = `The record was written anew. Bring it back from ${from}, and find out who wrote to it.`;
  const finding = (line: number, rule: string, says: string): readonly Finding[] => [
    { rule, level: "blocks", at: { file: recordFile(folder), line, column: 1 }, seconds: null, says, mend },
  ];
  if ("digest" in earlier) {
    const says = `No beginning of this record is the one in ${from}: lines were changed or taken off.`;
    return finding(1, "record-rewritten", says);
  }
  const before = wholeLines(earlier.text);
  const first = before.findIndex((text, index) => lines[index]?.text !== text);
  const says =
    first < lines.length
      ? `Line ${first + 1} is another one than in ${from}.`
      : `This record has ${lines.length} lines, and in ${from} it has ${before.length}.`;
  return finding(first + 1, first < lines.length ? "record-rewritten" : "record-cut", says);
}

const wholeLines = (text: string): readonly string[] => text.split("\n").slice(0, -1);

function goesOnFrom(earlier: EarlierRecord, { lines }: ReadRecord): boolean {
  if ("text" in earlier) return wholeLines(earlier.text).every((text, index) => lines[index]?.text === text);
  let text = "";
  return lines.some((line) => {
    text += `${line.text}\n`;
    return digestOf(text) === earlier.digest;
  });
}
