import type { ArchivedEpisode } from "../model/programme.ts";
import { entriesOf, readRecord } from "./entry.ts";
import { instant } from "./order.ts";
import type { Span } from "./span.ts";

/** How long an episode is shown as it is. @param until the last moment that counts, ISO 8601. @param day its local date. */
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
