import { siteDay } from "../build/day.ts";
import type { Progress } from "../build/progress.ts";
import type { RecordFolder } from "../build/recordFolder.ts";
import { languageOf } from "../checks/withdrawn/matter.ts";
import { archived, openArchive } from "../read/index.ts";
import { surroundings } from "./editorial.ts";
import { type ElsewhereResult, findElsewhere } from "./elsewhere.ts";
import { mattersOf, withdrawnFrom } from "./withdrawn.ts";

/** A withdrawal that is about to be made. */
export interface NewWithdrawal {
  readonly content: string;
  readonly id: string;
  /** Its episode, with the withdrawal among its corrections. */
  readonly read: RecordFolder;
}

/** Where the matter of a withdrawal stands besides. */
export interface WithdrawnElsewhere extends ElsewhereResult {
  /** The site's address, with a slash at its end. */
  readonly url: string;
  /** Whether anything of what is withdrawn is still in the files. */
  readonly hasWords: boolean;
}

/** Where the matter of a withdrawal stands elsewhere in the archive; null where nothing can be looked for. */
export async function withdrawnElsewhere(
  { content, id, read }: NewWithdrawal,
  now: Date,
  progress: Progress,
): Promise<WithdrawnElsewhere | null> {
  const archive = openArchive(content);
  const { programme, folders } = archive;
  const day = programme === null ? null : siteDay(null, now, programme.timezone);
  if (programme === null || day === null || read.episode === null) return null;
  const own = archived(read.episode, read.sources, read.zone);
  const [text] = withdrawnFrom(own, day, programme.presenters).filter(({ from }) => from.withdrawal === id);
  if (text === undefined) return null;
  const around = await surroundings({ programme, outlines: [], day: day.date, content });
  const withdrawn = mattersOf([text], { content, folders }, languageOf(around.known, around.lexicon));
  const result = findElsewhere(withdrawn, {
    content,
    folders,
    read: (folder) => (folder.id === own.id ? own : archive.read(folder).episode),
    day,
    around,
    progress,
  });
  const hasWords = text.spoken.some((sentences) => sentences.length > 0);
  return { ...result, url: programme.url, hasWords };
}
