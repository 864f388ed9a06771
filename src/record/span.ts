import type { ArchivedEpisode } from "../model/programme.ts";
import { entriesOf, readRecord } from "./entry.ts";
import { instant } from "./order.ts";

/**
 * Between which moments and days an episode is shown as it is: nothing dated falls between. Moments are milliseconds
 * since 1970, days local dates; null where nothing comes before or after.
 */
export interface Span {
  /** The last moment that had come, and the first that had not. */
  readonly came: number | null;
  readonly comes: number | null;
  /** The same of the days on which rights lapse. */
  readonly lapsed: string | null;
  readonly lapses: string | null;
}

/** @param until the last moment that counts, ISO 8601. @param day its local date. */
export function spanOf(episode: ArchivedEpisode, until: string, day: string): Span {
  const now = instant(until);
  const texts = [episode, ...episode.earlier.flatMap((text) => text.episode ?? [])];
  const moments = [
    ...texts.map(({ aired }) => instant(aired)),
    ...episode.corrections.map(({ dated }) => instant(dated)),
    ...entriesOf(readRecord(episode.record ?? "")).map(({ time }) => instant(time)),
  ];
  const days = texts.flatMap(({ segments }) => segments.flatMap(({ rights }) => rights?.until ?? [])).sort();
  return {
    came: moments.reduce<number | null>((last, at) => (at <= now ? Math.max(last ?? at, at) : last), null),
    comes: moments.reduce<number | null>((next, at) => (at > now ? Math.min(next ?? at, at) : next), null),
    lapsed: days.findLast((date) => date <= day) ?? null,
    lapses: days.find((date) => date > day) ?? null,
  };
}

/** Whether a day lies within. @param until with its offset from UTC. */
export function isWithin({ came, comes, lapsed, lapses }: Span, until: string, day: string): boolean {
  // Not `instant`: this is asked of every episode in every build.
  const now = Date.parse(until);
  return (
    (came === null || came <= now) &&
    (comes === null || now < comes) &&
    (lapsed === null || lapsed <= day) &&
    (lapses === null || day < lapses)
  );
}
