import { addAll } from "../model/addAll.ts";
import type { Episode } from "../model/episode.ts";
import { blocks, type Finding } from "../model/finding.ts";
import type { Archive, ArchivedEpisode, Programme } from "../model/programme.ts";
import { parseEpisode } from "./episode.ts";
import { blocking } from "./findings.ts";
import { listEpisodes, readEpisodeSources, readProgrammeSources } from "./folder.ts";
import { parseProgramme } from "./programme.ts";
import { baseName, type EpisodeFolder, type EpisodeSources, type Source } from "./source.ts";

export interface ReadArchive {
  /**
   * Every episode that could be read, whatever is wrong with others; null when programme.md could not be.
   * An episode stands here even while a correction of it is faulty: see `episodesFaulty`.
   */
  readonly archive: Archive | null;
  /** Everything that is wrong, in the programme first, then episode by episode, in the order of the folders. */
  readonly findings: readonly Finding[];
  /** Ids of all episodes whose folder is there, in the order of the folders. */
  readonly episodes: readonly string[];
  /** Ids of the episodes without anything that blocks, in the order of the folders. */
  readonly episodesOk: readonly string[];
  /** Ids of episodes that have no record: nobody has published them. */
  readonly unpublished: readonly string[];
  /** Ids of the others; those with a faulty correction alone are in the archive too. */
  readonly episodesFaulty: readonly string[];
}

/** A content folder whose programme is read, and whose episodes are listed and read when they are asked for. */
export interface OpenArchive {
  /** null when programme.md could not be read. */
  readonly programme: Programme | null;
  /** Of the programme, and of what stands in the place of episodes. */
  readonly findings: readonly Finding[];
  /** By name. */
  readonly folders: readonly EpisodeFolder[];
  read(folder: EpisodeFolder): ReadEpisode;
}

export interface ReadEpisode {
  /** There even while a correction of it is faulty; null where it could not be read. */
  readonly episode: ArchivedEpisode | null;
  /** It has no record: nobody has published it. */
  readonly unpublished: boolean;
  readonly findings: readonly Finding[];
}

export function openArchive(root: string): OpenArchive {
  const own = readProgrammeSources(root);
  const { programme, findings: ofProgramme } = parseProgramme(own.sources);
  const zone = programme?.timezone ?? "UTC";
  const { episodes: folders, findings: ofFolders } = listEpisodes(root);
  return {
    programme,
    findings: [...own.findings, ...ofProgramme, ...ofFolders],
    folders,
    read(folder) {
      const { sources, findings: ofFiles } = readEpisodeSources(root, folder);
      const parsed = parseEpisode(sources, zone, programme?.mediaHosts ?? null);
      return {
        episode: parsed.ok ? archived(parsed.value, sources, zone) : null,
        unpublished: sources.record === null,
        findings: [...ofFiles, ...idTwice(folder, folders), ...parsed.findings],
      };
    },
  };
}

/** Reads a content folder whole: all of it is in memory then. */
export function readArchive(root: string): ReadArchive {
  const { programme, folders, read, findings: own } = openArchive(root);
  const findings = [...own];
  const episodes: ArchivedEpisode[] = [];
  const [episodesOk, episodesFaulty, unpublished]: [string[], string[], string[]] = [[], [], []];
  for (const folder of folders) {
    const one = read(folder);
    addAll(findings, one.findings);
    (one.findings.some(blocks) ? episodesFaulty : episodesOk).push(folder.id);
    if (one.unpublished) unpublished.push(folder.id);
    if (one.episode !== null) episodes.push(one.episode);
  }
  const archive = programme === null ? null : { programme, episodes: inAirOrder(episodes) };
  return { archive, findings, episodes: folders.map(({ id }) => id), episodesOk, episodesFaulty, unpublished };
}

/** An episode with its record and the texts that it had before. An audit, not a build, judges whether they are sound. */
export function archived(episode: Episode, sources: EpisodeSources, zone: string): ArchivedEpisode {
  const earlier = sources.asPublished.map(({ seq, reason, ...own }) => {
    const parsed =
      own.episode === null || own.transcript === null
        ? null
        : parseEpisode({ ...sources, episode: own.episode, transcript: own.transcript, corrections: [] }, zone);
    return { seq, episode: parsed?.ok ? parsed.value : null, reason: reason === null ? null : wordsOf(reason) };
  });
  return {
    ...episode,
    record: sources.record === null ? null : wordsOf(sources.record),
    merged: sources.merged.map((source) => ({ name: baseName(source.file), text: wordsOf(source) })),
    earlier,
  };
}

const wordsOf = ({ bytes }: Source): string => new TextDecoder().decode(bytes);

/** Oldest first, by when they aired, then by id. */
export function inAirOrder<T extends Episode>(episodes: readonly T[]): T[] {
  return [...episodes].sort((a, b) => Date.parse(a.aired) - Date.parse(b.aired) || (a.id < b.id ? -1 : 1));
}

/** The second folder of one id. Only one of the two can stand in the right year, so the other is refused for that too. */
function idTwice(each: EpisodeFolder, all: readonly EpisodeFolder[]): Finding[] {
  const other = all.find(({ id, folder }) => id === each.id && folder !== each.folder);
  if (other === undefined || each.id.startsWith(`${each.year}-`)) return [];
  const place = (folder: string) => ({ file: `${folder}/episode.md`, line: 1, column: 1 });
  const says = `There is another episode ${each.id}, in ${other.folder}.`;
  const mend = "Take one of the two away, or give it another edition's name, like 2026-10-05-late.";
  return [{ ...blocking("episode-id-twice", place(each.folder), says, mend), see: [place(other.folder)] }];
}
