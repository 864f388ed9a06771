import { join } from "node:path";
import { addAll } from "../model/addAll.ts";
import { checksumList } from "../model/checksums.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { claimedTwice } from "../model/output.ts";
import type { Neighbours } from "../pages/episode.ts";
import { type Setting, settingOf } from "../pages/site.ts";
import type { Link } from "../pages/types.ts";
import { readEpisodeSources } from "../read/folder.ts";
import { isSameLook } from "../read/look.ts";
import { textsIn } from "../scan/texts.ts";
import { digestOfRun } from "../scan/words.ts";
import { indexPages } from "../search/indexPage.tsx";
import { writePages } from "../write/pages.ts";
import { keepRecords, packRecords } from "../write/searchRecords.ts";
import { type Standby, standbyAt } from "../write/standby.ts";
import { type EpisodePlan, planEpisode } from "./episodePlan.ts";
import { linkTo } from "./links.ts";
import type { Candidate, MadeEpisode, MadePart, Part } from "./partData.ts";
import { digestSources, type SeenEpisode, seeEpisode } from "./readEpisode.ts";
import { filesIn, type OwnWords, ownWords, scanEpisode } from "./scan.ts";
import { recordServed } from "./served.ts";
import { type KnownEpisode, keyOf, standsOn } from "./state.ts";
import { indexTier } from "./tier.ts";

/** How many pages are written after one note of what differs: enough to be worth waiting for the disk, few enough to be held in memory. */
const BATCH = 100;

/** An episode in its place, waiting for the one after it. */
interface Standing extends Candidate {
  readonly digest: string;
  readonly seen: SeenEpisode | null;
  readonly aired: string | null;
  readonly link: Link | null;
  readonly why: string | null;
}

/**
 * Builds a part: reads what changed, sets the pages that depend on it, and indexes the tier where its words changed.
 * Episodes stream through: at most a day's, those waiting for their neighbours, and a batch of pages are in memory.
 */
export async function makePart(part: Part, progress: (episodes: number) => void): Promise<MadePart> {
  const setting = settingOf(part.programme, part.assets);
  const standby = standbyAt(part.kept, part.tree);
  const own = ownWords(part.programme);
  const work: Work = { part, setting, standby, own, batch: [], made: [], findings: [] };
  let [earlier, waiting]: [Link | null, Standing | null] = [part.edges.earlier, null];
  for await (const standing of standings(work)) {
    progress(1);
    if (standing.link === null) {
      await settleEpisode(standing, { earlier: null, later: null }, work);
      continue;
    }
    if (waiting !== null) {
      await settleEpisode(waiting, { earlier, later: standing.link }, work);
      earlier = waiting.link;
    }
    waiting = standing;
  }
  if (waiting !== null) await settleEpisode(waiting, { earlier, later: part.edges.later }, work);
  await flush(work);
  const episodes = work.made.toSorted((a, b) => (a.id < b.id ? -1 : 1));
  if (work.findings.some(blocks)) return { episodes, findings: work.findings, tier: { key: "", files: null } };
  const { leaks, ...tier } = await indexTier(part, episodes, standby, own);
  return { episodes, findings: [...work.findings, ...leaks], tier };
}

interface Work {
  readonly part: Part;
  readonly setting: Setting;
  readonly standby: Standby;
  readonly own: OwnWords;
  batch: { readonly standing: Standing; readonly plan: EpisodePlan; readonly neighbours: Neighbours }[];
  readonly made: MadeEpisode[];
  readonly findings: Finding[];
}

/** The episodes of a part in the order in which they were aired; those of one day are read together to be put in order. */
async function* standings(work: Work): AsyncGenerator<Standing> {
  let day: Standing[] = [];
  const inOrder = () => day.sort((a, b) => instantOf(a) - instantOf(b) || (a.folder.id < b.folder.id ? -1 : 1));
  for (const candidate of work.part.episodes) {
    const date = candidate.folder.id.slice(0, 10);
    if (day.length > 0 && day[0]?.folder.id.slice(0, 10) !== date) {
      yield* inOrder();
      day = [];
    }
    day.push(await stand(candidate, work));
  }
  yield* inOrder();
}

const instantOf = ({ aired }: Standing): number => (aired === null ? 0 : Date.parse(aired));

/** Reads an episode as far as that is needed to know what it is like. */
async function stand(candidate: Candidate, { part, setting, findings }: Work): Promise<Standing> {
  const { known, look, folder } = candidate;
  const holds = known !== null && standsOn(known, part);
  const why = part.why ?? (known === null ? "it is new" : holds ? null : "something dated has come since");
  if (known !== null && why === null && isSameLook(known.look, look)) {
    addAll(findings, known.warnings);
    return { ...candidate, digest: known.digest, seen: null, aired: known.aired, link: known.link, why };
  }
  const { sources, findings: found } = readEpisodeSources(part.content, folder);
  const digest = await digestSources(part.content, sources);
  if (known !== null && why === null && known.digest === digest) {
    addAll(findings, known.warnings);
    return { ...candidate, digest, seen: null, aired: known.aired, link: known.link, why };
  }
  const served = part.distrusted.includes(folder.id) ? null : recordServed(part.serves, folder.id);
  const seen = seeEpisode(sources, found, part, served);
  addAll(findings, seen.findings);
  const link = seen.shown === null ? null : linkTo(seen.shown, setting);
  return { ...candidate, digest, seen, aired: seen.aired, link, why: why ?? "its files changed" };
}

/** Makes an episode's pages where anything that they depend on changed. */
async function settleEpisode(standing: Standing, neighbours: Neighbours, work: Work): Promise<void> {
  const { folder, known } = standing;
  const beside = keyOf(neighbours);
  if (standing.why === null && known !== null && known.beside === beside) {
    const { id } = folder;
    work.made.push({ id, known: { ...known, look: standing.look }, made: null, why: null });
    return;
  }
  if (work.findings.some(blocks)) return;
  const seen = standing.seen ?? readAgain(standing, work.part);
  const own = { ...standing, seen, why: standing.why ?? "the edition before or after it changed" };
  if (seen.shown === null) return leaveOut(own, beside, work);
  const plan = planEpisode(seen.shown, neighbours, work.setting);
  addAll(work.findings, claimedTwice(plan.claims));
  work.batch.push({ standing: own, plan, neighbours });
  const waiting = work.batch.reduce((sum, { plan: { pages } }) => sum + pages.length, 0);
  if (waiting >= BATCH) await flush(work);
}

function readAgain({ folder }: Standing, part: Part): SeenEpisode {
  const { sources, findings } = readEpisodeSources(part.content, folder);
  return seeEpisode(sources, findings, part, null);
}

/** An episode that is not on the site of the day: what it had there before is taken away. */
async function leaveOut(standing: Standing, beside: string, work: Work): Promise<void> {
  const { folder, seen } = standing;
  await work.standby.renew([folder.id]);
  if (seen === null || seen.findings.some(blocks)) return;
  const known = knownOf(standing, seen, { beside, search: packRecords([]).digest, held: [], pages: 0 });
  work.made.push({ id: folder.id, known, made: null, why: standing.why });
}

type Rest = Pick<KnownEpisode, "beside" | "search" | "held" | "pages">;

function knownOf({ look, digest, link }: Standing, seen: SeenEpisode, rest: Rest): KnownEpisode {
  const { span, draft, aired, findings: warnings } = seen;
  return { look, digest, span, draft, aired, link, warnings, ...rest };
}

/** Writes the batch that is waiting. */
async function flush(work: Work): Promise<void> {
  const { batch, standby, part } = work;
  if (batch.length === 0) return;
  work.batch = [];
  await standby.renew(batch.map(({ standing }) => standing.folder.id));
  for (const { standing, plan, neighbours } of batch) {
    const files = [...(await writePages(plan.pages, part.documents, standby))];
    for (const { path, text } of plan.texts) files.push(standby.write(path, text));
    for (const { path, file } of plan.copies) files.push(await standby.copy(path, join(part.content, file)));
    const records = packRecords([...indexPages(plan.search)]);
    await keepRecords(part.kept, standing.folder.id, records);
    if (standing.seen === null) continue;
    const pageCount = plan.pages.filter(({ kind }) => kind !== "order-sheet").length;
    const { why, seen } = standing;
    const held = [...seen.held.runs.keys()].map(digestOfRun);
    const known = knownOf(standing, seen, {
      beside: keyOf(neighbours),
      search: records.digest,
      held,
      pages: pageCount,
    });
    const { listing, shared: claims } = plan;
    const made = { listing, digest: keyOf(listing), files: checksumList(files), claims };
    work.made.push({ id: standing.folder.id, known, made, why });
    if (held.length === 0) continue;
    const paths = [...plan.pages, ...plan.texts].map(({ path }) => path);
    // What is kept, and pages of others, lists and feeds are made from. Of the search, the tier is looked through.
    const kept = { path: `.cache/${standing.folder.id}.json`, text: JSON.stringify([listing, known]) };
    // The editions before and after it were looked through themselves.
    const beside = textsIn("links.json", JSON.stringify(neighbours));
    const unexplained = work.own([...seen.held.shown, ...beside]);
    work.findings.push(...scanEpisode([...filesIn(standby.path, paths), kept], seen.held, unexplained));
  }
}
