import { type OrderTimes, orderTimes } from "../derive/backtiming.ts";
import { findSlot } from "../derive/slots.ts";
import { oneEpisode } from "./oneEpisode.ts";

/** The running order of an episode as it went out, planned against actual. @throws UsageError where it can't be read. */
export function orderOfEpisode(id: string, content: string): OrderTimes {
  const { programme, episode } = oneEpisode(content, id);
  return orderTimes(episode.segments, findSlot(programme.slots, episode)?.runs ?? null);
}
