import { episodeFilePath, episodePath, href, segmentPath } from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import { toMedia, toMediaEdge } from "../model/timeMap.ts";
import type { ShownEpisode, ShownSegment } from "../record/shown.ts";
import type { PageContext } from "./site.ts";
import type { OrderItem, RunningOrder } from "./types.ts";
import { weaveOf } from "./weave.ts";
import { kindBeside } from "./words.ts";

/** A break that the recording lacks is of no use to anybody on the page. */
export const isListed = ({ segment, span }: ShownSegment): boolean => segment.kind !== "break" || span !== null;

/** Where a running order stands: on its episode's page, on the page of one of its segments, or elsewhere. */
export type OrderPlace = "episode" | "elsewhere" | { readonly segment: string };

/** The running order of an episode, made once, and then set wherever it stands. */
export function runningOrder(shown: ShownEpisode, context: PageContext): (place: OrderPlace) => RunningOrder {
  const { episode } = shown;
  const items = shown.segments.filter(isListed).map((own) => orderItem(own, shown, context));
  return (place) => ({
    items: items.map((item) => ({
      ...item,
      href: itemHref(item.slug, episode.id, place, context),
      current: typeof place === "object" && place.segment === item.slug,
    })),
    runs: episode.duration / 1000,
    endClock: formatClock(episode.duration),
    sheet: href(context.addresses, episodeFilePath(episode.id, "orderSheet")),
  });
}

function orderItem(own: ShownSegment, shown: ShownEpisode, context: PageContext): Omit<OrderItem, "href" | "current"> {
  const { segment, span, holding } = own;
  const { episode } = shown;
  const start = toMediaEdge(segment.in, episode);
  const title = own.segment.title;
  const { corrections } = own;
  return {
    slug: segment.slug,
    title,
    kind: segment.kind,
    kindName: kindBeside(segment.kind, title),
    in: start / 1000,
    inClock: formatClock(start),
    proposed: segment.proposed === true,
    seconds: span === null ? 0 : (span.to - span.from) / 1000,
    length: formatClock(span === null ? segment.out - segment.in : span.to - span.from),
    withheld: holding.withheld && !segment.withdrawn,
    withdrawn: segment.withdrawn,
    inRecording: span !== null,
    weave: weaveOf(own, shown, context.programme.presenters),
    carets: corrections.flatMap(({ clock }) => {
      const at = clock === null ? null : toMedia(clock, episode);
      return at === null || span === null || at < span.from || at >= span.to
        ? []
        : [Math.round(((at - span.from) / (span.to - span.from)) * 1e4) / 1e4];
    }),
    correctionCount: corrections.length,
  };
}

function itemHref(slug: string, episode: string, place: OrderPlace, { addresses }: PageContext): string {
  if (place === "episode") return `#${slug}`;
  if (place === "elsewhere") return `${href(addresses, episodePath(episode))}#${slug}`;
  return href(addresses, segmentPath(episode, slug));
}
