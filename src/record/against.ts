import type { Finding } from "../model/finding.ts";
import { type Digest, digestOf } from "./digest.ts";
import type { ReadRecord } from "./entry.ts";
import { recordFile } from "./recordFile.ts";

/** An earlier state of a record: its text, or only the digest of its file. */
export type EarlierRecord = { readonly text: string } | { readonly digest: Digest };

const MEND = "The record was written anew. Bring it back from the earlier copy, and find out who wrote to it.";

/** Whether an earlier record is the beginning of today's. A record that was made anew whole agrees only with itself. */
export function judgeAgainst(earlier: EarlierRecord, record: ReadRecord | null, folder: string): readonly Finding[] {
  const finding = (line: number, rule: string, says: string): readonly Finding[] => [
    { rule, level: "blocks", at: { file: recordFile(folder), line, column: 1 }, seconds: null, says, mend: MEND },
  ];
  const lines = record?.lines ?? [];
  if ("digest" in earlier) {
    if (beginsWith(earlier.digest, record)) return [];
    const says =
      "No beginning of this record is the one in the earlier checksum list: lines were changed or taken off.";
    return finding(1, "record-rewritten", says);
  }
  const before = earlier.text.split("\n").slice(0, -1);
  const first = before.findIndex((text, index) => lines[index]?.text !== text);
  if (first === -1) return [];
  const says =
    first < lines.length
      ? `Line ${first + 1} is another one than in the earlier copy.`
      : `The earlier copy has ${before.length} lines, and this record only ${lines.length}.`;
  return finding(first + 1, first < lines.length ? "record-rewritten" : "record-cut", says);
}

function beginsWith(digest: Digest, record: ReadRecord | null): boolean {
  if (record === null) return false;
  let text = "";
  return record.lines.some((line) => {
    text += `${line.text}\n`;
    return digestOf(text) === digest;
  });
}
