import { join } from "node:path";
import { blocks, type Finding } from "../model/finding.ts";
import { type EpisodeFolder, openArchive } from "../read/index.ts";
import type { RecordPlace } from "../write/record.ts";

/** The folder of an episode whose record is to be changed. */
export interface OneFolder {
  /** Null where the content can't be read so far: the findings say why. */
  readonly folder: EpisodeFolder | null;
  readonly zone: string;
  readonly place: RecordPlace;
  readonly findings: readonly Finding[];
}

/** Finds the folder of an episode. @throws UsageError where there is none. */
export function oneFolder(content: string, episode: string): OneFolder {
  const { named, zone, findings } = openArchive(content);
  const [own = null] = named([episode]);
  const faults = findings.filter(blocks);
  const folder = faults.length > 0 ? null : own;
  return { folder, zone, place: { folder: join(content, folder?.folder ?? ""), content }, findings: faults };
}
