import type { Correction, Episode } from "../model/episode.ts";
import type { ArchivedEpisode } from "../model/programme.ts";
import type { Digest } from "./digest.ts";
import { earlierTextOn, settledBy } from "./enter.ts";
import { type Entry, entriesOf, type ReadRecord, readRecord } from "./entry.ts";
import type { LaidEpisode } from "./laid.ts";
import { layCorrections } from "./lay.ts";
import { instant } from "./order.ts";

/** One line of an episode's history. */
export interface HistoryLine {
  /** ISO 8601: when it was entered; for a correction that awaits entry, when it is dated. */
  readonly time: string;
  readonly what: "published" | "corrected" | "reissued" | "withdrawn";
  readonly correction: Correction | null;
  /** Why the text was replaced, Markdown. */
  readonly reason: string | null;
  /** The number of its entry; null: it awaits entry. */
  readonly seq: number | null;
  readonly digest: Digest | null;
}

/** A text as it was published, with nothing but what was withdrawn taken out. */
export interface PublishedText {
  /** The number of the entry that published it. */
  readonly seq: number;
  readonly episode: LaidEpisode;
}

/** An episode as it stood at a moment. */
export interface DayEpisode {
  readonly episode: LaidEpisode;
  /** It was not published then. */
  readonly draft: boolean;
  readonly history: readonly HistoryLine[];
  /** The lines of its record until then, byte for byte; "" for a draft. */
  readonly record: string;
  /** Oldest first. Texts that something was withdrawn from by a reissue are kept nowhere, and not here. */
  readonly texts: readonly PublishedText[];
}

/** The episode at a moment (ISO 8601): the text in force then, with the corrections of then. */
export function episodeOn(archived: ArchivedEpisode, on: string): DayEpisode {
  const record = untilThen(readRecord(archived.record ?? ""), on);
  const earlier = earlierTextOn(readRecord(archived.record ?? ""), on);
  const text = textOf(earlier, archived) ?? archived;
  const episode = layCorrections(text, on, settledBy(record));
  return {
    episode,
    draft: record.lines.length === 0,
    history: historyOf(record, episode, archived),
    record: record.lines.map((line) => `${line.text}\n`).join(""),
    texts: textsOf(record, archived, on, { text, episode }),
  };
}

function untilThen({ lines, torn }: ReadRecord, on: string): ReadRecord {
  return { lines: lines.filter(({ entry }) => entry === null || instant(entry.time) <= instant(on)), torn };
}

/** A text by the entry that published it, with today's corrections; null where it is not kept. */
function textOf(seq: number | null, archived: ArchivedEpisode): Episode | null {
  const kept = archived.earlier.find((own) => own.seq === seq)?.episode ?? null;
  return kept === null ? null : { ...kept, corrections: archived.corrections };
}

function historyOf(record: ReadRecord, { laid }: LaidEpisode, archived: ArchivedEpisode): readonly HistoryLine[] {
  const corrections = new Map(archived.corrections.map((correction) => [correction.id, correction]));
  const entered = record.lines.flatMap(({ entry, digest }): readonly HistoryLine[] => {
    if (entry === null) return [];
    const { seq, time, what } = entry;
    const correction = corrections.get(entry.correction?.id ?? "") ?? null;
    return [{ time, what, correction, reason: reasonFor(seq, record, archived), seq, digest }];
  });
  const known = new Set(entriesOf(record).map(({ correction }) => correction?.id));
  const awaiting = laid
    .filter(({ correction }) => !known.has(correction.id))
    .map(({ correction }): HistoryLine => {
      const what = correction.kind === "withdrawal" ? "withdrawn" : "corrected";
      return { time: correction.dated, what, correction, reason: null, seq: null, digest: null };
    });
  return [...entered, ...awaiting];
}

/** The reason of a reissue is kept with the text that it replaced. */
function reasonFor(seq: number, record: ReadRecord, { earlier }: ArchivedEpisode): string | null {
  const entries = entriesOf(record);
  const entry = entries.find((own) => own.seq === seq);
  if (entry?.what !== "reissued") return null;
  const replaced = entries.findLast((own) => own.seq < seq && isText(own));
  return earlier.find((own) => own.seq === replaced?.seq)?.reason ?? null;
}

/** A text, and what it came to with its corrections. */
interface InForce {
  readonly text: Episode;
  readonly episode: LaidEpisode;
}

function textsOf(
  record: ReadRecord,
  archived: ArchivedEpisode,
  on: string,
  inForce: InForce,
): readonly PublishedText[] {
  const seqs = entriesOf(record)
    .filter(isText)
    .map(({ seq }) => seq);
  const corrections = archived.corrections.filter(({ kind }) => kind === "withdrawal");
  if (corrections.some(({ segment }) => segment === null)) return [];
  const present = entriesOf(readRecord(archived.record ?? "")).findLast(isText)?.seq;
  return seqs.flatMap((seq) => {
    const kept = seq === present ? archived : textOf(seq, archived);
    if (kept === null) return [];
    // Most texts were never corrected, and stand as they were published.
    const stands = kept === inForce.text && archived.corrections.length === 0;
    return [{ seq, episode: stands ? inForce.episode : layCorrections({ ...kept, corrections }, on) }];
  });
}

const isText = ({ what }: Entry): boolean => what === "published" || what === "reissued";
