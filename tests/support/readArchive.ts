import { addAll } from "../../src/model/addAll.ts";
import { blocks, type Finding } from "../../src/model/finding.ts";
import type { ArchivedEpisode, Programme } from "../../src/model/programme.ts";
import { openArchive } from "../../src/read/index.ts";

/** All that was read, as plain data. */
interface Archive {
  readonly programme: Programme;
  /** Oldest first, by `aired`, then id. */
  readonly episodes: readonly ArchivedEpisode[];
}

export interface ReadArchive {
  /** Every episode that could be read, whatever is wrong with others; null when programme.md could not be. */
  readonly archive: Archive | null;
  /** Everything that is wrong, in the programme first, then episode by episode, in the order of the folders. */
  readonly findings: readonly Finding[];
  /** Ids of all episodes whose folder is there, in the order of the folders; those without anything that blocks; the others. */
  readonly episodes: readonly string[];
  readonly episodesOk: readonly string[];
  readonly episodesFaulty: readonly string[];
}

/** A content folder whole: all of it is in memory then. */
export function readArchive(root: string): ReadArchive {
  const { programme, folders, read, findings: own } = openArchive(root);
  const findings = [...own];
  const episodes: ArchivedEpisode[] = [];
  const [episodesOk, episodesFaulty]: [string[], string[]] = [[], []];
  for (const folder of folders) {
    const one = read(folder);
    addAll(findings, one.findings);
    (one.findings.some(blocks) ? episodesFaulty : episodesOk).push(folder.id);
    if (one.episode !== null) episodes.push(one.episode);
  }
  episodes.sort((a, b) => Date.parse(a.aired) - Date.parse(b.aired) || (a.id < b.id ? -1 : 1));
  const archive = programme === null ? null : { programme, episodes };
  return { archive, findings, episodes: folders.map(({ id }) => id), episodesOk, episodesFaulty };
}
