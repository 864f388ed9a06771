import type { SiteDay } from "../build/day.ts";
import { hintsOf, mayStandIn, stemsIn } from "../checks/withdrawn/files.ts";
import { type Language, type Matter, matterOf, type WithdrawnText } from "../checks/withdrawn/matter.ts";
import type { WithdrawnMatters } from "../checks/withdrawn/places.ts";
import { runIndexOf } from "../checks/withdrawn/runs.ts";
import { withdrawnTextsOf } from "../checks/withdrawn/text.ts";
import type { ArchivedEpisode } from "../model/programme.ts";
import { type EpisodeFolder, readTexts } from "../read/index.ts";
import { recordedIn } from "../record/enter.ts";
import { readRecord } from "../record/entry.ts";

/** Where the episodes lie that withdrawn words are looked for in. */
export interface Evenings {
  readonly content: string;
  /** All of the archive, by name. */
  readonly folders: readonly EpisodeFolder[];
}

/** What was withdrawn from an episode, as far as its files still have it. */
export const withdrawnFrom = (
  episode: ArchivedEpisode,
  day: Pick<SiteDay, "until">,
  presenters: readonly string[],
): readonly WithdrawnText[] =>
  withdrawnTextsOf(episode, day.until, recordedIn(readRecord(episode.record ?? "")), presenters);

/** What withdrawn texts are recognised by, with what the evenings around each of them usually say. */
export function mattersOf(texts: readonly WithdrawnText[], evenings: Evenings, language: Language): WithdrawnMatters {
  const matters = texts.map((text) => withUsual(matterOf(text, language), evenings, language));
  return { index: runIndexOf(matters), language };
}

/** Of withdrawn texts, those that may stand in some episodes, or were withdrawn from one of them. */
export function concerning(
  texts: readonly WithdrawnText[],
  folders: readonly EpisodeFolder[],
  content: string,
  language: Language,
): readonly WithdrawnText[] {
  const files = folders.map((folder) => readTexts(content, folder));
  return texts.filter((text) => {
    if (folders.some(({ id }) => id === text.from.episode)) return true;
    const hints = hintsOf([matterOf(text, language)], language.stems);
    return files.some((own) => own === null || own.some((file) => mayStandIn(file, hints)));
  });
}

/** So many evenings on either side say what is usual: six weeks of weeknights. No source. */
const AROUND = 30;

function withUsual(matter: Matter, { content, folders }: Evenings, { stems }: Language): Matter {
  const sought = new Set([...matter.telling.keys(), ...matter.words.map(({ stem }) => stem)]);
  const own = folders.findIndex(({ id }) => id === matter.from.episode);
  const around = folders.slice(Math.max(0, own - AROUND), own + AROUND + 1);
  const usual = around.flatMap((folder): [string, ReadonlySet<string>][] => {
    const texts = folder.id === matter.from.episode ? null : readTexts(content, folder);
    return texts === null ? [] : [[folder.id, stemsIn(texts.join("\n\n"), sought, stems)]];
  });
  return { ...matter, usual: new Map(usual) };
}
