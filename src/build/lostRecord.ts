import type { Finding } from "../model/finding.ts";
import type { EpisodeFolder, EpisodeSources } from "../read/source.ts";
import { recordFile } from "../record/recordFile.ts";

/**
 * An episode without a record that was published all the same, by what else lies in its folder: only what is published
 * is corrected, or has an earlier text. A record that is there and can't be read is told by whoever read the folder.
 */
export function lostRecord({ record, corrections, asPublished, folder }: EpisodeSources): readonly Finding[] {
  const has = corrections.length > 0 ? "corrections" : asPublished.length > 0 ? "earlier texts" : null;
  if (record !== null || has === null) return [];
  return [missing(folder, `This episode has ${has}, so it was published, and its record is not there.`)];
}

/** An episode that the last site had, and whose folder or record is not in the content any more. */
export const goneSince = ({ folder, id }: Pick<EpisodeFolder, "folder" | "id">): Finding =>
  missing(folder, `The last site has ${id} as published, and its record is not there.`);

const missing = (folder: string, says: string): Finding => ({
  rule: "record-missing",
  level: "blocks",
  at: { file: recordFile(folder), line: 1, column: 1 },
  seconds: null,
  says,
  mend: "Bring it back, from version control or from a copy of the site. What must not be shown is withdrawn by a correction.",
});
