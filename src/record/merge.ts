import { canonicalJson } from "./canonical.ts";
import type { Digest } from "./digest.ts";
import { type Entry, entriesOf, type ReadRecord, readRecord, type What } from "./entry.ts";
import type { WithdrawnStretch } from "./stretch.ts";

/** Two records of one episode that went on from one beginning in two copies of the content, and how they become one. */
export interface Merge {
  /** The one that goes on. */
  readonly record: ReadRecord;
  /** The one that is kept beside it, byte for byte; null: it has nothing that the first one lacks. */
  readonly other: KeptRecord | null;
  /** What each withdrawal of the other took away when it was entered there, by the correction's id. */
  readonly withdrawn: ReadonlyMap<string, readonly WithdrawnStretch[]>;
}

/** A record that was merged into another. */
export interface KeptRecord {
  readonly text: string;
  /** The digest of its last line: with the chain, it proves all of them. */
  readonly tip: Digest;
}

export type Merged =
  | { readonly ok: true; readonly merge: Merge }
  | { readonly ok: false; readonly says: string; readonly mend: string };

/** What can be entered again after another entry: it changes nothing that is frozen. */
const REPEATABLE: ReadonlySet<What> = new Set<What>(["corrected", "withdrawn", "merged"]);

/** Where a merged record is kept: `merged/<the first 16 digits of its tip>.jsonl`. */
export const mergedPath = (tip: Digest): string => `merged/${tip.slice(0, 16)}.jsonl`;

/** A file in `merged/` that a record names. */
export interface KeptMerged<T> {
  readonly file: T;
  readonly record: ReadRecord;
  readonly tip: Digest;
}

/** The records that were merged into a record, by the files in which they are kept; also those merged into these. */
export function keptRecords<T extends { readonly text: string }>(
  record: ReadRecord,
  merged: readonly T[],
): readonly KeptMerged<T>[] {
  const read = merged.map((file) => {
    const own = readRecord(file.text);
    return { file, record: own, tip: own.lines.at(-1)?.digest ?? "" };
  });
  const found = new Set<KeptMerged<T>>();
  const follow = (own: ReadRecord): void => {
    for (const { other } of entriesOf(own)) {
      const kept = read.find(({ tip }) => tip === other);
      if (kept === undefined || found.has(kept)) continue;
      found.add(kept);
      follow(kept.record);
    }
  };
  follow(record);
  return [...found];
}

/** Decides how two records become one. Both must be sound in themselves. Pure. */
export function mergeRecords(ours: string, theirs: string): Merged {
  const [one, two] = [readRecord(ours), readRecord(theirs)];
  const fork = one.lines.findIndex(({ text }, index) => two.lines[index]?.text !== text);
  if (two.lines.length === 0 || fork === 0) {
    const says = "The two records have no entry in common: they are not of one episode that was published once.";
    return { ok: false, says, mend: "Find the record that goes on from the one on the site, and keep that." };
  }
  const alone = { other: null, withdrawn: new Map() };
  if (fork === -1) return { ok: true, merge: { record: two, ...alone } };
  if (fork === two.lines.length) return { ok: true, merge: { record: one, ...alone } };
  const isPlain = (record: ReadRecord) =>
    entriesOf(record).every(({ what, seq }) => seq <= fork || REPEATABLE.has(what));
  if (!isPlain(one) && !isPlain(two)) {
    const says = "Both records have another text than the one that they had in common, or a cut, or a clock set right.";
    return {
      ok: false,
      says,
      mend: "Keep one copy's files of this episode whole, and do again there what the other did.",
    };
  }
  const [record, other, text] = isPlain(two) ? [one, two, theirs] : [two, one, ours];
  const clash = sameNameTwice(entriesOf(record), entriesOf(other));
  if (clash !== null) {
    const says = `Both records have a correction ${clash}, and not the same.`;
    return {
      ok: false,
      says,
      mend: "Keep one copy's files of this episode whole, and make the other's correction again there.",
    };
  }
  const tip = other.lines.at(-1)?.digest ?? "";
  return { ok: true, merge: { record, other: { text, tip }, withdrawn: withdrawnBy(entriesOf(other)) } };
}

function sameNameTwice(one: readonly Entry[], other: readonly Entry[]): string | null {
  const known = new Map(
    one.flatMap(({ correction }) => (correction === null ? [] : [[correction.id, correction.digest]])),
  );
  const twice = other.find(({ correction }) => {
    const digest = correction === null ? undefined : known.get(correction.id);
    return digest !== undefined && digest !== correction?.digest;
  });
  return twice?.correction?.id ?? null;
}

function withdrawnBy(entries: readonly Entry[]): Merge["withdrawn"] {
  return new Map(
    entries.flatMap(({ what, correction, withdrawn }, index) => {
      if (what !== "withdrawn" || correction === null) return [];
      return [[correction.id, withdrawn.slice(entries[index - 1]?.withdrawn.length ?? 0)] as const];
    }),
  );
}

/** Stretches with more of them, each once. */
export function joined(
  some: readonly WithdrawnStretch[],
  more: readonly WithdrawnStretch[],
): readonly WithdrawnStretch[] {
  return [...new Map([...some, ...more].map((stretch) => [canonicalJson(stretch), stretch])).values()];
}
