import { isEverWithheld } from "../derive/holdings.ts";
import { does } from "../model/correctionKinds.ts";
import type { Correction, Episode } from "../model/episode.ts";
import type { ArchivedEpisode, MergedRecord } from "../model/programme.ts";
import { type Timed, toEpisode, toMediaEdge } from "../model/timeMap.ts";
import type { Digest } from "./digest.ts";
import { earlierTextOn, type Recorded, recordedIn } from "./enter.ts";
import { type Entry, entriesOf, publishesText, type ReadRecord, readRecord, timesOf, type What } from "./entry.ts";
import type { LaidEpisode, LaidSegment } from "./laid.ts";
import { layCorrections } from "./lay.ts";
import { keptRecords } from "./merge.ts";
import { instant } from "./order.ts";
import type { Bounds, WithdrawnStretch } from "./stretch.ts";

/** One line of an episode's history. */
export interface HistoryLine {
  /** ISO 8601: when it was entered; for a correction that awaits entry, when it is dated. */
  readonly time: string;
  readonly what: What;
  readonly correction: Correction | null;
  /** Why the text was replaced, Markdown. */
  readonly reason: string | null;
  /** The number of its entry; null: it awaits entry. */
  readonly seq: number | null;
  readonly digest: Digest | null;
}

/** A text with its corrections, and what another text of the same episode says of what may be given. */
export interface DayText {
  readonly episode: LaidEpisode;
  /**
   * What is withheld in the text that lies there now, with all its corrections, in this text's clock: it is withheld
   * here too.
   */
  readonly also: readonly LaidSegment[];
}

/** A text as it was published, with nothing but what was withdrawn taken out. */
export interface PublishedText extends DayText {
  /** The number of the entry that published it. */
  readonly seq: number;
}

/** An episode as it stood at a moment. */
export interface DayEpisode extends DayText {
  /** It was not published then. */
  readonly draft: boolean;
  readonly history: readonly HistoryLine[];
  /** The lines of its record until then, byte for byte; "" for a draft. */
  readonly record: string;
  /** Records of other copies that had become part of it. */
  readonly merged: readonly MergedRecord[];
  /** Oldest first. Texts that something was withdrawn from by a reissue are kept nowhere, and not here. */
  readonly texts: readonly PublishedText[];
}

/** Which corrections are shown: all that are written, or those alone that are entered in the record. */
export type Shows = "written" | "entered";

/**
 * The episode at a moment (ISO 8601): the text in force then, with the corrections of then. A withdrawal is in force as
 * soon as it is written, whatever `shows` says. @param whole its record, where that has been read already.
 */
export function episodeOn(
  written: ArchivedEpisode,
  on: string,
  shows: Shows = "written",
  whole = readRecord(written.record ?? ""),
): DayEpisode {
  const all = withDatesRight(written, whole);
  const archived = shows === "written" ? all : withoutAwaiting(all, whole);
  const record = untilThen(whole, on);
  const gone = withdrawnIn(all, whole);
  const lay = (text: Episode): LaidEpisode => {
    const withdrawn = gone.map((stretch) => inClockOf(stretch, archived, text));
    return layCorrections(text, on, { reissued: recordedIn(record).reissued, withdrawn });
  };
  const text = textOf(earlierTextOn(whole, on), archived) ?? archived;
  const episode = lay(text);
  const withheld = withheldIn(all, { reissued: recordedIn(whole).reissued, withdrawn: gone });
  return {
    episode,
    also: alsoHeld(withheld, text, archived),
    draft: record.lines.length === 0,
    history: historyOf(record, episode, archived),
    record: record.lines.map((line) => `${line.text}\n`).join(""),
    merged: keptRecords(record, written.merged).map(({ file }) => file),
    texts: textsOf(record, archived, on, { text, episode, withheld, gone, newest: newestText(whole) }),
  };
}

/**
 * Without the corrections that await entry, but for withdrawals: what is on the public site stands in the record, so that
 * nothing can appear there and go again unseen; words that may have to go are held back by whatever says so.
 */
function withoutAwaiting(archived: ArchivedEpisode, record: ReadRecord): ArchivedEpisode {
  const entered = new Set(entriesOf(record).map(({ correction }) => correction?.id));
  const shown = archived.corrections.filter((own) => does(own, "takes-away") || entered.has(own.id));
  if (shown.length === archived.corrections.length) return archived;
  const ids = new Set(shown.map(({ id }) => id));
  const corrections = shown.map((own) => (ids.has(own.supersedes ?? own.id) ? own : { ...own, supersedes: null }));
  return { ...archived, corrections };
}

/** After every moment that a correction can be dated at. */
const AT_LAST = "9999-12-31T23:59:59Z";

/**
 * All that is withdrawn by now, on whatever day: as it was entered, and where a withdrawal that awaits entry stands with
 * all corrections laid.
 */
function withdrawnIn(archived: ArchivedEpisode, record: ReadRecord): readonly WithdrawnStretch[] {
  const recorded: Recorded = recordedIn(record);
  const entered = new Set(entriesOf(record).map(({ correction }) => correction?.id));
  const awaits = archived.corrections.some((own) => does(own, "takes-away") && !entered.has(own.id));
  return awaits ? layCorrections(archived, AT_LAST, recorded).gone : recorded.withdrawn;
}

/** A stretch of one text's clock in another's, by way of the recording that both are of. */
function inClockOf<T extends Bounds>(stretch: T, from: Timed, to: Timed): T {
  if (from.clock === to.clock && missesTheSame(from, to)) return stretch;
  const moved = (at: Bounds["from"]) => toEpisode(toMediaEdge(at, from), to);
  return { ...stretch, from: moved(stretch.from), to: moved(stretch.to) };
}

/** Wherever the cuts are written: what lies in a cut has no place in the recording, and would be lost on the way. */
const missesTheSame = ({ cuts }: Timed, other: Timed): boolean =>
  cuts.length === other.cuts.length &&
  cuts.every(({ from, to }, index) => from === other.cuts[index]?.from && to === other.cuts[index]?.to);

/** The segments of the present text that may be withheld on some day, with every stretch that they ever stood on. */
function withheldIn(archived: ArchivedEpisode, recorded: Recorded): readonly LaidSegment[] {
  if (!archived.segments.some(isEverWithheld)) return [];
  const { segments } = layCorrections(archived, AT_LAST, recorded);
  return segments.filter(isEverWithheld);
}

/** The same in the clock of another text. */
const alsoHeld = (withheld: readonly LaidSegment[], text: Episode, archived: ArchivedEpisode): readonly LaidSegment[] =>
  withheld.map((segment) => ({
    ...segment,
    stood: segment.stood.map((own) => inClockOf(own, archived, text)),
  }));

function untilThen(record: ReadRecord, on: string): ReadRecord {
  const entries = entriesOf(record);
  const times = new Map(timesOf(entries).map((time, index) => [entries[index], time]));
  const hasCome = (entry: Entry | null) => entry === null || instant(times.get(entry) ?? entry.time) <= instant(on);
  return { lines: record.lines.filter(({ entry }) => hasCome(entry)), torn: record.torn };
}

/** Corrections that were dated by a clock that ran ahead, as of when the record says that it did. */
export function withDatesRight<E extends Episode>(episode: E, record: ReadRecord): E {
  const entries = entriesOf(record);
  if (entries.every(({ ahead }) => ahead === undefined)) return episode;
  const times = timesOf(entries);
  const entered = new Map(entries.map(({ correction }, index) => [correction?.id, times[index]]));
  const corrections = episode.corrections.map((correction) => {
    const time = entered.get(correction.id);
    return time === undefined || instant(correction.dated) <= instant(time)
      ? correction
      : { ...correction, dated: time };
  });
  return { ...episode, corrections };
}

/**
 * A text by the entry that published it, with today's corrections and today's rights: what may be given does not depend
 * on when a text was written. Null where it is not kept.
 */
function textOf(seq: number | null, archived: ArchivedEpisode): Episode | null {
  const kept = archived.earlier.find((own) => own.seq === seq)?.episode ?? null;
  if (kept === null) return null;
  const present = new Map(archived.segments.map((segment) => [segment.slug, segment]));
  const segments = kept.segments.map((segment) => {
    const now = present.get(segment.slug);
    return now === undefined ? segment : { ...segment, rights: now.rights };
  });
  return { ...kept, segments, corrections: archived.corrections };
}

function historyOf(record: ReadRecord, { laid }: LaidEpisode, archived: ArchivedEpisode): readonly HistoryLine[] {
  const corrections = new Map(archived.corrections.map((correction) => [correction.id, correction]));
  const entries = entriesOf(record);
  const times = new Map(timesOf(entries).map((time, index) => [entries[index], time]));
  const reasons = reasonsIn(entries, archived);
  const entered = record.lines.flatMap(({ entry, digest }): readonly HistoryLine[] => {
    if (entry === null) return [];
    const { seq, what } = entry;
    const time = times.get(entry) ?? entry.time;
    const correction = corrections.get(entry.correction?.id ?? "") ?? null;
    return [{ time, what, correction, reason: reasons.get(seq) ?? null, seq, digest }];
  });
  const known = new Set(entries.map(({ correction }) => correction?.id));
  const awaiting = laid
    .filter(({ correction }) => !known.has(correction.id))
    .map(({ correction }): HistoryLine => {
      const what = does(correction, "takes-away") ? "withdrawn" : "corrected";
      return { time: correction.dated, what, correction, reason: null, seq: null, digest: null };
    });
  return [...entered, ...awaiting];
}

/** The reasons of reissues, by the numbers of their entries: each is kept with the text that it replaced. */
function reasonsIn(entries: readonly Entry[], { earlier }: ArchivedEpisode): ReadonlyMap<number, string | null> {
  const kept = new Map(earlier.map(({ seq, reason }) => [seq, reason]));
  const reasons = new Map<number, string | null>();
  let replaced = -1;
  for (const entry of entries.filter(publishesText)) {
    if (entry.what === "reissued") reasons.set(entry.seq, kept.get(replaced) ?? null);
    replaced = entry.seq;
  }
  return reasons;
}

/** A text, and what it came to with its corrections. */
interface InForce {
  readonly text: Episode;
  readonly episode: LaidEpisode;
  /** What is withheld in the text that lies there now, and all that is withdrawn, in its clock. */
  readonly withheld: readonly LaidSegment[];
  readonly gone: readonly WithdrawnStretch[];
  /** The number of the entry that published the text that lies there now. */
  readonly newest: number | undefined;
}

const newestText = (record: ReadRecord): number | undefined => entriesOf(record).findLast(publishesText)?.seq;

function textsOf(
  record: ReadRecord,
  archived: ArchivedEpisode,
  on: string,
  { text, episode, withheld, gone, newest }: InForce,
): readonly PublishedText[] {
  const seqs = entriesOf(record)
    .filter(publishesText)
    .map(({ seq }) => seq);
  const corrections = archived.corrections.filter((own) => does(own, "takes-away"));
  if (gone.some(({ segment }) => segment === null) || corrections.some(({ segment }) => segment === null)) return [];
  return seqs.flatMap((seq) => {
    const kept = seq === newest ? archived : textOf(seq, archived);
    if (kept === null) return [];
    const also = alsoHeld(withheld, kept, archived);
    // Most texts were never corrected, and stand as they were published.
    if (kept === text && archived.corrections.length === 0) return [{ seq, episode, also }];
    const withdrawn = gone.map((stretch) => inClockOf(stretch, archived, kept));
    return [{ seq, episode: layCorrections({ ...kept, corrections }, on, { reissued: new Set(), withdrawn }), also }];
  });
}
