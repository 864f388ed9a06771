import { href, segmentPath } from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import { toMedia } from "../model/timeMap.ts";
import type { MediaMs } from "../model/units.ts";
import type { ShownEpisode } from "../record/shown.ts";
import type { PageContext } from "./site.ts";
import type { CorrectionPlace } from "./types.ts";

/**
 * Every place where the words of a correction stand, by its id, in the order of the programme. A place that the recording
 * lacks, or may not give, has no time: its address leads to the segment.
 */
export function placesOfCorrections(
  shown: ShownEpisode,
  context: PageContext,
): ReadonlyMap<string, readonly CorrectionPlace[]> {
  const places = new Map<string, Map<string, CorrectionPlace>>();
  for (const { segment, cues } of shown.segments) {
    if (segment.withdrawn) continue;
    const page = href(context.addresses, segmentPath(shown.episode.id, segment.slug));
    for (const { start, pieces } of cues) {
      for (const { mark } of pieces.flatMap(({ runs }) => runs)) {
        if (mark === null) continue;
        const own = places.get(mark.correction.id) ?? new Map<string, CorrectionPlace>();
        places.set(mark.correction.id, own);
        const name = `${segment.slug} ${mark.occurrence}`;
        if (own.has(name)) continue;
        const media = toMedia(start, shown.episode);
        const at = media !== null && isHeard(media, shown) ? media : null;
        own.set(name, {
          title: segment.title,
          href: at === null ? page : `${page}#t=${at / 1000}`,
          clock: at === null ? null : formatClock(at),
        });
      }
    }
  }
  return new Map([...places].map(([id, own]) => [id, [...own.values()]]));
}

/** Whether the player of the page plays a moment. */
const isHeard = (at: MediaMs, { episode, giving, unheard }: ShownEpisode): boolean =>
  episode.media.length > 0 &&
  giving !== "off" &&
  giving !== "none" &&
  !unheard.some(({ span }) => at >= span.from && at < span.to);
