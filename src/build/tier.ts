import { checksumList } from "../model/checksums.ts";
import type { Finding } from "../model/finding.ts";
import { pageContextOf } from "../pages/site.ts";
import { readEpisodeSources } from "../read/folder.ts";
import { indexPages } from "../search/indexPage.tsx";
import type { IndexPage } from "../search/segment.ts";
import { wordCounter } from "../search/words.ts";
import { digestsBelow } from "../write/digests.ts";
import { writeIndex } from "../write/pagefind.ts";
import { readRecords } from "../write/searchRecords.ts";
import type { Standby } from "../write/standby.ts";
import { planEpisode } from "./episodePlan.ts";
import type { Job, JobResult, MadeEpisode } from "./jobData.ts";
import { seeEpisode } from "./readEpisode.ts";
import { type OwnWords, scanTier } from "./scan.ts";
import { keyOf } from "./state.ts";

/** Indexes a tier, where what its episodes say is not what it was made from. */
export async function indexTier(
  job: Job,
  episodes: readonly MadeEpisode[],
  standby: Standby,
  own: OwnWords,
): Promise<JobResult["tier"] & { readonly leaks: readonly Finding[] }> {
  const key = keyOf([job.program, job.programme.language, ...episodes.map(({ id, known }) => [id, known.search])]);
  if (key === job.indexed) return { key, files: null, words: null, leaks: [] };
  await standby.renew([job.index]);
  const counter = wordCounter();
  const { records } = await writeIndex(
    counted(recordsOf(job, episodes), counter.add),
    `${standby.path}/${job.index}`,
    job.programme.language,
  );
  if (records === 0) await standby.renew([job.index]);
  const files = records === 0 ? [] : await digestsBelow(`${standby.path}/${job.index}`);
  const held = new Map(episodes.flatMap(({ id, known }) => (known.held.length > 0 ? [[id, known.held] as const] : [])));
  const leaks = records === 0 ? [] : scanTier(standby.path, job.index, held, own);
  return {
    key,
    leaks,
    words: counter.counted(),
    files: checksumList(files.map(({ path, digest }) => ({ path: `${job.index}/${path}`, digest }))),
  };
}

async function* counted(pages: AsyncIterable<IndexPage>, add: (page: IndexPage) => void): AsyncGenerator<IndexPage> {
  for await (const page of pages) {
    add(page);
    yield page;
  }
}

/** In the order in which they were aired: another order would give other files. */
async function* recordsOf(job: Job, episodes: readonly MadeEpisode[]): AsyncGenerator<IndexPage> {
  const aired = ({ known }: MadeEpisode) => (known.aired === null ? 0 : Date.parse(known.aired));
  for (const { id, known } of episodes.toSorted((a, b) => aired(a) - aired(b) || (a.id < b.id ? -1 : 1))) {
    if (known.link === null) continue;
    yield* (await readRecords(job.kept, id, known.search)) ?? makeRecords(job, id);
  }
}

/** The records of an episode from its files, where none are kept. */
function makeRecords(job: Job, id: string): readonly IndexPage[] {
  const candidate = job.episodes.find(({ folder }) => folder.id === id);
  if (candidate === undefined) return [];
  const { sources, findings } = readEpisodeSources(job.content, candidate.folder);
  const { shown } = seeEpisode(sources, findings, job, null);
  if (shown === null) return [];
  const pageContext = pageContextOf(job.programme, job.assets);
  return [...indexPages(planEpisode(shown, { earlier: null, later: null }, pageContext).search)];
}
