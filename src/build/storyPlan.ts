import { joinStories, type StorySegment } from "../derive/stories.ts";
import { href, STORIES_PATH, segmentPath, storyPath } from "../model/address.ts";
import type { EpisodeStories, Link, StoryLine } from "../pages/types.ts";
import { countsIn, type StoryMember, type StoryPart, type WalkEpisode } from "../pages/walk.ts";
import { type Story, storiesPage, storyOf, storyPage } from "../pages/walkPages.ts";
import { dayOf, timesOfTwins } from "../pages/words.ts";
import type { Group, PlannedSite, PlannedYear, YearStories } from "./groups.ts";
import { keyOf } from "./state.ts";
import { pageGroup } from "./walkPlan.ts";

/** The segments of a story in one year. */
type Ids = ReadonlySet<string>;

/**
 * The stories of each year. A year's follow from its own episodes and the last evenings of the year before: what is
 * known of them holds while both are the same. @param years oldest first. @param known from the last build.
 */
export function storiesOf(
  years: readonly PlannedYear[],
  known: Readonly<Record<string, YearStories>>,
): Readonly<Record<string, YearStories>> {
  const joined: Omit<YearStories, "parts">[] = [];
  for (const { facts, listed, readWalk } of years) {
    const recent = joined.at(-1)?.recent ?? [];
    const key = keyOf([listed, recent]);
    const before = known[facts.year];
    joined.push(before?.key === key ? before : { key, ...joinStories(readWalk().flatMap(storySegments), recent) });
  }
  const members = membersOf(joined);
  const withParts = (
    { facts: { year }, listed, readWalk }: PlannedYear,
    own: Omit<YearStories, "parts">,
  ): YearStories => {
    const ids = [...(members.get(year) ?? [])];
    const key = keyOf([listed, ids.map(([story, there]) => [story, ...there])]);
    const before = known[year]?.parts;
    const told = () => Object.fromEntries(ids.map(([story, there]) => [story, toldOf(readWalk(), story, there)]));
    return { ...own, parts: before?.key === key ? before : { key, of: told() } };
  };
  return Object.fromEntries(
    years.flatMap((year, n) => {
      const own = joined[n];
      return own === undefined ? [] : [[year.facts.year, withParts(year, own)]];
    }),
  );
}

/** The segments of every story, by year and story, in order: a story may have begun in the year before the one that found it. */
function membersOf(found: readonly Pick<YearStories, "stories">[]): ReadonlyMap<string, ReadonlyMap<string, Ids>> {
  const members = new Map<string, Map<string, Set<string>>>();
  for (const [story, ids] of found.flatMap(({ stories }) => Object.entries(stories))) {
    for (const id of ids.toSorted()) {
      const year = members.get(id.slice(0, 4)) ?? new Map<string, Set<string>>();
      year.set(story, (year.get(story) ?? new Set()).add(id));
      members.set(id.slice(0, 4), year);
    }
  }
  return members;
}

function toldOf(walk: readonly WalkEpisode[], story: string, ids: Ids): StoryPart {
  const part = partOf(walk, ids);
  const segments = part.flatMap((episode) => episode.segments);
  return {
    ...countsIn(part),
    digest: keyOf(part),
    named: segments.findLast((own) => own.story?.slug === story)?.story?.name ?? null,
    there: part.flatMap(({ id, aired, segments: own }) =>
      own.map(({ slug, title }) => ({ episode: id, slug, title, aired })),
    ),
  };
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

interface ToldStory {
  readonly story: Story;
  /** Of its years, oldest first. */
  readonly own: readonly { readonly year: PlannedYear; readonly ids: Ids; readonly told: StoryPart }[];
}

/** The stories that an editor named or that have at least two evenings. */
function toldIn({ years, stories }: Pick<PlannedSite, "years" | "stories">): readonly ToldStory[] {
  const members = membersOf(Object.values(stories));
  const parts = new Map<string, { readonly year: PlannedYear; readonly ids: Ids; readonly told: StoryPart }[]>();
  for (const year of years) {
    for (const [story, told] of Object.entries(stories[year.facts.year]?.parts.of ?? {})) {
      const ids: Ids = members.get(year.facts.year)?.get(story) ?? new Set();
      parts.set(story, [...(parts.get(story) ?? []), { year, ids, told }]);
    }
  }
  return [...parts].flatMap(([id, own]) => {
    const dates = new Set(own.flatMap(({ ids }) => [...ids].map((one) => one.slice(0, "2026-10-05".length))));
    const story = storyOf(
      id,
      own.map(({ told }) => told),
    );
    const isNamed = own.some(({ told }) => told.named !== null);
    return story === null || (dates.size < 2 && !isNamed) ? [] : [{ story, own }];
  });
}

/** What the pages of each episode's segments say of their stories, by the episode's id. */
export function storyLines(
  site: Pick<PlannedSite, "context" | "years" | "stories">,
): ReadonlyMap<string, EpisodeStories> {
  const { addresses, calendar } = site.context;
  const lines = new Map<string, Record<string, StoryLine>>();
  const wayTo = (story: string, member: StoryMember | undefined, time: string | null | undefined): Link | null => {
    if (member === undefined) return null;
    const when = [story, dayOf(member.aired, calendar).long, time ?? []].flat().join(", ");
    const title = member.title === story ? when : `${when}: ${member.title}`;
    return { title, href: href(addresses, segmentPath(member.episode, member.slug)) };
  };
  for (const { story, own } of toldIn(site)) {
    const there = own.flatMap(({ told }) => told.there);
    const times = timesOfTwins(
      there.map(({ aired }) => aired),
      calendar,
    );
    const way: Link = { title: story.title, href: href(addresses, storyPath(story.id)) };
    for (const [n, { episode, slug }] of there.entries()) {
      const [earlier, later] = [n - 1, n + 1].map((at) => wayTo(story.title, there[at], times[at]));
      const line: StoryLine = { story: way, earlier: earlier ?? null, later: later ?? null };
      lines.set(episode, { ...lines.get(episode), [slug]: line });
    }
  }
  return new Map([...lines].map(([id, own]) => [id, inOrder(own)]));
}

const inOrder = (own: EpisodeStories): EpisodeStories =>
  Object.fromEntries(Object.entries(own).sort(([a], [b]) => (a < b ? -1 : 1)));

/** The pages of stories, a group each, and their list. */
export function storyGroups(site: PlannedSite): readonly Group[] {
  const { context } = site;
  const all = toldIn(site);
  const list = all.map(({ story }) => story);
  return [
    pageGroup(STORIES_PATH, list, () => storiesPage(list, context)),
    ...all.map(({ story, own }) => {
      const part = () => own.flatMap(({ year, ids }) => partOf(year.readWalk(), ids));
      return pageGroup(
        storyPath(story.id),
        own.map(({ told }) => told),
        () => storyPage(story, part(), context),
      );
    }),
  ];
}

/** The part of some episodes that a story is in. */
function partOf(episodes: readonly WalkEpisode[], ids: Ids): readonly WalkEpisode[] {
  const there = new Set([...ids].map((id) => id.slice(0, id.indexOf("/"))));
  return episodes.flatMap((episode) => {
    if (!there.has(episode.id)) return [];
    const segments = episode.segments.filter(({ slug }) => ids.has(`${episode.id}/${slug}`));
    return segments.length === 0 ? [] : [{ ...episode, segments }];
  });
}
