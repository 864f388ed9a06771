import { grouped } from "../model/grouped.ts";
import type { NameList } from "../model/nameLists.ts";
import {
  countsIn,
  type NameSpan,
  PAGE_EDITIONS,
  partsByName,
  type WalkEpisode,
  type YearName,
  type YearNames,
} from "../pages/walk.ts";
import { keyOf } from "./state.ts";

/**
 * The names of a year. @param episodes of the year, oldest first. @param digestOf an episode's: a name's parts are told by
 * those of the episodes that it is in, so that nothing long is gone through once for each name.
 */
export function yearNames(episodes: readonly WalkEpisode[], digestOf: (episode: WalkEpisode) => string): YearNames {
  const digests = new Map(episodes.map((episode) => [episode.id, digestOf(episode)]));
  const namesOf = (list: NameList) =>
    Object.fromEntries(
      [...partsByName(episodes, list)].map(([slug, part]): readonly [string, YearName] => {
        const spanOf = (period: string, own: readonly WalkEpisode[]): NameSpan => {
          const named = own.at(-1)?.segments.at(-1)?.names[list];
          const name = named?.find((one) => one.slug === slug)?.name ?? slug;
          return { ...countsIn(own), period, name, digest: keyOf(own.map(({ id }) => [id, digests.get(id)])) };
        };
        const months = part.length <= PAGE_EDITIONS ? [] : [...grouped(part, ({ aired }) => aired.slice(0, 7))];
        const year = spanOf(part[0]?.aired.slice(0, 4) ?? "", part);
        return [slug, { ...year, months: months.map(([month, own]) => spanOf(month, own)) }];
      }),
    );
  return { speakers: namesOf("speakers"), topics: namesOf("topics"), places: namesOf("places") };
}
