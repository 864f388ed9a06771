import { SEARCH_INDEX } from "../model/address.ts";
import { grouped } from "../model/grouped.ts";
import type { Neighbours } from "../pages/episode.ts";
import { pageContextOf } from "../pages/site.ts";
import type { EditionLink } from "../pages/types.ts";
import { isSameStats } from "../read/fileStats.ts";
import { readEpisodeSources } from "../read/folder.ts";
import { tierOf } from "../search/tiers.ts";
import type { Candidate, Job } from "./jobData.ts";
import { type Ends, isUnchangedOn, type KnownEpisode, keyOf } from "./state.ts";
import type { Survey, SurveyedYear } from "./survey.ts";

/** What all jobs of a build have alike. */
export type JobContext = Omit<Job, "name" | "index" | "indexed" | "episodes" | "edges" | "why">;

/** Jobs to be done, and what is to be taken away. */
export interface JobPlan {
  /** All tiers, by name, with the ids of their episodes. */
  readonly tiers: ReadonlyMap<string, { readonly year: string; readonly ids: readonly string[] }>;
  /** The jobs in which anything may have changed. */
  readonly due: readonly Job[];
  /** The job of every tier, but for its episodes. */
  readonly jobs: ReadonlyMap<string, Omit<Job, "episodes">>;
  /** What the site has and the content has no more, by year. */
  readonly gone: readonly {
    readonly year: string;
    readonly ids: readonly string[];
    readonly places: readonly string[];
  }[];
  /** Years that must be put together anew. */
  readonly touched: ReadonlySet<string>;
}

/** The episodes of a tier of the search index: what one job builds. */
interface Stretch {
  readonly name: string;
  readonly year: SurveyedYear;
  /** Nothing happened to any of its files, as that of the whole year. */
  readonly isAtRest: boolean;
  readonly ids: readonly string[];
  candidates(): readonly Candidate[];
}

/** What stands on the site of an episode, as far as its neighbours and the search tiers are concerned. */
interface EpisodeLink {
  readonly id: string;
  readonly link: EditionLink | null;
  readonly draft: boolean;
  readonly aired: number;
}

/** Divides the archive into jobs, one a tier, and finds those that anything happened to. */
export async function planJobs({ years }: Survey, context: JobContext): Promise<JobPlan> {
  const linkOf = linkReader(context);
  const newestYear = await newestPublished(years, linkOf);
  const stretches = years.flatMap((year) => stretchesOf(year, newestYear));
  const tiers = new Map(stretches.map(({ name, year, ids }) => [name, { year: year.year, ids }]));
  const due: Job[] = [];
  const jobs = new Map<string, Omit<Job, "episodes">>();
  for (const [at, stretch] of stretches.entries()) {
    const edges: Neighbours = {
      earlier: await nearest(stretches.slice(0, at).reverse(), "last", linkOf),
      later: await nearest(stretches.slice(at + 1), "first", linkOf),
    };
    const { name, year } = stretch;
    const left = goneFrom(year).some((id) => tierOf(id, newestYear) === name);
    const [index, indexed] = [SEARCH_INDEX + name, year.state?.tiers[name]?.key ?? null];
    const job = { ...context, name, index, indexed, edges, why: year.why };
    jobs.set(name, job);
    if (left || isDue(stretch, edges, context)) due.push({ ...job, episodes: stretch.candidates() });
  }
  const gone = years.flatMap((year) => {
    const ids = goneFrom(year);
    const left = Object.keys(year.state?.tiers ?? {}).filter((name) => tiers.get(name)?.year !== year.year);
    const places = [...ids, ...left.map((name) => SEARCH_INDEX + name)];
    return places.length === 0 ? [] : [{ year: year.year, ids, places }];
  });
  const touched = new Set([...due.flatMap(({ name }) => tiers.get(name)?.year ?? []), ...gone.map(({ year }) => year)]);
  return { tiers, due, jobs, gone, touched };
}

function stretchesOf(year: SurveyedYear, newestYear: string): readonly Stretch[] {
  const tiers = [...grouped(year.folders, ({ id }) => tierOf(id, newestYear))];
  const known = year.state?.tiers ?? {};
  const isAtRest = year.isAtRest && tiers.every(([name]) => known[name] !== undefined);
  return tiers.map(([name, folders]) => {
    const candidates = () => year.candidates().filter(({ folder }) => tierOf(folder.id, newestYear) === name);
    return { name, year, isAtRest, ids: folders.map(({ id }) => id), candidates };
  });
}

/** Episodes that the site knows and the content has no more. */
function goneFrom({ state, folders, isAtRest }: SurveyedYear): readonly string[] {
  if (state === null || isAtRest) return [];
  const there = new Set(folders.map(({ id }) => id));
  return state.stats.shapes.flatMap(({ ids }) => ids.filter((id) => !there.has(id)));
}

/** Whether anything may have changed in a stretch, or beside it. */
function isDue({ name, year, isAtRest, candidates }: Stretch, edges: Neighbours, context: JobContext): boolean {
  const tier = year.state?.tiers[name];
  if (year.why !== null || tier === undefined) return true;
  if (!isAtRest && candidates().some((candidate) => !isAsKnown(candidate, context))) return true;
  if (tier.ends === null) return false;
  const { first, last } = tier.ends;
  return (
    first.beside !== keyOf({ earlier: edges.earlier, later: first.next ?? edges.later }) ||
    last.beside !== keyOf({ earlier: last.next ?? edges.earlier, later: edges.later })
  );
}

/** The first and the last episode on the site of the episodes of a tier. */
export function endsOf(episodes: readonly KnownEpisode[]): Ends | null {
  const shown = episodes
    .flatMap(({ link, aired, beside }) => (link === null ? [] : [{ link, beside, aired: Date.parse(aired ?? "") }]))
    .sort((a, b) => a.aired - b.aired);
  const [first, last] = [shown[0], shown.at(-1)];
  if (first === undefined || last === undefined) return null;
  return {
    first: { link: first.link, next: shown[1]?.link ?? null, beside: first.beside },
    last: { link: last.link, next: shown.at(-2)?.link ?? null, beside: last.beside },
  };
}

/** Nothing happened to its files, and nothing dated has come since. */
export const isAsKnown = ({ known, stats }: Candidate, context: JobContext): boolean =>
  known !== null && isSameStats(known.stats, stats) && isUnchangedOn(known, context);

type ReadLink = (candidate: Candidate, why: string | null) => Promise<EpisodeLink>;

/** Reads an episode only where what is known of it may not hold; each once. */
function linkReader(context: JobContext): ReadLink {
  const read = new Map<string, EpisodeLink>();
  const pageContext = pageContextOf(context.programme, context.assets);
  return async (candidate, why) => {
    const { folder, known } = candidate;
    if (known !== null && why === null && isAsKnown(candidate, context)) {
      const { link, draft, aired } = known;
      return { id: folder.id, link, draft, aired: Date.parse(aired ?? "") };
    }
    const met = read.get(folder.folder);
    if (met !== undefined) return met;
    // Loaded here: a build that has nothing to read must not wait for it.
    const [{ seeEpisode }, { linkTo }] = await Promise.all([import("./readEpisode.ts"), import("./links.ts")]);
    const { sources, findings } = readEpisodeSources(context.content, folder);
    const { shown, draft, aired } = seeEpisode(sources, findings, context, null);
    const link = shown === null ? null : linkTo(shown, pageContext);
    const found = { id: folder.id, link, draft, aired: Date.parse(aired ?? "") };
    read.set(folder.folder, found);
    return found;
  };
}

/** The year of the newest published episode on the site; "" where there is none. */
async function newestPublished(years: readonly SurveyedYear[], linkOf: ReadLink): Promise<string> {
  for (const { year, state, isAtRest, candidates, why } of years.toReversed()) {
    if (isAtRest && state !== null) {
      if (state.facts.newest !== null) return year;
      continue;
    }
    for (const candidate of candidates().toReversed()) {
      const { link, draft } = await linkOf(candidate, why);
      if (link !== null && !draft) return year;
    }
  }
  return "";
}

/** The first or the last episode on the site of the nearest of some stretches that has one. */
async function nearest(
  stretches: readonly Stretch[],
  end: "first" | "last",
  linkOf: ReadLink,
): Promise<EditionLink | null> {
  for (const { name, year, isAtRest, candidates } of stretches) {
    const link = isAtRest
      ? (year.state?.tiers[name]?.ends?.[end].link ?? null)
      : await endOf(candidates(), end, (candidate) => linkOf(candidate, year.why));
    if (link !== null) return link;
  }
  return null;
}

/** The same of some candidates, day by day: those of one day are put in the order in which they were aired. */
async function endOf(
  candidates: readonly Candidate[],
  end: "first" | "last",
  linkOf: (candidate: Candidate) => Promise<EpisodeLink>,
): Promise<EditionLink | null> {
  const days = [...grouped(candidates, ({ folder }) => folder.id.slice(0, 10)).values()];
  for (const day of end === "first" ? days : days.reverse()) {
    const shown: EpisodeLink[] = [];
    for (const candidate of day) shown.push(await linkOf(candidate));
    const ordered = shown
      .filter(({ link }) => link !== null)
      .sort((a, b) => a.aired - b.aired || (a.id < b.id ? -1 : 1));
    const found = ordered.at(end === "first" ? 0 : -1);
    if (found !== undefined) return found.link;
  }
  return null;
}
