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

/** Whether an earlier record is the beginning of today's. A record that was made anew whole agrees only with itself. */
export function judgeAgainst(
  { from, record: earlier }: EarlierCopy,
  record: ReadRecord,
  folder: string,
): readonly Finding[] {
  const mend = `The record was written anew. Bring it back from ${from}, and find out who wrote to it.`;
  const finding = (line: number, rule: string, says: string): readonly Finding[] => [
    { rule, level: "blocks", at: { file: recordFile(folder), line, column: 1 }, seconds: null, says, mend },
  ];
  const { lines } = record;
  if ("digest" in earlier) {
    if (beginsWith(earlier.digest, record)) return [];
    const says = `No beginning of this record is the one in ${from}: lines were changed or taken off.`;
    return finding(1, "record-rewritten", says);
  }
  const before = earlier.text.split("\n").slice(0, -1);
  const first = before.findIndex((text, index) => lines[index]?.text !== text);
  if (first === -1) return [];
  const says =
    first < lines.length
      ? `Line ${first + 1} is another one than in ${from}.`
      : `This record has ${lines.length} lines, and in ${from} it has ${before.length}.`;
  return finding(first + 1, first < lines.length ? "record-rewritten" : "record-cut", says);
}

function beginsWith(digest: Digest, record: ReadRecord): boolean {
  let text = "";
  return record.lines.some((line) => {
    text += `${line.text}\n`;
    return digestOf(text) === digest;
  });
}
