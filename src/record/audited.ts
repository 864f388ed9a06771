import type { Correction } from "../model/episode.ts";
import type { Place } from "../model/finding.ts";
import type { EarlierCopy } from "./against.ts";
import type { Digest } from "./digest.ts";
import type { Entry, ReadRecord } from "./entry.ts";
import type { Content } from "./frozen.ts";
import { recordFile } from "./recordFile.ts";

/** A file as it lies in the content today. */
export interface KeptFile {
  /** Relative to the content folder. */
  readonly file: string;
  readonly text: string;
  readonly digest: Digest;
}

/** An earlier text of an episode, kept when it was reissued. */
export interface KeptText {
  readonly transcript: KeptFile | null;
  /** Digests, by name. */
  readonly translations: Readonly<Record<string, Digest>>;
  readonly reason: KeptFile | null;
  /** Of the fields in its episode.md; null where that is missing or can't be read. */
  readonly fields: Digest | null;
}

/** All that an audit of one episode looks at. */
export interface AuditInput {
  readonly id: string;
  readonly folder: string;
  /** The text of record.jsonl; null where there is none. */
  readonly record: string | null;
  /** Null where episode.md or the transcript can't be read as what they are. */
  readonly content: Content | null;
  readonly transcript: KeptFile | null;
  readonly translations: readonly (KeptFile & { readonly name: string })[];
  /** The files in corrections/, by id. */
  readonly corrections: ReadonlyMap<string, KeptFile>;
  /** What of them could be read. */
  readonly read: readonly Correction[];
  /** Earlier texts, by the `seq` that published them. */
  readonly asPublished: ReadonlyMap<number, KeptText>;
  /** Texts that stood here once, by digest: from version control or kept copies. Fields stand as canonical JSON. */
  readonly known: ReadonlyMap<Digest, string>;
  /** The files in merged/: records that became part of this one. */
  readonly merged: readonly KeptFile[];
  /** Who else has this record. */
  readonly earlier: readonly EarlierCopy[];
  /** ISO 8601. */
  readonly now: string;
}

/** What the judges of an audit share. */
export interface Audited {
  readonly input: AuditInput;
  readonly record: ReadRecord;
  readonly entries: readonly Entry[];
  readonly last: Entry;
  lineOf(entry: Entry): number;
}

/** The place of an entry in its record. */
export const placeOf = ({ input, lineOf }: Audited, entry: Entry): Place => ({
  file: recordFile(input.folder),
  line: lineOf(entry),
  column: 1,
});
