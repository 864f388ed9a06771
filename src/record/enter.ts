import { does } from "../model/correctionKinds.ts";
import { cutCorrections } from "./cutCorrections.ts";
import { ALGORITHM, type Digest, digestOf } from "./digest.ts";
import { type Entry, entriesOf, entryLine, publishesText, type ReadRecord, type Renaming, timesOf } from "./entry.ts";
import { type Content, fieldsDigest, isAsEntered, isCutFrom, remainsDigest, translationsOf } from "./frozen.ts";
import type { LaidEpisode } from "./laid.ts";
import { joined, type Merge } from "./merge.ts";
import { instant } from "./order.ts";
import type { WithdrawnStretch } from "./stretch.ts";
import { stretchesOf } from "./withdraw.ts";

/** What may be entered. */
export interface Enterable {
  readonly record: ReadRecord;
  readonly content: Content;
  /** The episode with its corrections of today. */
  readonly laid: LaidEpisode;
  /** Digests of the files in corrections/, by id. */
  readonly corrections: ReadonlyMap<string, Digest>;
  /** The digest of the public reason, where the frozen content was replaced on purpose. */
  readonly reissue: Digest | null;
  /** Say that entries were made by a clock that ran ahead. */
  readonly setsClock?: boolean;
  /** The correction that gets another id. */
  readonly renames?: Renaming | null;
  /** The record that becomes part of this one. */
  readonly merge?: Merge | null;
  /** ISO 8601. */
  readonly now: string;
}

type Facts = Pick<Entry, "what" | "correction" | "reason" | "cuts" | "ahead" | "other" | "renames">;

/** The entries due, in order: another record that becomes part of this one, publication, a reissue, then each correction that is not entered, by date. None: all is entered. */
export function entriesDue(given: Enterable): readonly Entry[] {
  const known = entriesOf(given.record);
  const entered = new Set(known.map(({ correction }) => correction?.id));
  const pending = given.laid.laid.filter(({ correction }) => !entered.has(correction.id));
  const due: Entry[] = [];
  const frozen = frozenIn(given.content);
  const enter = (facts: Facts, more: readonly WithdrawnStretch[] = []): void => {
    const last = due.at(-1);
    const prev = last === undefined ? given.record.lines.at(-1)?.digest : digestOf(entryLine(last).slice(0, -1));
    due.push(nextEntry(given, frozen, { last: last ?? known.at(-1), prev: prev ?? null }, facts, more));
  };
  const nothing = { correction: null, reason: null } as const;
  if (given.setsClock === true) {
    const ahead = known.find(({ time }) => instant(time) > instant(given.now))?.seq;
    if (ahead !== undefined) enter({ ...nothing, what: "clock", ahead });
  }
  const other = given.merge?.other ?? null;
  if (other !== null) enter({ ...nothing, what: "merged", other: other.tip });
  if (given.renames !== undefined && given.renames !== null)
    enter({ ...nothing, what: "renamed", renames: given.renames });
  if (known.length === 0) enter({ ...nothing, what: "published" });
  else if (given.reissue !== null) enter({ ...nothing, what: "reissued", reason: given.reissue });
  else {
    const cuts = cutCorrections(given.record, given.corrections, given.laid);
    const last = known.at(-1);
    const isCut = last !== undefined && !isAsEntered(given.content, last) && isCutFrom(given.content, last);
    if (isCut || cuts.length > 0) enter({ ...nothing, what: "cut", cuts });
  }
  for (const { correction, segments } of pending) {
    const digest = given.corrections.get(correction.id);
    if (digest === undefined) throw new Error(`no file for the correction ${correction.id}`);
    const entry = { correction: { id: correction.id, digest, segments }, reason: null };
    if (does(correction, "takes-away"))
      // What it took away in the other record stays away, wherever this one has its segment.
      enter(
        { ...entry, what: "withdrawn" },
        joined(stretchesOf(correction, given.laid.segments), given.merge?.withdrawn.get(correction.id) ?? []),
      );
    else enter({ ...entry, what: "corrected" });
  }
  return due;
}

/** What all entries that are due say of the content. What remains is reckoned anew only when more is withdrawn. */
interface Frozen {
  readonly fields: Digest;
  remains(withdrawn: readonly WithdrawnStretch[]): Digest | null;
}

function frozenIn(content: Content): Frozen {
  const known = new Map<readonly WithdrawnStretch[], Digest | null>();
  return {
    fields: fieldsDigest(content.episode),
    remains(withdrawn) {
      const own = known.get(withdrawn);
      const digest = own === undefined ? remainsDigest(content, withdrawn) : own;
      known.set(withdrawn, digest);
      return digest;
    },
  };
}

function nextEntry(
  { content, laid, now }: Enterable,
  frozen: Frozen,
  { last, prev }: { readonly last: Entry | undefined; readonly prev: Digest | null },
  facts: Facts,
  more: readonly WithdrawnStretch[],
): Entry {
  const before = last?.withdrawn ?? [];
  const withdrawn = more.length === 0 ? before : [...before, ...more];
  return {
    afterair: "record 1",
    algorithm: ALGORITHM,
    ...facts,
    episode: laid.id,
    fields: frozen.fields,
    prev,
    remains: frozen.remains(withdrawn),
    seq: (last?.seq ?? 0) + 1,
    time: new Date(instant(now)).toISOString(),
    transcript: content.transcript,
    translations: translationsOf(content),
    withdrawn,
  };
}

/** What a record says of the text that corrections are laid over. */
export interface Recorded {
  /** Ids of corrections entered before the text was last reissued: it may have taken them in. */
  readonly reissued: ReadonlySet<string>;
  /** All that is withdrawn, at its times when that was entered: they hold wherever its segment stands now. */
  readonly withdrawn: readonly WithdrawnStretch[];
}

export function recordedIn(record: ReadRecord): Recorded {
  const entries = entriesOf(record);
  const last = entries.findLastIndex(({ what }) => what === "reissued");
  const reissued = entries.slice(0, Math.max(0, last)).flatMap(({ correction }) => correction?.id ?? []);
  return { reissued: new Set(reissued), withdrawn: entries.at(-1)?.withdrawn ?? [] };
}

/**
 * Which earlier text was in force at a moment (ISO 8601): the seq of `as-published/<seq>/`. Null: the text that lies
 * there now, or none yet. Nothing is kept there of a text with something withdrawn in it.
 */
export function earlierTextOn(record: ReadRecord, on: string): number | null {
  const entries = entriesOf(record);
  const times = timesOf(entries);
  const texts = entries.flatMap((entry, index) =>
    publishesText(entry) ? [{ seq: entry.seq, time: times[index] ?? "" }] : [],
  );
  const then = texts.findLast(({ time }) => instant(time) <= instant(on));
  return then === undefined || then === texts.at(-1) ? null : then.seq;
}
