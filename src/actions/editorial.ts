import { type SiteDay, siteDay } from "../build/day.ts";
import { checkEpisode, groupOf } from "../checks/index.ts";
import { type Subject, type Surroundings, subjectOf, summaryOf, surroundingsOf } from "../checks/subject.ts";
import type { Finding } from "../model/finding.ts";
import type { Programme } from "../model/programme.ts";
import { type EpisodeFolder, type EpisodeOutline, openProgramme, readOutline } from "../read/index.ts";
import type { LaidEpisode } from "../record/laid.ts";
import { loadLexicon } from "./lexicon.ts";
import { placesBelow } from "./places.ts";

/** An episode's outline, and whose it is. */
export interface Outlined extends EpisodeOutline {
  readonly folder: EpisodeFolder;
}

/** The outlines of the episodes aired by a day, oldest first. @param since the first year whose topics are read. */
export const outlinesBelow = (
  content: string,
  folders: readonly EpisodeFolder[],
  day: Pick<SiteDay, "date">,
  since: string,
): readonly Outlined[] =>
  folders
    .filter(({ id }) => id.slice(0, 10) <= day.date)
    .map((folder) => ({ folder, ...readOutline(content, folder, folder.year >= since) }));

interface Editorial {
  /** Each doubt by itself; left out: many of one kind as one. */
  readonly each?: boolean;
  readonly programme: Programme;
  /** Of the whole archive, for the rules that look beyond one episode. */
  readonly outlines: readonly Outlined[];
  /** The local date that is checked for. */
  readonly day: string;
  /** The folder whose transcripts the places are looked up in. */
  readonly content: string;
}

/** What the editorial checks need that is the same for all episodes. Loads the frequency list. */
export async function surroundings({
  programme,
  outlines,
  day,
  content,
  each = false,
}: Editorial): Promise<Surroundings> {
  const archive = summaryOf(outlines.map(({ folder, topics }) => ({ id: folder.id, topics })));
  return surroundingsOf({ programme, day, each, lexicon: await loadLexicon(), archive, placeOf: placesBelow(content) });
}

/** A text as the checks see it, by itself: without what the rest of the archive has. */
export async function subjectAlone(laid: LaidEpisode, alone: Omit<Editorial, "outlines">): Promise<Subject> {
  return subjectOf(laid, await surroundings({ ...alone, outlines: [] }));
}

/** The editorial checks for a text that is about to be published, alone: without the rest of the archive, and the readers' findings. */
export async function editorialChecks(
  content: string,
  now: Date,
): Promise<(laid: LaidEpisode, published: boolean) => readonly Finding[]> {
  const { programme } = openProgramme(content);
  const day = programme === null ? null : siteDay(null, now, programme.timezone);
  if (programme === null || day === null) return () => [];
  const around = await surroundings({ programme, outlines: [], day: day.date, content });
  return (laid, published) => checkEpisode(subjectOf(laid, around, published), [], (rule) => groupOf(rule) !== null);
}
