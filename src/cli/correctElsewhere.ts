import { surroundings } from "../actions/editorial.ts";
import { lookElsewhere } from "../actions/elsewhere.ts";
import { mattersOf, withdrawnFrom } from "../actions/withdrawn.ts";
import { siteDay } from "../build/day.ts";
import type { RecordFolder } from "../build/recordFolder.ts";
import { languageOf } from "../checks/withdrawn/matter.ts";
import { archived } from "../read/archive.ts";
import { openArchive } from "../read/index.ts";
import { progressTo } from "./progress.ts";
import type { RecordIo } from "./recordIo.ts";
import { showElsewhere } from "./showElsewhere.ts";

/** A withdrawal that is about to be made. */
export interface NewWithdrawal {
  readonly content: string;
  readonly id: string;
  /** Its episode, with the withdrawal among its corrections. */
  readonly read: RecordFolder;
}

/** Where the matter of a withdrawal stands elsewhere in the archive, as lines for people. */
export async function elsewhereLines({ content, id, read }: NewWithdrawal, io: RecordIo): Promise<readonly string[]> {
  const archive = openArchive(content);
  const { programme, folders } = archive;
  const day = programme === null ? null : siteDay(null, io.clock(), programme.timezone);
  if (programme === null || day === null || read.episode === null) return [];
  const own = archived(read.episode, read.sources, read.zone);
  const [text] = withdrawnFrom(own, day, programme.presenters).filter(({ from }) => from.withdrawal === id);
  if (text === undefined) return [];
  const around = await surroundings({ programme, outlines: [], day: day.date, content });
  const withdrawn = mattersOf([text], { content, folders }, languageOf(around.known, around.lexicon));
  const looked = lookElsewhere(withdrawn, {
    content,
    folders,
    read: (folder) => (folder.id === own.id ? own : archive.read(folder).episode),
    day,
    around,
    progress: progressTo({ line: io.err, status: io.status ?? null, now: () => io.clock().getTime() }, false),
  });
  const hasWords = text.spoken.some((sentences) => sentences.length > 0);
  return showElsewhere(looked, { content, url: programme.url, withdrawal: id, hasWords });
}
