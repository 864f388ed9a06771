import type { Finding } from "../model/finding.ts";
import { type Audited, type KeptFile, placeOf } from "./audited.ts";
import { judgeChain } from "./chain.ts";
import { type Entry, entriesOf, type ReadRecord, readRecord } from "./entry.ts";
import { type KeptMerged, keptRecords, mergedPath } from "./merge.ts";

/** Whether every record that was merged into this one is kept, sound, and entered whole. */
export function judgeMerged(audited: Audited): readonly Finding[] {
  const { input, record, entries } = audited;
  const kept = keptRecords(record, input.merged);
  const all = [record, ...kept.map((own) => own.record)];
  const missing = entries.flatMap((entry) =>
    entry.other === undefined || kept.some(({ tip }) => tip === entry.other)
      ? []
      : [missingRecord(audited, entry, entry.other)],
  );
  return [...missing, ...kept.flatMap((own) => judgeKept(audited, own)), ...notNamed(audited, all)];
}

function missingRecord(audited: Audited, entry: Entry, tip: string): Finding {
  const place = placeOf(audited, entry);
  return {
    rule: "merged-missing",
    level: "blocks",
    at: { file: `${audited.input.folder}/${mergedPath(tip)}`, line: 1, column: 1 },
    seconds: null,
    says: `The record that was merged in line ${place.line} is gone, or is not the one that was.`,
    mend: "Bring the file back from an earlier copy: it proves that nothing of it was lost.",
    see: [place],
  };
}

function judgeKept({ input, record, entries }: Audited, kept: KeptMerged<KeptFile>): readonly Finding[] {
  const at = { file: kept.file.file, line: 1, column: 1 };
  const aired = input.content?.episode.aired ?? null;
  const { folder, id: episode, now } = input;
  const wrong = judgeChain(kept.record, { folder, episode, aired, now }).filter(({ level }) => level === "blocks");
  // By what they say: a correction may have got another id since.
  const entered = new Set(entries.map(({ correction }) => correction?.digest));
  const lost = entriesOf(kept.record).flatMap(({ correction }) =>
    correction === null || entered.has(correction.digest) ? [] : [correction.id],
  );
  const blocking = { level: "blocks", at, seconds: null } as const;
  const mend = "Bring the record and this file back from an earlier copy, and find out who wrote to them.";
  return [
    ...wrong.map(({ says, at: { line } }) => ({
      ...blocking,
      rule: "merged-changed",
      at: { ...at, line },
      says,
      mend,
    })),
    ...(kept.record.lines[0]?.text === record.lines[0]?.text
      ? []
      : [
          {
            ...blocking,
            rule: "merged-changed",
            says: "This record did not begin as the one that it was merged into.",
            mend,
          },
        ]),
    ...lost.map((id) => ({
      ...blocking,
      rule: "merged-changed",
      says: `The correction ${id} of this record was not entered when it was merged.`,
      mend,
    })),
  ];
}

/** Files that no record names: nobody can say what they prove. */
function notNamed({ input }: Audited, all: readonly ReadRecord[]): readonly Finding[] {
  const named = new Set(all.flatMap((record) => entriesOf(record).flatMap(({ other }) => other ?? [])));
  return input.merged.flatMap(({ file, text }) => {
    const tip = readRecord(text).lines.at(-1)?.digest;
    if (tip !== undefined && named.has(tip)) return [];
    const says = "No entry of the record names this file.";
    const mend = "Take it away, if it was never merged; else bring it and the record back from an earlier copy.";
    return [{ rule: "merged-unknown", level: "warns", at: { file, line: 1, column: 1 }, seconds: null, says, mend }];
  });
}
