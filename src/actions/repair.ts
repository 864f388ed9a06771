import { type ReadRecord, readRecord } from "../record/entry.ts";

/** Whether a torn line is a whole entry that only lacks its end. */
export const isSoundEnd = (torn: string): boolean => readRecord(`${torn}\n`).lines[0]?.entry !== null;

/** A record without its torn end; an entry that only lacks its line end is kept. The same record where nothing is torn. */
export function repaired(record: ReadRecord): ReadRecord {
  if (record.torn === null) return record;
  const whole = record.lines.map(({ text }) => `${text}\n`).join("");
  return readRecord(isSoundEnd(record.torn) ? `${whole}${record.torn}\n` : whole);
}
