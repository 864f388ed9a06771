import { join } from "node:path";
import { correctionId, readCorrectionId } from "../model/correctionId.ts";
import type { AuditInput } from "../record/audited.ts";
import { digestOf } from "../record/digest.ts";
import { entriesOf, type ReadRecord, type Renaming, readRecord } from "../record/entry.ts";
import type { LaidEpisode } from "../record/laid.ts";
import type { Files, NewFile } from "../write/record.ts";

/** A correction that is to get another id, and the file that it then has; or why it can't, in a sentence. */
export type Renamed =
  | { readonly ok: true; readonly renames: Renaming; readonly file: NewFile }
  | { readonly ok: false; readonly why: string };

const fileOf = (id: string): string => `corrections/${id}.md`;

/**
 * Gives an entered correction an id that no other copy gives. Two people who write files by hand in two copies may take one
 * number of one day for two episodes: once both are entered, one of the two must get another address. Pure.
 */
export function renamed(id: string, record: ReadRecord, { input, laid }: About): Renamed {
  const own = entriesOf(record).find(({ correction }) => correction?.id === id)?.correction;
  const text = input.corrections.get(id);
  const day = readCorrectionId(id)?.day;
  if (own === undefined || own === null || text === undefined || day === undefined) {
    return { ok: false, why: `${id} is no correction that is entered in the record of ${input.id}.` };
  }
  const later = laid.laid.find(({ correction }) => correction.supersedes === id);
  if (later !== undefined) {
    const why = `${later.correction.id} names ${id} as the one that it takes the place of: rename the correction of the other episode.`;
    return { ok: false, why };
  }
  const isTaken = (name: string) => input.corrections.has(name);
  const to = correctionId(day, digestOf(`${input.id}\n${text.text}`), isTaken);
  return { ok: true, renames: { from: id, to }, file: { path: fileOf(to), bytes: Buffer.from(text.text) } };
}

interface About {
  readonly input: AuditInput;
  readonly laid: LaidEpisode;
}

/** Takes away files of corrections whose new name is entered, where they are still what was entered. */
export async function takeRenamedAway(folder: string, files: Files): Promise<void> {
  const bytes = await files.read(join(folder, "record.jsonl"));
  const entries = entriesOf(readRecord(bytes === null ? "" : Buffer.from(bytes).toString("utf8")));
  const digests = new Map(entries.map(({ correction }) => [correction?.id, correction?.digest]));
  for (const { renames } of entries) {
    if (renames === undefined) continue;
    const old = await files.read(join(folder, fileOf(renames.from)));
    if (old !== null && digestOf(old) === digests.get(renames.to))
      await files.remove(join(folder, fileOf(renames.from)));
  }
}
