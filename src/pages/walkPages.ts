import {
  absolute,
  correctionPath,
  episodePath,
  fileOf,
  href,
  listPath,
  monthPath,
  namePath,
  STORIES_PATH,
  segmentPath,
  storyPath,
  yearPath,
} from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import { correctionKindName } from "../model/correctionKinds.ts";
import { grouped } from "../model/grouped.ts";
import { NAME_LISTS, type NameList } from "../model/nameLists.ts";
import type { PageContext } from "./site.ts";
import type { Page, WalkItem, WalkNote, WalkPage, Ways } from "./types.ts";
import {
  type Counts,
  countsIn,
  type StoryPart,
  type WalkCorrection,
  type WalkEpisode,
  type WalkSegment,
} from "./walk.ts";
import { countedInFigures, dateLong, dayOf, kindBeside, monthTitle, timesOfTwins } from "./words.ts";

/** What is said of a list. */
const LISTS: Readonly<
  Record<NameList, { readonly title: string; readonly note: string; about(name: string): string }>
> = {
  speakers: {
    title: "Speakers",
    note: "Everybody who is heard, by name. Two people of one name share a page.",
    about: (name) => `in which ${name} is heard`,
  },
  topics: { title: "Topics", note: "What we have spoken of.", about: (name) => `about ${name}` },
  places: {
    title: "Places",
    note: "Where we have been, and what we have spoken of from afar.",
    about: (name) => `about ${name}`,
  },
};

/** How much a name has in a year, `2026`, or month, `2026-10`. */
export interface PeriodCount extends Counts {
  readonly period: string;
}

/** The page of a name, or of one of its years or months. */
export interface NamePart {
  readonly list: NameList;
  readonly slug: string;
  readonly name: string;
  /** The segments that the page shows, oldest first. */
  readonly part: readonly WalkEpisode[];
  /** The year or month whose page it is; null: the name's own page. */
  readonly period: string | null;
  /** On its own page, where it has years on pages of theirs: how much each has, oldest first; the last is shown here. */
  readonly years: readonly PeriodCount[];
  /** Where the year has months on pages of theirs: the same of these. */
  readonly months: readonly PeriodCount[];
}

export function namePage({ list, slug, name, part, period, years, months }: NamePart, context: PageContext): Page {
  const path = namePath(list, slug, period);
  const link = (at: string) => href(context.addresses, at);
  const titleOf = (own: string) => (own.includes("-") ? monthTitle(own, context.calendar) : own);
  const of = period === null ? null : titleOf(period);
  const heading = of === null ? name : `${name}, ${of}`;
  const all = [years, months].find(({ length }) => length > 0) ?? [countsIn(part)];
  /** To each of some periods, the last of which is on this page. */
  const waysTo = (title: string, periods: readonly PeriodCount[]): Ways => ({
    title,
    links: periods
      .map((own, index) => {
        const current = index === periods.length - 1;
        const at = namePath(list, slug, current ? period : own.period);
        return { title: titleOf(own.period), href: link(at), count: own.segments, current };
      })
      .reverse(),
  });
  const page: WalkPage = {
    site: context.site,
    title: heading,
    description: `Every segment of ${context.programme.title} ${LISTS[list].about(name)}${of === null ? "" : ` in ${of}`}, with its corrections.`,
    canonical: absolute(context.addresses, path),
    structured: null,
    up: { title: LISTS[list].title, href: link(listPath(list)) },
    heading,
    dateline: countedOf(
      all.reduce((sum, own) => sum + own.segments, 0),
      all.reduce((sum, own) => sum + own.editions, 0),
    ),
    items: itemsOf(part.toReversed(), { list, slug, name }, context),
    ways: [
      waysTo("Months", months),
      waysTo("Years", years),
      {
        title: "Years",
        links:
          period === null
            ? []
            : [{ title: "All years", href: link(namePath(list, slug, null)), count: null, current: false }],
      },
      waysOfLists(null, context),
    ].filter(({ links }) => links.length > 0),
  };
  return { kind: "walk", path: fileOf(path), page };
}

const countedOf = (segments: number, editions: number): string =>
  `${countedInFigures(segments, "segment", "segments")} in ${countedInFigures(editions, "edition", "editions")}`;

/** The way to the lists. @param here the one whose page it is. */
function waysOfLists(here: NameList | "stories" | null, { addresses }: PageContext): Ways {
  const lists = NAME_LISTS.map((list) => ({ list, title: LISTS[list].title, path: listPath(list) }));
  const links = [...lists, { list: "stories", title: "Stories", path: STORIES_PATH }].map(({ list, title, path }) => ({
    title,
    href: href(addresses, path),
    count: null,
    current: list === here,
  }));
  return { title: "The archive by matter", links };
}

/** A story as the list of all has it. */
export interface Story extends Counts {
  readonly id: string;
  /** As an editor named it last, or that of its first segment. */
  readonly title: string;
  /** When its first segment was on air. */
  readonly began: string;
}

/** @param parts of its years, oldest first. @returns null where there are none. */
export function storyOf(id: string, parts: readonly StoryPart[]): Story | null {
  const first = parts[0]?.there[0];
  if (first === undefined) return null;
  return {
    id,
    title: parts.findLast(({ named }) => named !== null)?.named ?? first.title,
    began: first.aired,
    segments: parts.reduce((sum, { segments }) => sum + segments, 0),
    editions: parts.reduce((sum, { editions }) => sum + editions, 0),
  };
}

/** A story's page, in the order in which it was told. @param part its segments, oldest first. */
export function storyPage(
  { id, title, segments, editions }: Story,
  part: readonly WalkEpisode[],
  context: PageContext,
): Page {
  const path = storyPath(id);
  const page: WalkPage = {
    site: context.site,
    title,
    description: `How ${context.programme.title} told it, evening by evening, with every correction: ${title}.`,
    canonical: absolute(context.addresses, path),
    structured: null,
    up: { title: "Stories", href: href(context.addresses, STORIES_PATH) },
    heading: title,
    dateline: countedOf(segments, editions),
    items: itemsOf(part, null, context).map((item) => ({ ...item, corrections: [] })),
    ways: [waysOfLists(null, context)],
  };
  return { kind: "walk", path: fileOf(path), page };
}

/** The list of all stories, by the year in which they began, newest first. */
export function storiesPage(stories: readonly Story[], context: PageContext): Page {
  const inOrder = stories.toSorted((a, b) => (a.began > b.began || (a.began === b.began && a.id < b.id) ? -1 : 1));
  const groups = grouped(inOrder, ({ began }) => began.slice(0, 4));
  return {
    kind: "names",
    path: fileOf(STORIES_PATH),
    page: {
      site: context.site,
      title: "Stories",
      description: `What ${context.programme.title} came back to, each story evening by evening.`,
      canonical: absolute(context.addresses, STORIES_PATH),
      structured: null,
      heading: "Stories",
      dateline: countedInFigures(stories.length, "story", "stories"),
      note: "What we came back to on other evenings, newest first.",
      groups: [...groups].map(([letter, own]) => ({
        letter,
        names: own.map(({ id, title, segments }) => ({
          title,
          href: href(context.addresses, storyPath(id)),
          count: segments,
        })),
      })),
      ways: [waysOfLists("stories", context)],
    },
  };
}

/** The name whose page it is; null: all that an episode has. */
type AskedName = Pick<NamePart, "list" | "slug" | "name"> | null;

function itemsOf(part: readonly WalkEpisode[], asked: AskedName, context: PageContext): readonly WalkItem[] {
  const times = timesOfTwins(
    part.map(({ aired }) => aired),
    context.calendar,
  );
  return part.map((episode, n) => itemOf(episode, times[n] ?? null, asked, context));
}

function itemOf(episode: WalkEpisode, time: string | null, asked: AskedName, context: PageContext): WalkItem {
  const { id, aired, title, draft, segments, corrections } = episode;
  const link = (path: string) => href(context.addresses, path);
  return {
    day: dayOf(aired, context.calendar),
    time,
    episode: { title, href: link(episodePath(id)) },
    draft,
    corrections: asked === null ? corrections.map((own) => noteOf(own, context)) : [],
    segments: segments.map((own) => ({
      title: own.title,
      href: link(segmentPath(id, own.slug)),
      kindName: kindBeside(own.kind, own.title),
      length: formatClock(own.runs),
      as: asked === null ? null : otherName(own, asked.list, asked.slug, asked.name),
      corrections: own.corrections.map((one) => noteOf(one, context)),
    })),
  };
}

/** The names that a segment has at a slug, where that of the page is not among them. */
function otherName({ names }: WalkSegment, list: NameList, slug: string, name: string): string | null {
  const own = names[list].filter((one) => one.slug === slug).map((one) => one.name);
  return own.includes(name) ? null : own.join(", ");
}

const noteOf = ({ id, kind, dated }: WalkCorrection, { addresses, calendar }: PageContext): WalkNote => ({
  kind,
  kindName: correctionKindName(kind),
  href: href(addresses, correctionPath(id)),
  dated,
  datedLong: dateLong(dated, calendar),
});

/** A name in its list. */
export interface NameCount {
  readonly slug: string;
  readonly name: string;
  readonly segments: number;
}

/** How many names stand together without letters over them. Common practice, no source. */
const FEW = 40;

/** The list of all names of a kind. */
export function namesPage(list: NameList, names: readonly NameCount[], context: PageContext): Page {
  const { title, note } = LISTS[list];
  const { language } = context.calendar;
  const inOrder = names.toSorted((a, b) => a.name.localeCompare(b.name, language) || (a.slug < b.slug ? -1 : 1));
  const groups = new Map<string | null, { title: string; href: string; count: number }[]>();
  for (const { name, slug, segments } of inOrder) {
    const letter = names.length <= FEW ? null : firstLetter(name, language);
    const group = groups.get(letter) ?? [];
    group.push({ title: name, href: href(context.addresses, namePath(list, slug, null)), count: segments });
    groups.set(letter, group);
  }
  return {
    kind: "names",
    path: fileOf(listPath(list)),
    page: {
      site: context.site,
      title,
      description: `${title} of ${context.programme.title}, each with its segments.`,
      canonical: absolute(context.addresses, listPath(list)),
      structured: null,
      heading: title,
      dateline: countedInFigures(names.length, list.slice(0, -1), list),
      note,
      groups: [...groups].map(([letter, own]) => ({ letter, names: own })),
      ways: [waysOfLists(list, context)],
    },
  };
}

/** A name's first letter without its marks, as a capital. */
const firstLetter = (name: string, language: string): string =>
  (/[\p{L}\p{N}]/u.exec(name.normalize("NFD"))?.[0] ?? "…").toLocaleUpperCase(language);

/**
 * The pages of a year's months. @param months all that have an episode, `2026-10`, oldest first. @param episodes of the
 * year, oldest first.
 */
export function monthPages(
  months: readonly string[],
  episodes: readonly WalkEpisode[],
  context: PageContext,
): readonly Page[] {
  const link = (path: string) => href(context.addresses, path);
  return months.map((month) => {
    const own = episodes.filter(({ aired }) => aired.startsWith(month));
    const heading = monthTitle(month, context.calendar);
    const year = month.slice(0, 4);
    const wayOf = (other: string) => ({
      title: monthTitle(other, context.calendar),
      href: link(monthPath(other)),
      count: null,
      current: other === month,
    });
    return {
      kind: "walk",
      path: fileOf(monthPath(month)),
      page: {
        site: context.site,
        title: heading,
        description: `Every edition of ${context.programme.title} in ${heading}, with its segments and corrections.`,
        canonical: absolute(context.addresses, monthPath(month)),
        structured: null,
        up: { title: year, href: link(yearPath(year)) },
        heading,
        dateline: countedInFigures(own.length, "edition", "editions"),
        items: itemsOf(own.toReversed(), null, context),
        ways: [{ title: `Months of ${year}`, links: months.toReversed().map(wayOf) }],
      },
    };
  });
}
