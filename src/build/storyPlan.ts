import { joinStories, type StorySegment } from "../derive/stories.ts";
import { STORIES_PATH, storyPath } from "../model/address.ts";
import type { WalkEpisode } from "../pages/walk.ts";
import { type Story, storiesPage, storyPage } from "../pages/walkPages.ts";
import type { Group, PlannedSite, PlannedYear, YearStories } from "./groups.ts";
import { keyOf } from "./state.ts";

/**
 * The stories of each year. A year's follow from its own episodes and the last evenings of the year before: what is
 * known of them holds while both are the same. @param years oldest first. @param known from the last build.
 */
export function storiesOf(
  years: readonly PlannedYear[],
  known: Readonly<Record<string, YearStories>>,
): Readonly<Record<string, YearStories>> {
  const found: Record<string, YearStories> = {};
  let recent: YearStories["recent"] = [];
  for (const { facts, listed, readWalk } of years) {
    const key = keyOf([listed, recent]);
    const before = known[facts.year];
    const own = before?.key === key ? before : { key, ...joinStories(readWalk().flatMap(storySegments), recent) };
    found[facts.year] = own;
    recent = own.recent;
  }
  return found;
}

const storySegments = ({ id, segments }: WalkEpisode): readonly StorySegment[] =>
  segments.map(({ slug, kind, names, telling, story }) => ({
    episode: id,
    slug,
    kind,
    topics: names.topics.map((own) => own.slug),
    names: [...names.places, ...names.speakers].map((own) => own.slug),
    words: telling,
    story: story?.slug ?? null,
  }));

/** The pages of stories of at least two evenings, a group each, and their list. */
export function storyGroups({ context, years, stories }: PlannedSite): readonly Group[] {
  const members = new Map<string, Set<string>>();
  for (const { stories: own } of Object.values(stories)) {
    for (const [story, ids] of Object.entries(own)) {
      members.set(story, new Set([...(members.get(story) ?? []), ...ids]));
    }
  }
  const all = [...members].flatMap(([id, ids]) => {
    const dates = new Set([...ids].map((own) => own.slice(0, 10)));
    if (dates.size < 2) return [];
    const own = years.filter(({ facts }) => [...dates].some((date) => date.startsWith(facts.year)));
    const key = [[...ids].sort(), own.map(({ listed }) => listed)];
    const read = (): Story => ({ id, part: own.flatMap(({ readWalk }) => partOf(readWalk(), ids)) });
    return [{ id, key, read }];
  });
  return [
    {
      name: STORIES_PATH,
      key: keyOf(all.map(({ key }) => key)),
      make: async () => {
        const page = storiesPage(
          all.map(({ read }) => read()),
          context,
        );
        return [{ path: page.path, page }];
      },
    },
    ...all.map(
      ({ id, key, read }): Group => ({
        name: storyPath(id),
        key: keyOf(key),
        make: async () => {
          const page = storyPage(read(), context);
          return [{ path: page.path, page }];
        },
      }),
    ),
  ];
}

/** The part of some episodes that a story is in. */
function partOf(episodes: readonly WalkEpisode[], ids: ReadonlySet<string>): readonly WalkEpisode[] {
  const there = new Set([...ids].map((id) => id.slice(0, id.indexOf("/"))));
  return episodes.flatMap((episode) => {
    if (!there.has(episode.id)) return [];
    const segments = episode.segments.filter(({ slug }) => ids.has(`${episode.id}/${slug}`));
    return segments.length === 0 ? [] : [{ ...episode, segments }];
  });
}
