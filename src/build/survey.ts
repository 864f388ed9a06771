import { existsSync, readFileSync } from "node:fs";
import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { checksumsPath, nameOfChecksums, RECORD_PATH } from "../model/address.ts";
import type { Finding } from "../model/finding.ts";
import { grouped } from "../model/grouped.ts";
import { signOfYear, statsOfEpisode, youngestIn } from "../read/fileStats.ts";
import { listEpisodes } from "../read/folder.ts";
import type { EpisodeFolder } from "../read/source.ts";
import { readKept } from "../write/kept.ts";
import type { Candidate } from "./jobData.ts";
import type { ReadContext } from "./readEpisode.ts";
import {
  type CommonState,
  type InputDigests,
  readEpisodes,
  readYear,
  stateName,
  statePathOf,
  type YearEpisodes,
  type YearState,
  yearIsUnchangedOn,
} from "./state.ts";

/** A year of the content, beside what is known of it from the build of the site that serves. */
export interface SurveyedYear {
  readonly year: string;
  /** By id. */
  readonly folders: readonly EpisodeFolder[];
  /** Where its state is kept; null: the site has nothing of it. */
  readonly path: string | null;
  readonly state: YearState | null;
  /** Why all of it is made anew; null: only what changed. */
  readonly why: string | null;
  /** Nothing happened to any of its files, and nothing dated has come since. */
  readonly isAtRest: boolean;
  /** Its episodes, by id. Looked at one by one when they are first asked for: for a year at rest, few ask. */
  candidates(): readonly Candidate[];
}

export interface Survey {
  /** Oldest first; also those that only the site has. */
  readonly years: readonly SurveyedYear[];
  readonly findings: readonly Finding[];
  /** What is known of what all years share. */
  readonly common: CommonState | null;
  /** False where the site that serves has something that nothing is known of: then all is made anew. */
  readonly isKnown: boolean;
  /** There is such a site, made by another program or without what is kept of it. */
  readonly isLost: boolean;
}

/** What a survey is for. */
export interface Purpose extends Pick<ReadContext, "day" | "drafts"> {
  readonly content: string;
  readonly inputDigests: InputDigests;
}

/** Asks the disk for the size and times of every episode's files, without opening one, and reads what is known of them. */
export async function survey(purpose: Purpose, site: string, kept: string): Promise<Survey> {
  const { episodes, findings } = listEpisodes(purpose.content);
  const listed = await namesOfLists(site);
  const inContent = grouped(episodes, ({ year }) => year);
  const names = [...new Set([...inContent.keys(), ...listed.filter((name) => /^\d{4}$/.test(name))])].sort();
  const years = names.map((year) => surveyYear(year, inContent.get(year) ?? [], stateOf(site, kept, year), purpose));
  const shared = stateOf(site, kept, "site");
  const common = shared === null ? null : readKept<CommonState>(shared);
  const isLost =
    (shared !== null && common === null) || years.some(({ path, state }) => path !== null && state === null);
  return { years, findings, common, isKnown: listed.length > 0 && !isLost, isLost };
}

/** Where the state is kept that belongs to a list of the site, a year's or "site"; null: the site has no such list. */
function stateOf(site: string, kept: string, name: string): string | null {
  const file = join(site, checksumsPath(name));
  return existsSync(file) ? statePathOf(kept, stateName(name, readFileSync(file))) : null;
}

/** The names of the checksum lists of the site: years, and "site". */
async function namesOfLists(site: string): Promise<readonly string[]> {
  const names = await readdir(join(site, RECORD_PATH)).catch(() => []);
  return names.flatMap((name) => nameOfChecksums(name) ?? []);
}

function surveyYear(
  year: string,
  folders: readonly EpisodeFolder[],
  path: string | null,
  purpose: Purpose,
): SurveyedYear {
  const state = readYear(path);
  const why = state === null ? null : whyAll(state.inputDigests, purpose.inputDigests);
  const isAtRest =
    state !== null && why === null && yearIsUnchangedOn(state, purpose) && hasSameStats(folders, state, purpose);
  const known = () => (path === null || state === null ? {} : readEpisodes(path));
  return { year, folders, path, state, why, isAtRest, candidates: once(() => candidatesOf(folders, known(), purpose)) };
}

function hasSameStats(folders: readonly EpisodeFolder[], { stats }: YearState, { content }: Purpose): boolean {
  const known = new Set(stats.shapes.flatMap(({ ids }) => ids));
  const [first] = folders;
  if (first === undefined || folders.length !== known.size || !folders.every(({ id }) => known.has(id))) return false;
  return stats.sign === signOfYear(join(content, first.folder, ".."), stats);
}

/** Times of files are only so exact: what changed less than this before it was looked at may have changed after, in milliseconds. */
const TOO_YOUNG_MS = 2000;

function candidatesOf(
  folders: readonly EpisodeFolder[],
  before: YearEpisodes,
  { content }: Pick<Purpose, "content">,
): readonly Candidate[] {
  const now = Date.now();
  return folders.map((folder) => {
    const known = before[folder.id] ?? null;
    const stats = statsOfEpisode(content, folder, known?.stats ?? null);
    return {
      folder,
      stats: youngestIn(stats) + TOO_YOUNG_MS > now ? null : stats,
      known,
      stories: known?.stories ?? {},
    };
  });
}

/** The same survey with nothing known. */
export function forgotten(seen: Survey, purpose: Purpose): Survey {
  const nothing = { path: null, state: null, why: seen.isLost ? LOST : null, isAtRest: false };
  const years = seen.years
    .filter(({ folders }) => folders.length > 0)
    .map(({ year, folders }) => {
      return { year, folders, ...nothing, candidates: once(() => candidatesOf(folders, {}, purpose)) };
    });
  return { ...seen, years, common: null };
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

const LOST = "another program made the last site, or what it kept is gone";
const WHY: Readonly<Record<Exclude<keyof InputDigests, "program">, string>> = {
  templates: "the templates changed",
  programme: "programme.md, the register or the pages written by hand changed",
  frame: "the station's own templates around pages changed",
};

/** Of two builds by one program. */
export function whyAll(known: InputDigests, inputDigests: InputDigests): string | null {
  const [changed] = (["templates", "programme", "frame"] as const).filter((of) => known[of] !== inputDigests[of]);
  return changed === undefined ? null : WHY[changed];
}
