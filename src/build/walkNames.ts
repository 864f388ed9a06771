import type { NameList } from "../model/nameLists.ts";
import { countsIn, partsByName, type WalkEpisode, type YearName, type YearNames } from "../pages/walk.ts";
import { keyOf } from "./state.ts";

/** @param episodes of the year, oldest first. */
export function yearNames(episodes: readonly WalkEpisode[]): YearNames {
  const namesOf = (list: NameList) =>
    Object.fromEntries(
      [...partsByName(episodes, list)].map(([slug, part]): readonly [string, YearName] => {
        const name =
          part
            .at(-1)
            ?.segments.at(-1)
            ?.names[list].find((own) => own.slug === slug)?.name ?? slug;
        return [slug, { ...countsIn(part), name, digest: keyOf(part) }];
      }),
    );
  return { speakers: namesOf("speakers"), topics: namesOf("topics"), places: namesOf("places") };
}
