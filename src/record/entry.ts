import { z } from "zod";
import { firstWhere } from "../model/firstWhere.ts";
import { clockMs } from "../model/units.ts";
import { canonicalJson } from "./canonical.ts";
import { ALGORITHM, type Digest, digestOf } from "./digest.ts";

/**
 * The format of `record.jsonl`: one entry a line, each line ended by LF, no byte order mark. A line is the entry's
 * canonical JSON (RFC 8785). The digest of an entry is the SHA-256 of the line's bytes without the LF, and stands as
 * `prev` in the next one; the first has null. An entry holds digests and addresses, never words.
 *
 *     afterair      "record 1": the format. What is hashed as fields or remains begins with another name, so that
 *                   none can pass for another.
 *     ahead         of clock: the seq of the first entry that was made by a clock that ran ahead
 *     algorithm     "sha-256"
 *     correction    of corrected and withdrawn: id, digest of the file's bytes, slugs of the segments it speaks of
 *                   (none: the whole episode); else null
 *     cuts          of cut: id and new digest of every correction whose words were cut with the withdrawn ones
 *     episode       its id, so that one episode's record can't stand for another's
 *     fields        of the canonical JSON of the frozen fields (see frozenFields)
 *     other         of merged: the digest of the last line of the other record, which is kept as merged/<16 digits>.jsonl
 *     prev          the digest of the entry before
 *     reason        of reissued: digest of as-published/<seq>/reason.md, seq being that of the text replaced; else null
 *     renames       of renamed: the id that a correction had until then, and the one that it has in all entries
 *     remains       where a segment is withdrawn: of all that stays if its words are cut out (see remainsDigest)
 *     seq           1, 2, 3 …
 *     time          UTC, ISO 8601 with milliseconds; a claim, never before that of the entry before
 *     transcript    of the bytes of transcript.vtt
 *     translations  the same of every transcript.<lang>.vtt, by name
 *     what          published (the first), corrected, withdrawn, reissued (frozen content replaced, with a reason), cut
 *                   (withdrawn words were cut out of the files), clock (the entries from `ahead` on were made by a
 *                   clock that ran ahead, and count from this one's time), merged (another record that went on from
 *                   the same beginning in another copy became part of this one; its corrections are entered after it),
 *                   renamed (a correction got another id, because one of another episode had its)
 *     withdrawn     all that is withdrawn by now: slug (null: the episode) and its times in milliseconds
 */
export interface Entry {
  readonly afterair: "record 1";
  readonly ahead?: number;
  readonly algorithm: typeof ALGORITHM;
  readonly correction: EnteredCorrection | null;
  readonly cuts?: readonly CutCorrection[];
  readonly episode: string;
  readonly fields: Digest;
  readonly other?: Digest;
  readonly prev: Digest | null;
  readonly reason: Digest | null;
  readonly remains: Digest | null;
  readonly renames?: Renaming;
  readonly seq: number;
  readonly time: string;
  readonly transcript: Digest;
  readonly translations: Readonly<Record<string, Digest>>;
  readonly what: What;
  readonly withdrawn: readonly {
    readonly segment: string | null;
    readonly from: ReturnType<typeof clockMs>;
    readonly to: ReturnType<typeof clockMs>;
  }[];
}

const WHAT = ["published", "corrected", "reissued", "withdrawn", "cut", "clock", "merged", "renamed"] as const;
export type What = (typeof WHAT)[number];

/** Ids of a correction, before and after it was renamed. */
export interface Renaming {
  readonly from: string;
  readonly to: string;
}

/** A correction whose words were cut out of its file, and what the file is now. */
export interface CutCorrection {
  readonly id: string;
  readonly digest: Digest;
}

export interface EnteredCorrection {
  readonly id: string;
  readonly digest: Digest;
  readonly segments: readonly string[];
}

const digest = z.string().regex(/^[0-9a-f]{64}$/);
const ms = z.int().transform(clockMs);

const EntryShape = z.strictObject({
  afterair: z.literal("record 1"),
  ahead: z.int().positive().exactOptional(),
  algorithm: z.literal(ALGORITHM),
  correction: z.strictObject({ id: z.string(), digest, segments: z.array(z.string()) }).nullable(),
  cuts: z.array(z.strictObject({ id: z.string(), digest })).exactOptional(),
  episode: z.string(),
  fields: digest,
  other: digest.exactOptional(),
  prev: digest.nullable(),
  reason: digest.nullable(),
  remains: digest.nullable(),
  renames: z.strictObject({ from: z.string(), to: z.string() }).exactOptional(),
  seq: z.int().positive(),
  time: z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/),
  transcript: digest,
  translations: z.record(z.string(), digest),
  what: z.enum(WHAT),
  withdrawn: z.array(z.strictObject({ segment: z.string().nullable(), from: ms, to: ms })),
});

/** A line of a record: an entry, or why it is none. */
export type RecordLine = {
  /** From 1. */
  readonly line: number;
  readonly text: string;
  readonly digest: Digest;
} & ({ readonly entry: Entry } | { readonly entry: null; readonly why: string });

/** A record as it was read: whole lines, and what stands after the last line end. */
export interface ReadRecord {
  readonly lines: readonly RecordLine[];
  /** A last line without its end: a torn write. Null where there is none. */
  readonly torn: string | null;
}

/** Reads a record, line by line; never throws. */
export function readRecord(text: string): ReadRecord {
  const parts = text.split("\n");
  const rest = parts.pop() ?? "";
  const lines = parts.map((line, index) => readLine(line, index + 1));
  return { lines: withNames(lines), torn: rest === "" ? null : rest };
}

/** Lines whose entries name corrections as they are called by now. Their texts and digests stay as they are written. */
function withNames(lines: readonly RecordLine[]): readonly RecordLine[] {
  if (lines.every(({ entry }) => entry?.renames === undefined)) return lines;
  const names = new Map<string, string>();
  const named = <T extends { readonly id: string }>(own: T): T => ({ ...own, id: names.get(own.id) ?? own.id });
  // From the end: a name that is given again later is another's.
  return lines
    .toReversed()
    .map((line): RecordLine => {
      const { entry } = line;
      if (entry === null) return line;
      if (entry.renames !== undefined) {
        const { from, to } = entry.renames;
        names.set(from, names.get(to) ?? to);
      }
      const { correction, cuts } = entry;
      const own = { ...entry, correction: correction === null ? null : named(correction) };
      return { ...line, entry: cuts === undefined ? own : { ...own, cuts: cuts.map(named) } };
    })
    .toReversed();
}

function readLine(text: string, line: number): RecordLine {
  const base = { line, text, digest: digestOf(text) };
  const parsed = parseJson(text);
  if (parsed === undefined) return { ...base, entry: null, why: "is not JSON" };
  const shaped = EntryShape.safeParse(parsed);
  if (!shaped.success) {
    const issue = shaped.error.issues[0];
    return { ...base, entry: null, why: `is no entry (${issue?.path.join(".")}: ${issue?.message})` };
  }
  if (!isCanonical(text, parsed)) return { ...base, entry: null, why: "is not written as the tool writes it" };
  return { ...base, entry: shaped.data };
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    // Not JSON: the caller says so.
    return undefined;
  }
}

function isCanonical(text: string, value: unknown): boolean {
  try {
    return canonicalJson(value) === text;
  } catch {
    // Holds a lone surrogate, which canonical JSON can't.
    return false;
  }
}

/** The line of an entry, with its end. */
export const entryLine = (entry: Entry): string => `${canonicalJson(entry)}\n`;

/** The entries of a record without the lines that are none. */
export const entriesOf = ({ lines }: ReadRecord): readonly Entry[] =>
  lines.flatMap(({ entry }) => (entry === null ? [] : [entry]));

/**
 * When each entry counts from, ISO 8601: its own time, but for entries made by a clock that ran ahead, which count from
 * the entry that says so.
 */
export function timesOf(entries: readonly Entry[]): readonly string[] {
  // What the last entry says that reaches back so far: one is passed over by a later one that reaches back farther.
  const speak: { readonly index: number; readonly ahead: number; readonly time: string }[] = [];
  for (const [index, { ahead, time }] of entries.entries()) {
    if (ahead === undefined) continue;
    while ((speak.at(-1)?.ahead ?? 0) >= ahead) speak.pop();
    speak.push({ index, ahead, time });
  }
  return entries.map(({ time, seq }, index) => {
    const later = speak[firstWhere(speak.length, (place) => (speak[place]?.ahead ?? 0) > seq) - 1];
    return later === undefined || later.index <= index ? time : later.time;
  });
}

/**
 * Whether an episode is published: its record has anything in it, sound or not. What a damaged record says can't be
 * known, so nothing may be edited beside one. `record`: what is in record.jsonl; null where there is none.
 */
export const isPublished = (record: { readonly length: number } | null): boolean =>
  record !== null && record.length > 0;

/** Whether an entry published a text. */
export const publishesText = ({ what }: Entry): boolean => what === "published" || what === "reissued";
