import { basename, join, resolve, sep } from "node:path";
import { addAll } from "../model/addAll.ts";
import { blocks, type Finding } from "../model/finding.ts";
import type { Programme } from "../model/programme.ts";
import { UsageError } from "../model/usageError.ts";
import { pageContextOf } from "../pages/site.ts";
import { StationFault } from "../station/stationFault.ts";
import { writeFault } from "../write/files.ts";
import { dropKept } from "../write/kept.ts";
import type { SiteFolder } from "../write/siteFolder.ts";
import { type SiteDay, siteDay } from "./day.ts";
import { dropCompiled, engineSetup } from "./engineSetup.ts";
import type { Job } from "./jobData.ts";
import { isAsKnown, type JobContext, type JobPlan, planJobs } from "./jobPlan.ts";
import { runJobs, type Spare, type Workers, workersIn } from "./jobs.ts";
import { goneSince } from "./lostRecord.ts";
import { hasMark, leaveMark, markOf, openOut, requireOwnSite } from "./openOut.ts";
import { type Progress, SILENT } from "./progress.ts";
import { publishedIn, publishedOf } from "./served.ts";
import type { BuiltCommon, Common } from "./shared.ts";
import { type Assets, readAssets, readSharedInputs, type SharedInputs, TEMPLATES } from "./sharedInputs.ts";
import { pagesIn, statesIn } from "./state.ts";
import { forgotten, type Survey, survey, whyAll } from "./survey.ts";
import type { Telling } from "./tellStories.ts";
import { NOTHING_STRANGE, strangeFiles } from "./verify.ts";
import { type BuiltYear, yearBuilder } from "./years.ts";

export { TEMPLATES } from "./sharedInputs.ts";

export interface BuildOptions {
  readonly content: string;
  readonly out: string;
  /** A local date, or null for today. */
  readonly on: string | null;
  readonly now: Date;
  /** Also show what is not published. */
  readonly drafts: boolean;
  /** The station's own folder of templates; null or left out: as the programme says. */
  readonly own?: string | null;
  /** How long a station's template may take for a page, in milliseconds; left out: a minute. */
  readonly hangsAfter?: number;
  /** Also compare the last site with its checksum lists, and make all anew where a file is not as a build left it. */
  readonly verify?: boolean;
  /** Only these years, first and last, without what all years share; null or left out: the whole site. */
  readonly years?: readonly [first: string, last: string] | null;
  /** Keeps a process ready for the next build; left out: none is kept. */
  readonly spare?: Spare;
  /** Is told how far the build is; left out: nobody is. */
  readonly progress?: Progress;
}

/** What a build found and did. */
export interface Built {
  readonly findings: readonly Finding[];
  /** null when findings stood in the way and the site is as it was. */
  readonly site: {
    readonly episodes: number;
    readonly pages: number;
    /** Pages that were made anew. */
    readonly made: number;
    /** What stands at the top of the folder, no build made, and was carried along. */
    readonly guests: readonly string[];
  } | null;
  /** The base path of the site, with a slash at both ends. */
  readonly base: string;
  /** Origins of the recordings that don't stand on the site itself. */
  readonly mediaHosts: readonly string[];
  /** The station's own folder; null: it has none, or it was not looked for. */
  readonly station: string | null;
}

/**
 * Brings the site up to date with the content of the day, and puts it in the place of the last one when all is well.
 * What it comes to is the same whether much is known from an earlier build or nothing.
 */
export async function buildSite(options: BuildOptions): Promise<Built> {
  return buildOrThrow(options).catch((error: unknown) => {
    throw buildFault(error, options);
  });
}

/** What of a build the system would not do, said so that people can mend it; other errors pass on as they are. */
function buildFault(error: unknown, { out, content }: BuildOptions): unknown {
  const { path = "", code = "" } = error instanceof Error ? (error as NodeJS.ErrnoException) : {};
  const isOfContent = resolve(path).startsWith(resolve(content) + sep) && !["ENOSPC", "EDQUOT", "EROFS"].includes(code);
  if (isOfContent) return new UsageError(`${path} can't be read (${code}). Let this user read it.`, { cause: error });
  return writeFault(error, out, "What stands there is whole.");
}

async function buildOrThrow(options: BuildOptions): Promise<Built> {
  const progress = options.progress ?? SILENT;
  const folder = await openOut(options, progress.waiting);
  try {
    const { sharedInputs, findings } = await readSharedInputs(
      options.content,
      TEMPLATES,
      folder.kept,
      options.own ?? null,
    );
    if (sharedInputs === null) return { findings, site: null, base: "/", mediaHosts: [], station: null };
    const { programme } = sharedInputs;
    requireApart(folder.serves, sharedInputs.station?.folder ?? null);
    requireOwnSite(options.out, folder.serves, markOf(programme, options.drafts));
    const day = dayFor(options, sharedInputs);
    const assets = await readAssets(folder.kept, sharedInputs);
    const station = sharedInputs.station?.folder ?? null;
    const { spare = null, hangsAfter } = options;
    const workers = workersIn(station ?? folder.kept, programme.timezone, spare, hangsAfter);
    try {
      const build = { options, sharedInputs, day, folder, assets, progress, findings, workers };
      const { found, site } = await bringUpToDate(build).catch((error: unknown) => {
        if (error instanceof StationFault) return { found: [...findings, error.finding], site: null };
        throw error;
      });
      const base = new URL(programme.url).pathname;
      return { findings: found, site, base, mediaHosts: programme.mediaHosts, station };
    } finally {
      workers.end();
      await dropCompiled(folder.kept);
    }
  } finally {
    progress.end();
    await folder.close();
  }
}

/** A site in the station's own folder would be taken for pages of the station's by the next build. */
function requireApart(site: string, station: string | null): void {
  if (station === null || !`${site}${sep}`.startsWith(`${station}${sep}`)) return;
  throw new UsageError(
    `Not built: ${site} is in ${station}, and its pages would be taken for the station's own. Name another folder with --out.`,
  );
}

interface Build {
  readonly options: BuildOptions;
  readonly sharedInputs: SharedInputs;
  readonly day: SiteDay;
  readonly folder: SiteFolder;
  readonly assets: Assets;
  readonly progress: Progress;
  readonly workers: Workers;
  /** Of what was read so far. */
  readonly findings: readonly Finding[];
}

async function bringUpToDate(build: Build): Promise<{ found: readonly Finding[]; site: Built["site"] }> {
  const { options, sharedInputs, folder, progress, workers } = build;
  const { inputDigests } = sharedInputs;
  const strange = options.verify === true ? await strangeFiles(folder.serves, options.content) : NOTHING_STRANGE;
  const context = { ...(await jobContextFor(build)), distrusted: strange.records };
  const purpose = { ...context, inputDigests };
  const seen = await survey(purpose, folder.serves, folder.kept);
  const found = [...build.findings, ...strange.findings, ...seen.findings];
  if (found.some(blocks)) return { found, site: null };
  const isKnown = seen.isKnown && strange.findings.length === 0;
  const known = isKnown ? seen : forgotten(seen, purpose);
  // Something happened, or may have: what sets pages gets ready while that is looked at.
  if (!options.years && !(isKnown && known.years.every(({ isAtRest }) => isAtRest)))
    workers.get(1)[0]?.warm(context.framing === null ? "set" : "set and jobs");
  const plan = within(await planJobs(known, context), options.years ?? null);
  addAll(found, goneFindings(seen, plan, folder.serves));
  if (found.some(blocks)) return { found, site: null };
  let begun = false;
  const begin = (): void => {
    if (!begun) isKnown ? folder.catchUp() : folder.startOver();
    begun = true;
  };
  if (plan.touched.size > 0) begin();
  progress.begin(plan.due.reduce((sum, { episodes }) => sum + episodes.length, 0));
  const builder = yearBuilder({ plan, surveyed: known.years, inputDigests, folder, progress });
  await builder.takeAway();
  const effort = ({ episodes, why }: Job) =>
    episodes.filter((candidate) => why !== null || !isAsKnown(candidate, context)).length;
  await runJobs(plan.due, effort, builder.add, progress.done, workers);
  const built = await builder.finish();
  addAll(found, built.findings);
  if (found.some(blocks)) return { found, site: null };
  const tell = { years: built.years, known: known.common, surveyed: known.years, plan, ...build, begin };
  const { years, common, told } = options.years
    ? { years: built.years, common: null, told: [] }
    : await bringCommon({ ...tell, content: options.content });
  addAll(found, common?.findings ?? []);
  if (found.some(blocks)) return { found, site: null };
  const mark = markOf(sharedInputs.programme, options.drafts);
  if (!hasMark(folder.serves, mark)) begin();
  if (begun) await leaveMark(folder, mark);
  const guests = begun ? await putInPlace(folder, years, common) : [];
  const episodes = years.reduce((sum, { state }) => sum + state.shown, 0);
  const all = years.reduce((sum, { state }) => sum + state.pages, common?.pages ?? 0);
  // What was set again for its stories counts once.
  const ofEpisodes = [...new Map([...built.made, ...told]).values()];
  const made = ofEpisodes.reduce((sum, pages) => sum + pages, common?.made ?? 0);
  return { found, site: { episodes, pages: all, made, guests } };
}

/** Episodes that the site has as published, and the content has no more: they must be withdrawn, not taken away. */
function goneFindings({ years, isKnown }: Survey, { gone }: JobPlan, site: string): readonly Finding[] {
  const there = new Set(years.flatMap(({ folders }) => folders.map(({ id }) => id)));
  const ids = isKnown
    ? publishedOf(
        site,
        gone.flatMap((year) => year.ids),
      )
    : publishedIn(site);
  return ids.filter((id) => !there.has(id)).map((id) => goneSince({ id, folder: `episodes/${id.slice(0, 4)}/${id}` }));
}

/** The ways along stories, and what all years share; where nothing happened to any of them, it is as it was. */
async function bringCommon(
  common: Omit<Common, "planned" | "stories"> & Omit<Telling, "context">,
): Promise<{ years: readonly BuiltYear[]; common: BuiltCommon; told: Iterable<readonly [string, number]> }> {
  const { known, sharedInputs, assets, years, plan } = common;
  const isSame = known !== null && whyAll(known.inputDigests, sharedInputs.inputDigests) === null;
  const isSameStation = (known?.station?.ownDigest ?? null) === (sharedInputs.station?.ownDigest ?? null);
  if (plan.touched.size === 0 && isSame && isSameStation) {
    const files = Object.values(known.groups).flatMap((group) => group.files);
    const asItWas = { findings: [], path: "", pages: pagesIn(files.map(({ path }) => path)), made: 0 };
    return { years, common: asItWas, told: [] };
  }
  // Loaded here: a build in which nothing changed must not wait for it.
  const [{ buildCommon }, { tellStories }] = await Promise.all([import("./shared.ts"), import("./tellStories.ts")]);
  const context = pageContextOf(sharedInputs.programme, assets.paths);
  const { findings, made, ...told } = await tellStories({ ...common, context });
  const isBlocked = findings.some(blocks);
  const brought = isBlocked ? { findings, path: "", pages: 0, made: 0 } : await buildCommon({ ...common, ...told });
  return { years: told.years, common: brought, told: made };
}

/** What all jobs of a build have alike. */
async function jobContextFor(build: Build): Promise<Omit<JobContext, "distrusted">> {
  const { options, sharedInputs, day, folder, assets } = build;
  const isFramed = sharedInputs.inputDigests.frame !== "";
  return {
    content: resolve(options.content),
    documents: sharedInputs.documents,
    framing: isFramed ? await engineSetup(sharedInputs, folder.kept) : null,
    kept: folder.kept,
    tree: folder.path,
    serves: folder.serves,
    programme: sharedInputs.programme,
    day,
    drafts: options.drafts,
    now: options.now.toISOString(),
    assets: assets.paths,
    program: sharedInputs.inputDigests.program,
  };
}

/** What of a plan concerns some years. */
function within(plan: JobPlan, years: BuildOptions["years"]): JobPlan {
  if (!years) return plan;
  const isIn = (year: string | undefined) => year !== undefined && years[0] <= year && year <= years[1];
  return {
    ...plan,
    due: plan.due.filter(({ name }) => isIn(plan.tiers.get(name)?.year)),
    gone: plan.gone.filter(({ year }) => isIn(year)),
    touched: new Set([...plan.touched].filter(isIn)),
  };
}

/**
 * Swaps the trees where they differ, and forgets what no site of ours needs any more.
 * @returns what no build made and was carried along.
 */
async function putInPlace(
  folder: SiteFolder,
  years: readonly BuiltYear[],
  common: BuiltCommon | null,
): Promise<readonly string[]> {
  const { carried, inTheWay } = folder.differs() ? await folder.swapIn() : { carried: [], inTheWay: [] };
  if (inTheWay.length > 0) throw new UsageError(clash(inTheWay.map((name) => join(folder.serves, name))));
  // Some years alone are laid beside others, and serve nobody by themselves: they need no standby, and know nothing of the others.
  if (common === null) return carried;
  folder.catchUp();
  const needed = new Set([common.path, ...years.map(({ path }) => path)].map((path) => basename(path)));
  await dropKept(statesIn(folder.kept), (name) => needed.has(name.split(".")[0] ?? ""));
  return carried;
}

const clash = (paths: readonly string[]): string =>
  `Not built: no build made ${paths.join(", ")}, and the new site has something of that name. Give yours another name, or take it away.`;

export function dayFor(
  { on, now }: Pick<BuildOptions, "on" | "now">,
  { programme }: { readonly programme: Programme },
): SiteDay {
  const day = siteDay(on, now, programme.timezone);
  if (day === null) throw new UsageError(`--on takes a date such as 2026-10-06, not ${on}.`);
  return day;
}
