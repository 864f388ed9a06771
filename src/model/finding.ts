/**
 * Where something stands. `file` is relative to the content folder, with forward slashes, or the full path of a file that is not
 * in it; line and column count from 1.
 */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** `blocks`: the episode can't go out like this. `warns`: a person should look. */
export type Level = "blocks" | "warns";

/** A fault or a doubt, as data: where, what, and how to mend it. */
export interface Finding {
  /** Stable name, documented: `time-unreadable`. */
  readonly rule: string;
  readonly level: Level;
  readonly at: Place;
  /** The moment concerned, in the episode's clock, in seconds; null where there is none. */
  readonly seconds: number | null;
  /** What is wrong, as a sentence. */
  readonly says: string;
  /** What to do, as a sentence. */
  readonly mend: string;
  /** The other half of a clash. */
  readonly see?: readonly Place[];
  /** Words of the transcript and what they would become: given where the mend is exactly that. */
  readonly change?: { readonly was: string; readonly now: string };
}

/** What a reader gives back: a value with its doubts, or only the findings that stand in the way. */
export type Read<T> =
  | { readonly ok: true; readonly value: T; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

export const blocks = (finding: Finding): boolean => finding.level === "blocks";
