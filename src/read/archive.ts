import type { Episode } from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import type { ArchivedEpisode, Programme } from "../model/programme.ts";
import { UsageError } from "../model/usageError.ts";
import { parseEpisode } from "./episode.ts";
import { blocking } from "./findings.ts";
import { listEpisodes, readEpisodeSources, readProgrammeSources } from "./folder.ts";
import { parseProgramme } from "./programme.ts";
import { baseName, type EpisodeFolder, type EpisodeSources, type Source } from "./source.ts";

/** The programme of a content folder: programme.md, the register and the pages written by hand. */
export interface OpenProgramme {
  /** null when programme.md could not be read. */
  readonly programme: Programme | null;
  /** Its zone; UTC where it could not be read. */
  readonly zone: string;
  readonly findings: readonly Finding[];
}

/** The one way to read a programme, but for a build, which knows it from the last one. */
export function openProgramme(root: string): OpenProgramme {
  const { sources, findings } = readProgrammeSources(root);
  const { programme, findings: own } = parseProgramme(sources);
  return { programme, zone: programme?.timezone ?? "UTC", findings: [...findings, ...own] };
}

/** A content folder whose programme is read, and whose episodes are listed and read when they are asked for. */
export interface OpenArchive extends OpenProgramme {
  /** Those of the programme alone; `findings` are also of what stands in the place of episodes. */
  readonly ofProgramme: readonly Finding[];
  /** By name. */
  readonly folders: readonly EpisodeFolder[];
  /** The folders of some episodes; of none named, all. @throws UsageError where one is not there. */
  named(ids: readonly string[]): readonly EpisodeFolder[];
  read(folder: EpisodeFolder): ReadEpisode;
}

export interface ReadEpisode {
  readonly sources: EpisodeSources;
  /** There even while a correction of it is faulty; null where it could not be read. */
  readonly episode: ArchivedEpisode | null;
  /** Those of reading its files alone; `findings` are also of what stands in them. */
  readonly ofFiles: readonly Finding[];
  readonly findings: readonly Finding[];
}

export function openArchive(root: string): OpenArchive {
  const { programme, zone, findings: ofProgramme } = openProgramme(root);
  const { episodes: folders, findings: ofFolders } = listEpisodes(root);
  return {
    programme,
    zone,
    findings: [...ofProgramme, ...ofFolders],
    ofProgramme,
    folders,
    named(ids) {
      const unknown = ids.filter((id) => folders.every((folder) => folder.id !== id));
      if (unknown.length > 0) throw new UsageError(`There is no episode ${unknown.join(", ")} below ${root}.`);
      return ids.length === 0 ? folders : folders.filter(({ id }) => ids.includes(id));
    },
    read(folder) {
      const { sources, findings: ofFiles } = readEpisodeSources(root, folder);
      const parsed = parseEpisode(sources, zone, programme?.mediaHosts ?? null);
      return {
        sources,
        episode: parsed.ok ? archived(parsed.value, sources, zone) : null,
        ofFiles,
        findings: [...ofFiles, ...idTwice(folder, folders), ...parsed.findings],
      };
    },
  };
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

/** The second folder of one id. Only one of the two can stand in the right year, so the other is refused for that too. */
function idTwice(each: EpisodeFolder, all: readonly EpisodeFolder[]): Finding[] {
  const other = all.find(({ id, folder }) => id === each.id && folder !== each.folder);
  if (other === undefined || each.id.startsWith(`${each.year}-`)) return [];
  const place = (folder: string) => ({ file: `${folder}/episode.md`, line: 1, column: 1 });
  const says = `There is another episode ${each.id}, in ${other.folder}.`;
  const mend = "Take one of the two away, or give it another edition's name, like 2026-10-05-late.";
  return [{ ...blocking("episode-id-twice", place(each.folder), says, mend), see: [place(other.folder)] }];
}
