import { type OrderTimes, orderTimes } from "../derive/backtiming.ts";
import { findSlot } from "../derive/slots.ts";
import type { Episode } from "../model/episode.ts";
import type { Programme } from "../model/programme.ts";
import { oneEpisode } from "./oneEpisode.ts";

/** The running order of an episode as it went out, planned against actual. @throws UsageError where it can't be read. */
export function orderOfEpisode(id: string, content: string): OrderTimes {
  const { programme, episode } = oneEpisode(content, id);
  return timesOf(programme, episode);
}

/** The running order of an episode that is read already. */
export const timesOf = ({ slots }: Programme, episode: Episode): OrderTimes =>
  orderTimes(episode.segments, findSlot(slots, episode)?.runs ?? null);
