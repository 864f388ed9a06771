import { checkEpisode, unknownChecks } from "../checks/index.ts";
import { type Subject, type Surroundings, subjectOf, summaryOf, surroundingsOf } from "../checks/subject.ts";
import type { Finding } from "../model/finding.ts";
import type { Archive } from "../model/programme.ts";
import { parseProgramme, readProgrammeSources } from "../read/index.ts";
import type { LaidEpisode } from "../record/laid.ts";
import { type ShownText, showText } from "../record/shown.ts";
import { siteDay } from "./day.ts";
import { loadLexicon } from "./lexicon.ts";
import { placesBelow } from "./places.ts";

interface Editorial {
  readonly archive: Archive;
  readonly shown: readonly ShownText[];
  /** The local date that is checked for. */
  readonly day: string;
  /** The folder whose transcripts the places are looked up in. */
  readonly content: string;
}

/** What the editorial checks need that is the same for all episodes. Loads the frequency list. */
export async function surroundings({ archive, shown, day, content }: Editorial): Promise<Surroundings> {
  return surroundingsOf({
    programme: archive.programme,
    day,
    lexicon: await loadLexicon(),
    archive: summaryOf(shown.map(({ episode }) => episode)),
    placeOf: placesBelow(content),
  });
}

/**
 * The readers' findings without those that were accepted, and those of the editorial checks. `wanted`: ids of episodes
 * that are checked; none: all.
 */
export async function withEditorial(
  read: readonly Finding[],
  editorial: Editorial,
  wanted: ReadonlySet<string>,
): Promise<readonly Finding[]> {
  const around = await surroundings(editorial);
  const checked = editorial.shown.filter(({ episode }) => wanted.size === 0 || wanted.has(episode.id));
  const isIn = ({ at }: Finding, { episode }: ShownText) => at.file.startsWith(`${episode.folder}/`);
  return [
    ...read.filter((finding) => !checked.some((shown) => isIn(finding, shown))),
    ...unknownChecks(editorial.archive.programme),
    ...checked.flatMap((shown) =>
      checkEpisode(
        subjectOf(shown, around),
        read.filter((finding) => isIn(finding, shown)),
      ),
    ),
  ];
}

/** One episode as the checks see it; null when it is not there, or not aired on the day. */
export async function subjectNamed(id: string, editorial: Editorial): Promise<Subject | null> {
  const shown = editorial.shown.find(({ episode }) => episode.id === id);
  return shown === undefined ? null : subjectOf(shown, await surroundings(editorial));
}

/** The editorial checks for a text that is about to be published, alone: without the rest of the archive. */
export async function editorialChecks(content: string, now: Date): Promise<(laid: LaidEpisode) => readonly Finding[]> {
  const { programme } = parseProgramme(readProgrammeSources(content).sources);
  const day = programme === null ? null : siteDay(null, now, programme.timezone);
  if (programme === null || day === null) return () => [];
  const around = await surroundings({ archive: { programme, episodes: [] }, shown: [], day: day.date, content });
  return (laid) => checkEpisode(subjectOf(showText(laid, day.date), around), []);
}
