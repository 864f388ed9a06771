import { episodePath, href } from "../model/address.ts";
import { episodeTitle } from "../pages/episode.ts";
import type { PageContext } from "../pages/site.ts";
import type { Link } from "../pages/types.ts";
import type { ShownEpisode } from "../record/shown.ts";

/** The way to an episode from its neighbours. */
export const linkTo = (shown: ShownEpisode, { addresses }: PageContext): Link => ({
  title: episodeTitle(shown),
  href: href(addresses, episodePath(shown.episode.id)),
});
