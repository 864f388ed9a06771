import type { ArchivedEpisode } from "../model/programme.ts";
import { withDatesRight } from "./day.ts";
import { entriesOf, readRecord, timesOf } from "./entry.ts";
import { instant } from "./order.ts";
import type { Span } from "./span.ts";

/** How long an episode is shown as it is. @param until the last moment that counts, ISO 8601. @param day its local date. @param record where it is read already. */
export function spanOf(
  written: ArchivedEpisode,
  until: string,
  day: string,
  record = readRecord(written.record ?? ""),
): Span {
  const now = instant(until);
  const episode = withDatesRight(written, record);
  const texts = [episode, ...episode.earlier.flatMap((text) => text.episode ?? [])];
  const moments = [
    ...texts.map(({ aired }) => instant(aired)),
    ...episode.corrections.map(({ dated }) => instant(dated)),
    ...timesOf(entriesOf(record)).map((time) => instant(time)),
  ];
  const days = texts.flatMap(({ segments }) => segments.flatMap(({ rights }) => rights?.until ?? [])).sort();
  return {
    came: moments.reduce<number | null>((last, at) => (at <= now ? Math.max(last ?? at, at) : last), null),
    comes: moments.reduce<number | null>((next, at) => (at > now ? Math.min(next ?? at, at) : next), null),
    lapsed: days.findLast((date) => date <= day) ?? null,
    lapses: days.find((date) => date > day) ?? null,
  };
}
