import { episodePath, href, segmentPath } from "../model/address.ts";
import { aloneOfKind, episodeTitle } from "../pages/episode.ts";
import type { PageContext } from "../pages/site.ts";
import type { EditionLink } from "../pages/types.ts";
import { dayOf, timeOf } from "../pages/words.ts";
import type { ShownEpisode } from "../record/shown.ts";

/** The way to an episode from its neighbours. */
export const linkTo = (shown: ShownEpisode, { addresses, calendar }: PageContext): EditionLink => ({
  title: episodeTitle(shown),
  href: href(addresses, episodePath(shown.episode.id)),
  day: dayOf(shown.episode.aired, calendar).long,
  time: timeOf(shown.episode.aired, calendar),
  alone: Object.fromEntries(
    aloneOfKind(shown).map(({ segment: { kind, slug, title } }) => [
      kind,
      { title, href: href(addresses, segmentPath(shown.episode.id, slug)) },
    ]),
  ),
});
