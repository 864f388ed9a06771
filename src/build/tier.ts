import { checksumList } from "../model/checksums.ts";
import type { Finding } from "../model/finding.ts";
import { settingOf } from "../pages/site.ts";
import { readEpisodeSources } from "../read/folder.ts";
import { indexPages } from "../search/indexPage.tsx";
import type { IndexPage } from "../search/segment.ts";
import { digestsBelow } from "../write/digests.ts";
import { writeIndex } from "../write/pagefind.ts";
import { readRecords } from "../write/searchRecords.ts";
import type { Standby } from "../write/standby.ts";
import { planEpisode } from "./episodePlan.ts";
import type { MadeEpisode, MadePart, Part } from "./partData.ts";
import { seeEpisode } from "./readEpisode.ts";
import { type OwnWords, scanTier } from "./scan.ts";
import { keyOf } from "./state.ts";

/** Indexes a tier, where what its episodes say is not what it was made from. */
export async function indexTier(
  part: Part,
  episodes: readonly MadeEpisode[],
  standby: Standby,
  own: OwnWords,
): Promise<MadePart["tier"] & { readonly leaks: readonly Finding[] }> {
  const key = keyOf([part.program, part.programme.language, ...episodes.map(({ id, known }) => [id, known.search])]);
  if (key === part.indexed) return { key, files: null, leaks: [] };
  await standby.renew([part.index]);
  const { records } = await writeIndex(
    recordsOf(part, episodes),
    `${standby.path}/${part.index}`,
    part.programme.language,
  );
  if (records === 0) await standby.renew([part.index]);
  const files = records === 0 ? [] : await digestsBelow(`${standby.path}/${part.index}`);
  const held = new Map(episodes.flatMap(({ id, known }) => (known.held.length > 0 ? [[id, known.held] as const] : [])));
  const leaks = records === 0 ? [] : scanTier(standby.path, part.index, held, own);
  return {
    key,
    leaks,
    files: checksumList(files.map(({ path, digest }) => ({ path: `${part.index}/${path}`, digest }))),
  };
}

/** In the order in which they were aired: another order would give other files. */
async function* recordsOf(part: Part, episodes: readonly MadeEpisode[]): AsyncGenerator<IndexPage> {
  const aired = ({ known }: MadeEpisode) => (known.aired === null ? 0 : Date.parse(known.aired));
  for (const { id, known } of episodes.toSorted((a, b) => aired(a) - aired(b) || (a.id < b.id ? -1 : 1))) {
    if (known.link === null) continue;
    yield* (await readRecords(part.kept, id, known.search)) ?? makeRecords(part, id);
  }
}

/** The records of an episode from its files, where none are kept. */
function makeRecords(part: Part, id: string): readonly IndexPage[] {
  const candidate = part.episodes.find(({ folder }) => folder.id === id);
  if (candidate === undefined) return [];
  const { sources, findings } = readEpisodeSources(part.content, candidate.folder);
  const { shown } = seeEpisode(sources, findings, part, null);
  if (shown === null) return [];
  const setting = settingOf(part.programme, part.assets);
  return [...indexPages(planEpisode(shown, { earlier: null, later: null }, setting).search)];
}
