import { join } from "node:path";
import { addAll } from "../model/addAll.ts";
import { type Checksum, checksumList } from "../model/checksums.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { claimedTwice } from "../model/output.ts";
import type { Neighbours } from "../pages/episode.ts";
import { type PageContext, pageContextOf } from "../pages/site.ts";
import type { EditionLink } from "../pages/types.ts";
import { isSameStats } from "../read/fileStats.ts";
import { readEpisodeSources } from "../read/folder.ts";
import { textsIn } from "../scan/texts.ts";
import { digestOfRun } from "../scan/words.ts";
import { indexPages } from "../search/indexPage.tsx";
import { StationFault } from "../station/stationFault.ts";
import { type Frame, writePages } from "../write/pages.ts";
import { keepRecords, packRecords } from "../write/searchRecords.ts";
import { type Standby, standbyAt } from "../write/standby.ts";
import { type EpisodePlan, planEpisode } from "./episodePlan.ts";
import { type At, type EpisodeFrame, episodeFrame } from "./framing.ts";
import type { Candidate, Job, JobResult, MadeEpisode } from "./jobData.ts";
import { linkTo } from "./links.ts";
import { digestSources, type SeenEpisode, seeEpisode } from "./readEpisode.ts";
import { filesIn, type OwnWords, ownWords, scanEpisode } from "./scan.ts";
import { recordServed } from "./served.ts";
import { isUnchangedOn, type KnownEpisode, keyOf } from "./state.ts";
import { episodeData } from "./stationData.ts";
import { indexTier } from "./tier.ts";

/** How many pages are written after one note of what differs: enough to be worth waiting for the disk, few enough to be held in memory. */
const BATCH = 100;

/** An episode in its place, waiting for the one after it. */
interface PlacedEpisode extends Candidate {
  readonly digest: string;
  readonly seen: SeenEpisode | null;
  readonly aired: string | null;
  readonly link: EditionLink | null;
  readonly why: string | null;
}

/**
 * Does a job: reads what changed, sets the pages that depend on it, and indexes the tier where its words changed.
 * Episodes stream through: at most a day's, those waiting for their neighbours, and a batch of pages are in memory.
 */
export async function runJob(
  job: Job,
  progress: (episodes: number) => void,
  at: At = () => undefined,
): Promise<JobResult> {
  const pageContext = pageContextOf(job.programme, job.assets);
  const standby = standbyAt(job.kept, job.tree);
  const own = ownWords(job.programme, job.framing?.station?.folder ?? null);
  const frame = job.framing === null ? null : await episodeFrame(job.framing, at);
  const work: Work = { job, frame, at, pageContext, standby, own, batch: [], made: [], findings: [] };
  let [earlier, waiting]: [EditionLink | null, PlacedEpisode | null] = [job.edges.earlier, null];
  for await (const placed of placedEpisodes(work)) {
    progress(1);
    if (placed.link === null) {
      await makeEpisode(placed, { earlier: null, later: null }, work);
      continue;
    }
    if (waiting !== null) {
      await makeEpisode(waiting, { earlier, later: placed.link }, work);
      earlier = waiting.link;
    }
    waiting = placed;
  }
  if (waiting !== null) await makeEpisode(waiting, { earlier, later: job.edges.later }, work);
  await flush(work);
  const episodes = work.made.toSorted((a, b) => (a.id < b.id ? -1 : 1));
  if (work.findings.some(blocks))
    return { episodes, findings: work.findings, tier: { key: "", files: null, words: null } };
  const { leaks, ...tier } = await indexTier(job, episodes, standby, own);
  return { episodes, findings: [...work.findings, ...leaks], tier };
}

interface Work {
  readonly job: Job;
  /** null: pages are as our templates have them. */
  readonly frame: EpisodeFrame | null;
  readonly at: At;
  readonly pageContext: PageContext;
  readonly standby: Standby;
  readonly own: OwnWords;
  batch: { readonly placed: PlacedEpisode; readonly plan: EpisodePlan; readonly neighbours: Neighbours }[];
  readonly made: MadeEpisode[];
  readonly findings: Finding[];
}

/** The episodes of a job in the order in which they were aired; those of one day are read together to be put in order. */
async function* placedEpisodes(work: Work): AsyncGenerator<PlacedEpisode> {
  let day: PlacedEpisode[] = [];
  const inOrder = () => day.sort((a, b) => instantOf(a) - instantOf(b) || (a.folder.id < b.folder.id ? -1 : 1));
  for (const candidate of work.job.episodes) {
    const date = candidate.folder.id.slice(0, 10);
    if (day.length > 0 && day[0]?.folder.id.slice(0, 10) !== date) {
      yield* inOrder();
      day = [];
    }
    day.push(await place(candidate, work));
  }
  yield* inOrder();
}

const instantOf = ({ aired }: PlacedEpisode): number => (aired === null ? 0 : Date.parse(aired));

/** Reads an episode as far as that is needed to know what it is like. */
async function place(candidate: Candidate, { job, pageContext, findings }: Work): Promise<PlacedEpisode> {
  const { known, stats, folder } = candidate;
  const holds = known !== null && isUnchangedOn(known, job);
  const why = job.why ?? (known === null ? "it is new" : holds ? null : "something dated has come since");
  if (known !== null && why === null && isSameStats(known.stats, stats)) {
    addAll(findings, known.warnings);
    return { ...candidate, digest: known.digest, seen: null, aired: known.aired, link: known.link, why };
  }
  const { sources, findings: found } = readEpisodeSources(job.content, folder);
  const digest = await digestSources(job.content, sources);
  if (known !== null && why === null && known.digest === digest) {
    addAll(findings, known.warnings);
    return { ...candidate, digest, seen: null, aired: known.aired, link: known.link, why };
  }
  const served = job.distrusted.includes(folder.id) ? null : recordServed(job.serves, folder.id);
  const seen = seeEpisode(sources, found, job, served);
  addAll(findings, seen.findings);
  const link = seen.shown === null ? null : linkTo(seen.shown, pageContext);
  return { ...candidate, digest, seen, aired: seen.aired, link, why: why ?? "its files changed" };
}

/** Makes an episode's pages where anything that they depend on changed. */
async function makeEpisode(placed: PlacedEpisode, neighbours: Neighbours, work: Work): Promise<void> {
  const { folder, known } = placed;
  const beside = keyOf(neighbours);
  const isTold = known !== null && keyOf(known.stories) === keyOf(placed.stories);
  if (placed.why === null && known !== null && known.beside === beside && isTold) {
    const { id } = folder;
    work.made.push({ id, known: { ...known, stats: placed.stats }, made: null, why: null });
    return;
  }
  if (work.findings.some(blocks)) return;
  const seen = placed.seen ?? readAgain(placed, work.job);
  const own = {
    ...placed,
    seen,
    why: placed.why ?? (known?.beside === beside ? "a story changed" : "the edition before or after it changed"),
  };
  if (seen.shown === null) return leaveOut(own, beside, work);
  const plan = planEpisode(seen.shown, neighbours, work.pageContext, placed.stories);
  addAll(work.findings, claimedTwice(plan.claims));
  work.batch.push({ placed: own, plan, neighbours });
  const waiting = work.batch.reduce((sum, { plan: { pages } }) => sum + pages.length, 0);
  if (waiting >= BATCH) await flush(work);
}

function readAgain({ folder }: PlacedEpisode, job: Job): SeenEpisode {
  const { sources, findings } = readEpisodeSources(job.content, folder);
  return seeEpisode(sources, findings, job, null);
}

/** An episode that is not on the site of the day: what it had there before is taken away. */
async function leaveOut(placed: PlacedEpisode, beside: string, work: Work): Promise<void> {
  const { folder, seen } = placed;
  await work.standby.renew([folder.id]);
  if (seen === null || seen.findings.some(blocks)) return;
  const known = knownOf(placed, seen, { beside, search: packRecords([]).digest, held: [], pages: 0 });
  work.made.push({ id: folder.id, known, made: null, why: placed.why });
}

type Rest = Pick<KnownEpisode, "beside" | "search" | "held" | "pages">;

function knownOf({ stats, digest, link, stories }: PlacedEpisode, seen: SeenEpisode, rest: Rest): KnownEpisode {
  const { span, draft, aired, findings: warnings } = seen;
  return { stats, digest, span, draft, aired, link, stories, warnings, ...rest };
}

/** Writes an episode's pages; null where the station's templates could not set one. */
async function writeFramed({ pages, listing }: EpisodePlan, work: Work): Promise<Checksum[] | null> {
  const { frame, job, standby, pageContext, findings, at } = work;
  const data = frame === null ? null : episodeData(listing, pageContext.addresses);
  const own: Frame | null = frame === null || data === null ? null : (page, parts) => frame(page, parts, data);
  try {
    return [...(await writePages(pages, job.documents, standby, own))];
  } catch (error) {
    if (!(error instanceof StationFault)) throw error;
    findings.push(error.finding);
    return null;
  } finally {
    if (frame !== null) at(null);
  }
}

/** Writes the batch that is waiting. */
async function flush(work: Work): Promise<void> {
  const { batch, standby, job } = work;
  if (batch.length === 0) return;
  work.batch = [];
  await standby.renew(batch.map(({ placed }) => placed.folder.id));
  for (const { placed, plan, neighbours } of batch) {
    const files = await writeFramed(plan, work);
    if (files === null) return;
    for (const { path, text } of plan.texts) files.push(standby.write(path, text));
    for (const { path, file } of plan.copies) files.push(await standby.copy(path, join(job.content, file)));
    const records = packRecords([...indexPages(plan.search)]);
    await keepRecords(job.kept, placed.folder.id, records);
    if (placed.seen === null) continue;
    const pageCount = plan.pages.filter(({ kind }) => kind !== "order-sheet").length;
    const { why, seen } = placed;
    const held = [...seen.held.runs.keys()].map(digestOfRun);
    const known = knownOf(placed, seen, {
      beside: keyOf(neighbours),
      search: records.digest,
      held,
      pages: pageCount,
    });
    const { listing, shared: claims } = plan;
    const made = { listing, digest: keyOf(listing), files: checksumList(files), claims };
    work.made.push({ id: placed.folder.id, known, made, why });
    if (held.length === 0) continue;
    const paths = [...plan.pages, ...plan.texts].map(({ path }) => path);
    // What is kept, and pages of others, lists and feeds are made from. Of the search, the tier is looked through.
    const kept = { path: `.cache/${placed.folder.id}.json`, text: JSON.stringify([listing, known]) };
    // The episodes before and after it were looked through themselves, as were those of its stories.
    const beside = textsIn("links.json", JSON.stringify([neighbours, placed.stories]));
    const unexplained = work.own([...seen.held.shown, ...beside]);
    work.findings.push(...scanEpisode([...filesIn(standby.path, paths), kept], seen.held, unexplained));
  }
}
