import type { ArchivedEpisode, Programme } from "../model/programme.ts";
import { UsageError } from "../model/usageError.ts";
import { openArchive } from "../read/index.ts";

/** One episode and its programme, without reading the others. @throws UsageError where either can't be read. */
export function oneEpisode(
  content: string,
  id: string,
): { readonly programme: Programme; readonly episode: ArchivedEpisode } {
  const { programme, folders, read } = openArchive(content);
  if (programme === null) throw new UsageError(`programme.md below ${content} can't be read: see afterair check.`);
  const folder = folders.find((own) => own.id === id);
  const episode = folder === undefined ? null : read(folder).episode;
  if (episode === null) throw new UsageError(`There is no episode ${id} that can be read below ${content}.`);
  return { programme, episode };
}
