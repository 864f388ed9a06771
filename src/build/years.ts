import { addAll } from "../model/addAll.ts";
import { checksumsPath, episodePath, SEARCH_INDEX } from "../model/address.ts";
import { listOfFolders } from "../model/checksums.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { factsOf } from "../pages/facts.ts";
import { yearStatsOf } from "../read/fileStats.ts";
import { commonSpan } from "../record/span.ts";
import { joinWords, KEPT, type SearchWords } from "../search/words.ts";
import { dropRecords } from "../write/searchRecords.ts";
import type { SiteFolder } from "../write/siteFolder.ts";
import type { Job, JobResult } from "./jobData.ts";
import { endsOf, type JobPlan } from "./jobPlan.ts";
import type { Progress } from "./progress.ts";
import {
  type InputDigests,
  type KnownEpisode,
  type KnownTier,
  type KnownYear,
  keyOf,
  type ListedEpisode,
  readListings,
  stateName,
  statePathOf,
  storiesKey,
  writeYear,
  type YearListings,
  type YearState,
} from "./state.ts";
import { countsOf } from "./stationData.ts";
import type { SurveyedYear } from "./survey.ts";
import { yearNames } from "./walkNames.ts";

/** A year when it is built: as it was, or made anew. */
export interface BuiltYear {
  readonly year: string;
  readonly state: YearState;
  /** Where the state is kept. */
  readonly path: string;
  /** Of the newest year, if it was made anew: the lists of the newest are made from them. null: they are not in memory. */
  readonly listings: YearListings | null;
  /** More is held now of an episode that was on the site before: what all years share may have it. */
  readonly holdsMore: boolean;
}

/** How many pages of an episode were made anew, by its id. */
export type MadePages = ReadonlyMap<string, number>;

export interface Years {
  /** Takes what left the content out of the site. */
  takeAway(): Promise<void>;
  add(job: Job, made: JobResult): Promise<void>;
  finish(): Promise<{ years: readonly BuiltYear[]; findings: readonly Finding[]; made: MadePages }>;
}

interface YearWork {
  readonly plan: JobPlan;
  readonly surveyed: readonly SurveyedYear[];
  readonly inputDigests: InputDigests;
  readonly folder: SiteFolder;
  readonly progress: Progress;
}

/** Puts years together from the results of their jobs; one is let go of as soon as its last job is done. */
export function yearBuilder(work: YearWork): Years {
  const { plan, surveyed, folder, progress } = work;
  const waiting = new Map<string, Map<string, JobResult>>();
  const built = new Map<string, BuiltYear>();
  const findings: Finding[] = [];
  const madePages = new Map<string, number>();
  const dueIn = (year: string) => plan.due.filter((job) => plan.tiers.get(job.name)?.year === year);
  const end = async (own: SurveyedYear, made: ReadonlyMap<string, JobResult>): Promise<void> => {
    const year = await putTogether(own, made, work);
    if (year === null) return;
    const isNewest = own === surveyed.at(-1);
    built.set(own.year, isNewest ? year : { ...year, listings: null });
  };
  return {
    async takeAway() {
      for (const { ids, places } of plan.gone) {
        await folder.renew(places);
        for (const id of ids) await dropRecords(folder.kept, id);
      }
    },
    async add(job, made) {
      addAll(findings, made.findings);
      for (const { id, known, why } of made.episodes) {
        if (why === null) continue;
        madePages.set(id, known.pages);
        progress.made(`${id}/`, known.pages, why);
      }
      const own = surveyed.find(({ year }) => year === plan.tiers.get(job.name)?.year);
      if (own === undefined) return;
      const results = waiting.get(own.year) ?? new Map<string, JobResult>();
      waiting.set(own.year, results.set(job.name, made));
      if (results.size < dueIn(own.year).length || findings.some(blocks)) return;
      await end(own, results);
      waiting.delete(own.year);
    },
    async finish() {
      for (const own of surveyed) {
        if (findings.some(blocks) || built.has(own.year) || !plan.touched.has(own.year)) continue;
        await end(own, new Map());
      }
      const years = surveyed.flatMap(({ year, state, path }) => {
        const anew = built.get(year);
        if (anew !== undefined) return [anew];
        return state === null || path === null || plan.touched.has(year)
          ? []
          : [{ year, state, path, listings: null, holdsMore: false }];
      });
      return { years, findings: [...findings, ...unread(surveyed, plan)], made: madePages };
    },
  };
}

/** What was found before in what was not looked into. */
function unread(surveyed: readonly SurveyedYear[], { due }: JobPlan): readonly Finding[] {
  const read = new Set(due.flatMap(({ episodes }) => episodes.map(({ folder }) => folder.folder)));
  return surveyed.flatMap(({ state, isAtRest, folders, candidates }) => {
    if (isAtRest && state !== null && !folders.some(({ folder }) => read.has(folder))) return state.warnings;
    return candidates().flatMap(({ folder, known }) => (read.has(folder.folder) ? [] : (known?.warnings ?? [])));
  });
}

const NOTHING: YearListings = { episodes: {}, tiers: {}, words: {} };

/** The year from what was made, and from what is known of the rest. Null where the site has nothing of it. */
async function putTogether(
  own: SurveyedYear,
  made: ReadonlyMap<string, JobResult>,
  { plan, inputDigests, folder }: YearWork,
): Promise<BuiltYear | null> {
  const old = own.path === null ? NOTHING : readListings(own.path);
  const news = new Map([...made.values()].flatMap((job) => job.episodes.map((one) => [one.id, one] as const)));
  const episodes: Record<string, KnownEpisode> = {};
  const listed: Record<string, ListedEpisode> = {};
  let holdsMore = false;
  for (const { folder: at, known } of own.candidates()) {
    const now = news.get(at.id)?.known ?? known;
    if (now === null) continue;
    holdsMore ||= known !== null && known.link !== null && now.held.some((digest) => !known.held.includes(digest));
    episodes[at.id] = now;
    const listing = news.get(at.id)?.made ?? old.episodes[at.id];
    if (now.link !== null && listing !== undefined) listed[at.id] = listing;
  }
  const tiers: Record<string, KnownTier> = {};
  const tierFiles: Record<string, string> = {};
  const words: Record<string, SearchWords> = {};
  for (const [name, { year, ids }] of plan.tiers) {
    if (year !== own.year) continue;
    const tier = made.get(name)?.tier;
    const files = tier?.files ?? old.tiers[name] ?? "";
    const key = tier?.key ?? own.state?.tiers[name]?.key ?? "";
    tiers[name] = { key, isEmpty: files === "", ends: endsOf(ids.flatMap((id) => episodes[id] ?? [])) };
    tierFiles[name] = files;
    words[name] = tier?.words ?? old.words[name] ?? { names: {}, words: {} };
  }
  const listings: YearListings = { episodes: listed, tiers: tierFiles, words };
  const list = listOfFolders(
    new Map([
      ...Object.entries(listed).map(([id, { files }]) => [episodePath(id), files] as const),
      ...Object.entries(tierFiles).map(([name, files]) => [`${SEARCH_INDEX}${name}/`, files] as const),
    ]),
  );
  const state = stateOf(own.year, inputDigests, { episodes, tiers, listings });
  const walk = inAirOrder(listings).flatMap(({ listing }) => listing.walk ?? []);
  const names = yearNames(walk, ({ id }) => listed[id]?.digest ?? "");
  const built = await keep(own, list, { state, episodes, listings, walk, names }, folder);
  return built === null ? null : { ...built, holdsMore };
}

function stateOf(
  year: string,
  inputDigests: InputDigests,
  { episodes, tiers, listings }: Pick<KnownYear, "episodes" | "listings"> & Pick<YearState, "tiers">,
): YearState {
  const known = Object.values(episodes);
  const shown = known.filter(({ link }) => link !== null);
  const inOrder = inAirOrder(listings);
  return {
    inputDigests,
    stats: yearStatsOf(Object.entries(episodes).map(([id, { stats }]) => [id, stats])),
    span: commonSpan(known.map(({ span }) => span)),
    drafts: [...new Set(known.flatMap(({ draft, link }) => (draft ? [link !== null] : [])))],
    shown: shown.length,
    pages: shown.reduce((sum, { pages }) => sum + pages, 0),
    tiers,
    warnings: known.flatMap(({ warnings }) => warnings),
    facts: factsOf(
      year,
      inOrder.map(({ listing }) => listing.summary),
    ),
    corrections: inOrder.flatMap(({ listing }) => listing.corrections),
    claimed: inOrder.flatMap(({ claims }) => claims.map(({ path }) => path)),
    told: storiesKey(Object.entries(episodes).map(([id, { stories }]) => [id, stories])),
    listed: keyOf(inOrder.map(({ digest }) => digest)),
    words: joinWords(Object.values(listings.words), KEPT),
    counts: countsOf(inOrder.map(({ listing }) => listing)),
  };
}

/** The listed episodes of a year, in the order in which they were aired. */
export const inAirOrder = ({ episodes }: YearListings): readonly ListedEpisode[] =>
  Object.values(episodes).sort((a, b) => {
    const [one, other] = [a.listing.summary, b.listing.summary];
    return Date.parse(one.aired) - Date.parse(other.aired) || (one.id < other.id ? -1 : 1);
  });

/** Writes the year's checksum list, where it is another, and keeps what is known of it. */
async function keep(
  own: SurveyedYear,
  list: string,
  known: KnownYear,
  folder: SiteFolder,
): Promise<Omit<BuiltYear, "holdsMore"> | null> {
  const place = checksumsPath(own.year);
  const path = list === "" ? null : statePathOf(folder.kept, stateName(own.year, list));
  if (path !== own.path || path === null) {
    await folder.renew([place]);
    if (path !== null) folder.write(place, list);
  }
  if (path === null) return null;
  await writeYear(path, known);
  return { year: own.year, state: known.state, path, listings: known.listings };
}
