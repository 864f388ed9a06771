import { SEARCH_INDEX } from "../model/address.ts";
import { grouped } from "../model/grouped.ts";
import type { Neighbours } from "../pages/episode.ts";
import { settingOf } from "../pages/site.ts";
import type { Link } from "../pages/types.ts";
import { readEpisodeSources } from "../read/folder.ts";
import { isSameLook } from "../read/look.ts";
import { tierOf } from "../search/tiers.ts";
import type { Candidate, Part } from "./partData.ts";
import { type Ends, type KnownEpisode, keyOf, standsOn } from "./state.ts";
import type { Survey, SurveyedYear } from "./survey.ts";

/** What all parts have alike. */
export type PartSetting = Omit<Part, "name" | "index" | "indexed" | "episodes" | "edges" | "why">;

/** Parts to be built, and what is to be taken away. */
export interface PartPlan {
  /** All tiers, by name, with the ids of their episodes. */
  readonly tiers: ReadonlyMap<string, { readonly year: string; readonly ids: readonly string[] }>;
  /** The parts in which anything may have changed. */
  readonly due: readonly Part[];
  /** What the site has and the content has no more, by year. */
  readonly gone: readonly {
    readonly year: string;
    readonly ids: readonly string[];
    readonly places: readonly string[];
  }[];
  /** Years that must be put together anew. */
  readonly touched: ReadonlySet<string>;
}

/** The episodes of a tier of the search index: what one part builds. */
interface Stretch {
  readonly name: string;
  readonly year: SurveyedYear;
  /** Nothing happened to any of its files, as that of the whole year. */
  readonly isAtRest: boolean;
  readonly ids: readonly string[];
  candidates(): readonly Candidate[];
}

/** What stands on the site of an episode, as far as its neighbours and the search tiers are concerned. */
interface Stand {
  readonly id: string;
  readonly link: Link | null;
  readonly draft: boolean;
  readonly aired: number;
}

/** Divides the archive into parts, one a tier, and finds those that anything happened to. */
export async function planParts({ years }: Survey, setting: PartSetting): Promise<PartPlan> {
  const stands = standReader(setting);
  const newestYear = await newestPublished(years, stands);
  const stretches = years.flatMap((year) => stretchesOf(year, newestYear));
  const tiers = new Map(stretches.map(({ name, year, ids }) => [name, { year: year.year, ids }]));
  const due: Part[] = [];
  for (const [at, stretch] of stretches.entries()) {
    const edges: Neighbours = {
      earlier: await nearest(stretches.slice(0, at).reverse(), "last", stands),
      later: await nearest(stretches.slice(at + 1), "first", stands),
    };
    const { name, year } = stretch;
    const left = goneFrom(year).some((id) => tierOf(id, newestYear) === name);
    if (left || isDue(stretch, edges, setting)) {
      const [index, indexed] = [SEARCH_INDEX + name, year.state?.tiers[name]?.key ?? null];
      due.push({ ...setting, name, index, indexed, episodes: stretch.candidates(), edges, why: year.why });
    }
  }
  const gone = years.flatMap((year) => {
    const ids = goneFrom(year);
    const left = Object.keys(year.state?.tiers ?? {}).filter((name) => tiers.get(name)?.year !== year.year);
    const places = [...ids, ...left.map((name) => SEARCH_INDEX + name)];
    return places.length === 0 ? [] : [{ year: year.year, ids, places }];
  });
  const touched = new Set([...due.flatMap(({ name }) => tiers.get(name)?.year ?? []), ...gone.map(({ year }) => year)]);
  return { tiers, due, gone, touched };
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
  return state.look.shapes.flatMap(({ ids }) => ids.filter((id) => !there.has(id)));
}

/** Whether anything may have changed in a stretch, or beside it. */
function isDue({ name, year, isAtRest, candidates }: Stretch, edges: Neighbours, setting: PartSetting): boolean {
  const tier = year.state?.tiers[name];
  if (year.why !== null || tier === undefined) return true;
  if (!isAtRest && candidates().some((candidate) => !isAsKnown(candidate, setting))) return true;
  if (tier.ends === null) return false;
  const { first, last } = tier.ends;
  return (
    first.beside !== keyOf({ earlier: edges.earlier, later: first.next ?? edges.later }) ||
    last.beside !== keyOf({ earlier: last.next ?? edges.earlier, later: edges.later })
  );
}

/** The first and the last edition on the site of the episodes of a tier. */
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
export const isAsKnown = ({ known, look }: Candidate, setting: PartSetting): boolean =>
  known !== null && isSameLook(known.look, look) && standsOn(known, setting);

type ReadStand = (candidate: Candidate, why: string | null) => Promise<Stand>;

/** Reads an episode only where what is known of it may not hold; each once. */
function standReader(setting: PartSetting): ReadStand {
  const read = new Map<string, Stand>();
  const pages = settingOf(setting.programme, setting.assets);
  return async (candidate, why) => {
    const { folder, known } = candidate;
    if (known !== null && why === null && isAsKnown(candidate, setting)) {
      const { link, draft, aired } = known;
      return { id: folder.id, link, draft, aired: Date.parse(aired ?? "") };
    }
    const met = read.get(folder.folder);
    if (met !== undefined) return met;
    // Loaded here: a build that has nothing to read must not wait for it.
    const [{ seeEpisode }, { linkTo }] = await Promise.all([import("./readEpisode.ts"), import("./links.ts")]);
    const { sources, findings } = readEpisodeSources(setting.content, folder);
    const { shown, draft, aired } = seeEpisode(sources, findings, setting, null);
    const link = shown === null ? null : linkTo(shown, pages);
    const stand = { id: folder.id, link, draft, aired: Date.parse(aired ?? "") };
    read.set(folder.folder, stand);
    return stand;
  };
}

/** The year of the newest published episode on the site; "" where there is none. */
async function newestPublished(years: readonly SurveyedYear[], stands: ReadStand): Promise<string> {
  for (const { year, state, isAtRest, candidates, why } of years.toReversed()) {
    if (isAtRest && state !== null) {
      if (state.facts.newest !== null) return year;
      continue;
    }
    for (const candidate of candidates().toReversed()) {
      const { link, draft } = await stands(candidate, why);
      if (link !== null && !draft) return year;
    }
  }
  return "";
}

/** The first or the last edition on the site of the nearest of some stretches that has one. */
async function nearest(stretches: readonly Stretch[], end: "first" | "last", stands: ReadStand): Promise<Link | null> {
  for (const { name, year, isAtRest, candidates } of stretches) {
    const link = isAtRest
      ? (year.state?.tiers[name]?.ends?.[end].link ?? null)
      : await endOf(candidates(), end, (candidate) => stands(candidate, year.why));
    if (link !== null) return link;
  }
  return null;
}

/** The same of some candidates, day by day: those of one day are put in the order in which they were aired. */
async function endOf(
  candidates: readonly Candidate[],
  end: "first" | "last",
  stands: (candidate: Candidate) => Promise<Stand>,
): Promise<Link | null> {
  const days = [...grouped(candidates, ({ folder }) => folder.id.slice(0, 10)).values()];
  for (const day of end === "first" ? days : days.reverse()) {
    const shown: Stand[] = [];
    for (const candidate of day) shown.push(await stands(candidate));
    const ordered = shown
      .filter(({ link }) => link !== null)
      .sort((a, b) => a.aired - b.aired || (a.id < b.id ? -1 : 1));
    const found = ordered.at(end === "first" ? 0 : -1);
    if (found !== undefined) return found.link;
  }
  return null;
}
