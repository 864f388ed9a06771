import { timesInCuts } from "../derive/timesInCuts.ts";
import type { Finding } from "../model/finding.ts";
import { claimedTwice } from "../model/output.ts";
import type { Archive, ArchivedEpisode } from "../model/programme.ts";
import { readArchive } from "../read/archive.ts";
import { entriesOf, readRecord } from "../record/entry.ts";
import { notEntered } from "../record/judgeCorrections.ts";
import { type BuildOptions, dayFor, showArchive } from "./build.ts";
import { withEditorial } from "./editorial.ts";
import { UsageError } from "./io.ts";
import { claimsOf } from "./plan.ts";

export interface CheckOptions extends Pick<BuildOptions, "content" | "on" | "now"> {
  /** Ids of episodes; none: all. Faults of the programme itself are always told. */
  readonly episodes: readonly string[];
}

/** All that stands in the way of publishing, and all that a person should look at. */
export async function checkContent(options: CheckOptions): Promise<readonly Finding[]> {
  const { archive, findings, episodesOk, episodesFaulty } = readArchive(options.content);
  const unknown = options.episodes.filter((id) => ![...episodesOk, ...episodesFaulty].includes(id));
  if (unknown.length > 0) throw new UsageError(`There is no episode ${unknown.join(", ")} below ${options.content}.`);
  const wanted = new Set(options.episodes);
  const all = archive === null ? findings : await allFindings(archive, findings, options, wanted);
  return wanted.size === 0 ? all : all.filter(({ at }) => concerns(at.file, wanted));
}

async function allFindings(
  archive: Archive,
  findings: readonly Finding[],
  options: CheckOptions,
  wanted: ReadonlySet<string>,
): Promise<readonly Finding[]> {
  const day = dayFor(options, archive);
  const shown = showArchive(archive, day, true);
  const read = [
    ...findings,
    ...archive.episodes.flatMap(awaitingEntry),
    ...archive.episodes.flatMap(timesInCuts),
    ...shown.flatMap(({ episode }) => episode.findings),
    ...claimedTwice(claimsOf(archive, shown)),
  ];
  return withEditorial(read, { archive, shown, day: day.date, content: options.content }, wanted);
}

/** Corrections written by hand that `publish` has still to enter. */
function awaitingEntry({ id, record, corrections }: ArchivedEpisode): readonly Finding[] {
  const entries = entriesOf(readRecord(record ?? ""));
  return notEntered(
    id,
    entries,
    corrections.map((correction) => ({ id: correction.id, file: correction.place.file })),
  );
}

/** Files outside `episodes/` concern every episode. */
function concerns(file: string, episodes: ReadonlySet<string>): boolean {
  const id = /^episodes\/[^/]+\/([^/]+)\//.exec(file)?.[1];
  return id === undefined || episodes.has(id);
}
