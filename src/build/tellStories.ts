import { blocks, type Finding } from "../model/finding.ts";
import type { PageContext } from "../pages/site.ts";
import type { EpisodeStories } from "../pages/types.ts";
import type { WalkEpisode } from "../pages/walk.ts";
import type { SiteFolder } from "../write/siteFolder.ts";
import type { PlannedYear } from "./groups.ts";
import type { Job } from "./jobData.ts";
import type { JobPlan } from "./jobPlan.ts";
import { runJobs, type Workers } from "./jobs.ts";
import type { Progress } from "./progress.ts";
import type { SharedInputs } from "./sharedInputs.ts";
import { type CommonState, keyOf, readEpisodes, readListings, readNames, readWalk, storiesKey } from "./state.ts";
import { storiesOf, storyLines } from "./storyPlan.ts";
import type { SurveyedYear } from "./survey.ts";
import { type BuiltYear, inAirOrder, type MadePages, yearBuilder } from "./years.ts";

export interface Telling {
  readonly years: readonly BuiltYear[];
  readonly surveyed: readonly SurveyedYear[];
  readonly plan: JobPlan;
  readonly known: CommonState | null;
  readonly context: PageContext;
  readonly sharedInputs: SharedInputs;
  readonly folder: SiteFolder;
  readonly progress: Progress;
  readonly workers: Workers;
  /** To be called before the first write. */
  begin(): void;
}

export interface Told {
  readonly years: readonly BuiltYear[];
  /** Those that have an episode, oldest first. */
  readonly planned: readonly PlannedYear[];
  readonly stories: CommonState["stories"];
  readonly findings: readonly Finding[];
  readonly made: MadePages;
}

type Lines = ReadonlyMap<string, EpisodeStories>;

/**
 * Joins the stories, which are known only when all years are, and sets the episodes again whose segments' pages lead to
 * others than they should: the one that joined a story, and the one before it there.
 */
export async function tellStories(telling: Telling): Promise<Told> {
  const { years, surveyed, plan, known, context, sharedInputs, folder, progress, workers, begin } = telling;
  const planned = years.map(plannedYear).filter(({ facts }) => facts.episodes > 0);
  const stories = storiesOf(planned, known?.stories ?? {});
  const lines = storyLines({ context, years: planned, stories });
  const due = years.flatMap((year) => dueIn(year, lines, telling));
  const told = { years, planned, stories, findings: [], made: new Map<string, number>() };
  if (due.length === 0) return told;
  begin();
  const touched = new Set(due.flatMap(({ job }) => plan.tiers.get(job.name)?.year ?? []));
  const builder = yearBuilder({
    plan: { ...plan, due: due.map(({ job }) => job), gone: [], touched },
    surveyed: surveyed.flatMap((own) =>
      years.flatMap((year) => (year.year === own.year ? [surveyedAs(own, year)] : [])),
    ),
    inputDigests: sharedInputs.inputDigests,
    folder,
    progress,
  });
  const changed = new Map(due.map(({ job, changed }) => [job.name, changed]));
  await runJobs(
    due.map(({ job }) => job),
    ({ name }) => changed.get(name) ?? 0,
    builder.add,
    () => undefined,
    workers,
  );
  const again = await builder.finish();
  const now = years.map((year) => {
    const anew = touched.has(year.year) ? again.years.find((own) => own.year === year.year) : undefined;
    return anew === undefined ? year : { ...anew, holdsMore: year.holdsMore };
  });
  return {
    ...told,
    years: now,
    planned: now.map(plannedYear).filter(({ facts }) => facts.episodes > 0),
    // What only warns was found when they were first looked into.
    findings: again.findings.filter(blocks),
    made: again.made,
  };
}

/** The jobs of a year that have an episode to set again. */
function dueIn(year: BuiltYear, lines: Lines, { surveyed, plan }: Telling): readonly { job: Job; changed: number }[] {
  const ofYear = [...lines].filter(([id]) => id.startsWith(year.year));
  if (storiesKey(ofYear) === year.state.told) return [];
  const known = readEpisodes(year.path);
  const candidates = (surveyed.find((own) => own.year === year.year)?.candidates() ?? []).map((candidate) => {
    const { id } = candidate.folder;
    return { ...candidate, known: known[id] ?? null, stories: lines.get(id) ?? {} };
  });
  const changed = new Set(
    candidates.flatMap(({ folder, known: own, stories }) =>
      own !== null && keyOf(own.stories) === keyOf(stories) ? [] : [folder.id],
    ),
  );
  return [...plan.tiers].flatMap(([name, { ids }]) => {
    const job = plan.jobs.get(name);
    const count = ids.filter((id) => changed.has(id)).length;
    if (job === undefined || count === 0) return [];
    const indexed = year.state.tiers[name]?.key ?? null;
    const episodes = candidates.filter(({ folder }) => ids.includes(folder.id));
    return [{ job: { ...job, indexed, episodes, why: null }, changed: count }];
  });
}

/** A year as it was just built. */
function surveyedAs(own: SurveyedYear, { state, path }: BuiltYear): SurveyedYear {
  const candidates = () => {
    const episodes = readEpisodes(path);
    return own.candidates().map((candidate) => ({ ...candidate, known: episodes[candidate.folder.id] ?? null }));
  };
  return { ...own, state, path, candidates };
}

function plannedYear({ state, path, listings }: BuiltYear): PlannedYear {
  const { facts, corrections, claimed, listed } = state;
  const read = () => inAirOrder(listings ?? readListings(path));
  let walk: readonly WalkEpisode[] | null = null;
  return {
    facts,
    corrections,
    claimed,
    listed,
    readNames: () => readNames(path),
    readWalk() {
      walk ??= listings === null ? readWalk(path) : read().flatMap(({ listing }) => listing.walk ?? []);
      return walk;
    },
    readListings: () => read().map(({ listing }) => listing),
    readClaims: () => read().flatMap(({ claims }) => claims),
  };
}
