import type { Finding } from "../model/finding.ts";
import { judgeAgainst, missingRecord } from "./against.ts";
import type { Audited, AuditInput } from "./audited.ts";
import { isOfWhole, judgeChain } from "./chain.ts";
import { entriesOf, readRecord } from "./entry.ts";
import { judgeContent } from "./judgeContent.ts";
import { judgeCorrections } from "./judgeCorrections.ts";
import { judgeMerged } from "./judgeMerged.ts";
import { keptRecords } from "./merge.ts";
import { recordFile } from "./recordFile.ts";

/**
 * Everything about a published episode that changed in silence, or could not be proved unchanged. One that was
 * never published has nothing to prove, unless an earlier copy says that it was. @param record where it is read already.
 */
export function auditEpisode(
  input: AuditInput,
  record = input.record === null ? null : readRecord(input.record),
): readonly Finding[] {
  if (record === null) return input.earlier.slice(0, 1).map(({ from }) => missingRecord(input.id, input.folder, from));
  const all = [record, ...keptRecords(record, input.merged).map((kept) => kept.record)];
  const against = input.earlier.flatMap((copy) => judgeAgainst(copy, all, input.folder));
  const aired = input.content?.episode.aired ?? null;
  const { folder, id, now } = input;
  const chain = judgeChain(record, { folder, episode: id, aired, now });
  if (chain.some(isOfWhole)) return chain;
  const entries = entriesOf(record);
  const last = entries.at(-1);
  if (last === undefined) return [...chain, ...emptyRecord(input, chain), ...against];
  const lines = new Map(record.lines.flatMap(({ entry, line }) => (entry === null ? [] : [[entry, line] as const])));
  const audited: Audited = { input, record, entries, last, lineOf: (entry) => lines.get(entry) ?? 1 };
  return [...chain, ...judgeContent(audited), ...judgeCorrections(audited), ...judgeMerged(audited), ...against];
}

function emptyRecord({ folder }: AuditInput, chain: readonly Finding[]): readonly Finding[] {
  if (chain.length > 0) return [];
  const says = "This record is empty: its entries were taken off.";
  const mend = "Bring it back from an earlier copy; if the episode was never published, take the file away.";
  return [
    {
      rule: "record-cut",
      level: "blocks",
      at: { file: recordFile(folder), line: 1, column: 1 },
      seconds: null,
      says,
      mend,
    },
  ];
}
