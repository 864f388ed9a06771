import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { RECORD_PATH, SEARCH_INDEX } from "../model/address.ts";
import type { Finding } from "../model/finding.ts";
import { grouped } from "../model/grouped.ts";
import type { Neighbours } from "../pages/episode.ts";
import { settingOf } from "../pages/site.ts";
import type { Link } from "../pages/types.ts";
import { listEpisodes, readEpisodeSources } from "../read/folder.ts";
import type { EpisodeFolder } from "../read/source.ts";
import { tierOf } from "../search/tiers.ts";
import { readKept } from "../write/kept.ts";
import { type CommonState, type Ground, isSameLook, keyOf, readYear, standsOn, type YearState } from "./buildState.ts";
import { listNames, TOO_YOUNG_MS } from "./listNames.ts";
import { openLooks } from "./looks.ts";
import type { Candidate, Part } from "./part.ts";

/** A year of the content, beside what is known of it from the build of the site that serves. */
export interface SurveyedYear {
  readonly year: string;
  /** Where its state is kept; null: the site has nothing of it. */
  readonly path: string | null;
  readonly state: YearState | null;
  /** By id. */
  readonly candidates: readonly Candidate[];
  /** Why all of it is made anew; null: only what changed. */
  readonly why: string | null;
}

export interface Survey {
  /** Oldest first; also those that only the site has. */
  readonly years: readonly SurveyedYear[];
  readonly findings: readonly Finding[];
  /** What is known of what all years share. */
  readonly common: CommonState | null;
  /** False where the site that serves has something that nothing is known of: then all is made anew. */
  readonly isKnown: boolean;
}

/** Looks at every episode's files, without opening one, and at what is known of them. */
export async function survey(content: string, site: string, kept: string, ground: Ground): Promise<Survey> {
  const { episodes, findings } = listEpisodes(content);
  const listed = await listedParts(site);
  const inContent = grouped(episodes, ({ year }) => year);
  const names = [...new Set([...inContent.keys(), ...listed.filter((part) => /^\d{4}$/.test(part))])].sort();
  const now = Date.now();
  const lists = listNames(site, kept, now);
  const looks = openLooks(episodes.length);
  const surveyYear = async (year: string): Promise<SurveyedYear> => {
    const path = lists.pathOf(year);
    const state = readYear(path);
    const folders = inContent.get(year) ?? [];
    const knownOf = ({ id }: EpisodeFolder) => state?.episodes[id] ?? null;
    const before = folders.map((folder) => knownOf(folder)?.look ?? null);
    const looked = await looks.lookAt({ content, folders, before });
    const candidates = folders.map((folder, n): Candidate => {
      const { sign, paths, youngest } = looked[n] ?? { sign: "", paths: [], youngest: now };
      return { folder, look: youngest + TOO_YOUNG_MS > now ? null : { sign, paths }, known: knownOf(folder) };
    });
    return { year, path, state, candidates, why: state === null ? null : whyAll(state.ground, ground) };
  };
  const years = await Promise.all(names.map(surveyYear)).finally(looks.end);
  const shared = lists.pathOf("site");
  const common = shared === null ? null : readKept<CommonState>(shared);
  await lists.keep();
  const isLost =
    (shared !== null && common === null) || years.some(({ path, state }) => path !== null && state === null);
  return { years, findings, common, isKnown: listed.length > 0 && !isLost };
}

/** The parts of the site that have a checksum list. */
async function listedParts(site: string): Promise<readonly string[]> {
  const names = await readdir(join(site, RECORD_PATH)).catch(() => []);
  return names.flatMap((name) => /^(.+)\.sha256$/.exec(name)?.[1] ?? []);
}

const WHY: Readonly<Record<keyof Ground, string>> = {
  program: "the program changed",
  templates: "the templates changed",
  programme: "programme.md, the register or the pages written by hand changed",
};

export function whyAll(known: Ground, ground: Ground): string | null {
  const [changed] = (["program", "templates", "programme"] as const).filter((of) => known[of] !== ground[of]);
  return changed === undefined ? null : WHY[changed];
}

/** What all parts have alike. */
export type PartSetting = Omit<Part, "name" | "index" | "indexed" | "episodes" | "edges" | "why">;

/** What stands on the site of an episode, as far as its neighbours and the search tiers are concerned. */
interface Stand {
  readonly id: string;
  readonly link: Link | null;
  readonly draft: boolean;
  readonly aired: number;
}

/** Parts to be built, and what is to be taken away. */
export interface PartPlan {
  /** The years of all parts, by name. */
  readonly yearOf: ReadonlyMap<string, string>;
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

/** Divides the archive into parts, one a tier, and finds those that anything happened to. */
export async function planParts({ years }: Survey, setting: PartSetting): Promise<PartPlan> {
  const stands = standReader(setting);
  const candidates = years.flatMap((year) => year.candidates.map((candidate) => ({ candidate, year })));
  const newestYear = await newestPublished(candidates, stands);
  const tiers = grouped(candidates, ({ candidate }) => tierOf(candidate.folder.id, newestYear));
  const yearOf = new Map<string, string>();
  const due: Part[] = [];
  let start = 0;
  for (const [name, own] of tiers) {
    const [year] = own.map((one) => one.year);
    if (year === undefined) continue;
    const edges: Neighbours = {
      earlier: await nearest(candidates, start - 1, -1, stands),
      later: await nearest(candidates, start + own.length, 1, stands),
    };
    start += own.length;
    const part: Part = {
      ...setting,
      name,
      index: SEARCH_INDEX + name,
      indexed: year.state?.tiers[name]?.key ?? null,
      episodes: own.map(({ candidate }) => candidate),
      edges,
      why: year.why,
    };
    yearOf.set(name, year.year);
    const left = goneFrom(year).some((id) => tierOf(id, newestYear) === name);
    if (left || isDue(part, year)) due.push(part);
  }
  const gone = years.flatMap((year) => {
    const ids = goneFrom(year);
    const tiers = Object.keys(year.state?.tiers ?? {}).filter((name) => yearOf.get(name) !== year.year);
    const places = [...ids, ...tiers.map((name) => SEARCH_INDEX + name)];
    return places.length === 0 ? [] : [{ year: year.year, ids, places }];
  });
  const touched = new Set([...due.flatMap(({ name }) => yearOf.get(name) ?? []), ...gone.map(({ year }) => year)]);
  return { yearOf, due, gone, touched };
}

/** Episodes that the site knows and the content has no more. */
function goneFrom({ state, candidates }: SurveyedYear): readonly string[] {
  const there = new Set(candidates.map(({ folder }) => folder.id));
  return Object.keys(state?.episodes ?? {}).filter((id) => !there.has(id));
}

type Placed = { readonly candidate: Candidate; readonly year: SurveyedYear };

/** Whether anything may have changed in a part, or beside it. */
function isDue(part: Part, { state }: SurveyedYear): boolean {
  if (part.why !== null || state === null || part.indexed === null) return true;
  if (part.episodes.some((candidate) => !isAsKnown(candidate, part))) return true;
  const shown = part.episodes
    .flatMap(({ known }) => (known === null || known.link === null ? [] : [known]))
    .toSorted((a, b) => Date.parse(a.aired ?? "") - Date.parse(b.aired ?? ""));
  const [first, last] = [shown[0], shown.at(-1)];
  if (first === undefined || last === undefined) return false;
  const links = [part.edges.earlier, ...shown.map(({ link }) => link), part.edges.later];
  const besideFirst = keyOf({ earlier: links[0], later: links[2] });
  const besideLast = keyOf({ earlier: links.at(-3), later: links.at(-1) });
  return first.beside !== besideFirst || last.beside !== besideLast;
}

/** Nothing happened to its files, and nothing dated has come since. */
export const isAsKnown = ({ known, look }: Candidate, part: PartSetting): boolean =>
  known !== null && isSameLook(known.look, look) && standsOn(known, part);

type ReadStand = (placed: Placed) => Promise<Stand>;

/** Reads an episode only where what is known of it may not hold; each once. */
function standReader(setting: PartSetting): ReadStand {
  const read = new Map<string, Stand>();
  const pages = settingOf(setting.programme, setting.assets);
  return async ({ candidate, year }) => {
    const { folder, known } = candidate;
    if (known !== null && year.why === null && isAsKnown(candidate, setting)) {
      const { link, draft, aired } = known;
      return { id: folder.id, link, draft, aired: Date.parse(aired ?? "") };
    }
    const met = read.get(folder.folder);
    if (met !== undefined) return met;
    // Loaded here: a build that has nothing to read must not wait for it.
    const [{ seeEpisode }, { linkTo }] = await Promise.all([import("./readEpisode.ts"), import("./links.ts")]);
    const { sources, findings } = readEpisodeSources(setting.content, folder);
    const { shown, draft, aired } = seeEpisode(sources, findings, setting);
    const link = shown === null ? null : linkTo(shown, pages);
    const stand = { id: folder.id, link, draft, aired: Date.parse(aired ?? "") };
    read.set(folder.folder, stand);
    return stand;
  };
}

/** The year of the newest published episode on the site; "" where there is none. */
async function newestPublished(candidates: readonly Placed[], stands: ReadStand): Promise<string> {
  for (const placed of candidates.toReversed()) {
    const { link, draft } = await stands(placed);
    if (link !== null && !draft) return placed.year.year;
  }
  return "";
}

/** The first edition on the site from a place onwards (`way` 1) or backwards (-1). */
async function nearest(
  candidates: readonly Placed[],
  from: number,
  way: 1 | -1,
  stands: ReadStand,
): Promise<Link | null> {
  const dateAt = (at: number) => candidates[at]?.candidate.folder.id.slice(0, 10);
  for (let at = from; candidates[at] !== undefined; ) {
    const date = dateAt(at);
    const day: Stand[] = [];
    for (; dateAt(at) === date && candidates[at] !== undefined; at += way) {
      const placed = candidates[at];
      if (placed !== undefined) day.push(await stands(placed));
    }
    const shown = day.filter(({ link }) => link !== null).sort((a, b) => a.aired - b.aired || (a.id < b.id ? -1 : 1));
    const found = way === 1 ? shown[0] : shown.at(-1);
    if (found !== undefined) return found.link;
  }
  return null;
}
