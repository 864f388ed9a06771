import { type BuildOptions, dayFor } from "../build/build.ts";
import type { SiteDay } from "../build/day.ts";
import { planEpisode } from "../build/episodePlan.ts";
import { sharedClaims } from "../build/plan.ts";
import { SILENT } from "../build/progress.ts";
import { dayTextOf } from "../build/readEpisode.ts";
import { checkEpisode, unknownChecks } from "../checks/index.ts";
import { type Surroundings, subjectOf } from "../checks/subject.ts";
import { timesInCuts } from "../derive/timesInCuts.ts";
import { correctionPath, fileOf } from "../model/address.ts";
import type { Finding } from "../model/finding.ts";
import { type Claim, claimedTwice } from "../model/output.ts";
import type { ArchivedEpisode } from "../model/programme.ts";
import { NO_ASSETS, type PageContext, pageContextOf } from "../pages/site.ts";
import { type EpisodeFolder, openArchive, type ReadEpisode } from "../read/index.ts";
import { entriesOf, readRecord } from "../record/entry.ts";
import { notEntered } from "../record/judgeCorrections.ts";
import { showEpisode } from "../record/shown.ts";
import { soundFindings } from "../record/sound.ts";
import { type CheckedArchive, elsewhereOf, withWithdrawn } from "./checkWithdrawn.ts";
import { type Outlined, outlinesBelow, surroundings } from "./editorial.ts";
import { isMeasured, lengthFindings, MEDIA_SHORT } from "./mediaLengths.ts";

export interface CheckOptions extends Pick<BuildOptions, "content" | "on" | "now"> {
  /** Ids of episodes; none: all. Faults of the programme itself are always told. */
  readonly episodes: readonly string[];
  /** Tell each doubt by itself, also where many of one kind are told as one. */
  readonly each?: boolean;
}

/**
 * All that stands in the way of publishing, and all that a person should look at. Of the whole archive only outlines are
 * in memory at once; those of the episodes asked for are read one after the other.
 */
export async function checkContent(options: CheckOptions, progress = SILENT): Promise<readonly Finding[]> {
  const archive = openArchive(options.content);
  const wanted = archive.named(options.episodes);
  const isWanted = (id: string) => options.episodes.length === 0 || options.episodes.includes(id);
  const { programme } = archive;
  if (programme === null) return [...archive.findings, ...wanted.flatMap((folder) => archive.read(folder).findings)];
  const day = dayFor(options, { programme });
  const outlines = outlinesBelow(options.content, archive.folders, day, topicsSince(options, wanted));
  const checked: CheckedArchive = { content: options.content, archive, outlines, wanted, day, progress };
  const around = withWithdrawn(
    await surroundings({ programme, outlines, day: day.date, content: options.content, each: options.each ?? false }),
    checked,
  );
  const context = pageContextOf(programme, NO_ASSETS);
  const told: ReturnType<typeof checkOne>[] = [];
  for (const folder of wanted) {
    const read = archive.read(folder);
    const isAsked = read.episode !== null && isMeasured(read.episode, options);
    const lengths = isAsked ? await lengthFindings(read.episode, options.content) : null;
    told.push(checkOne(read, lengths, { around, day, context }));
  }
  const beside = outlines.filter(({ folder }) => !isWanted(folder.id)).flatMap(correctionsOf);
  const years = [...new Set(outlines.map(({ folder }) => folder.id.slice(0, 4)))];
  // Of two that claim one address, the one asked for is told.
  const claims = sharedClaims(context, years, [...beside, ...told.flatMap((one) => one.claims)]);
  const findings = [
    ...archive.findings,
    ...unknownChecks(programme),
    ...told.flatMap((one) => one.findings),
    ...elsewhereOf(around, checked),
    ...claimedTwice(claims),
  ];
  return options.episodes.length === 0 ? findings : findings.filter(({ at }) => concerns(at.file, isWanted));
}

/** To read the topics of thirty years takes long: who asks for an episode is told of those of three. */
function topicsSince({ episodes }: CheckOptions, wanted: readonly EpisodeFolder[]): string {
  if (episodes.length === 0) return "";
  const [first = ""] = wanted.map(({ year }) => year).sort();
  return String(Number(first) - 2);
}

interface CheckContext {
  readonly around: Surroundings;
  readonly day: SiteDay;
  readonly context: PageContext;
}

/** What is wrong with an episode by itself, and the addresses that others could claim too. `lengths`: null, not measured. */
function checkOne(
  { episode, findings }: ReadEpisode,
  lengths: readonly Finding[] | null,
  { around, day, context }: CheckContext,
): { readonly findings: readonly Finding[]; readonly claims: readonly Claim[] } {
  if (episode === null) return { findings, claims: [] };
  const own = [...findings, ...(lengths ?? []), ...awaitingEntry(episode), ...timesInCuts(episode)];
  const then = dayTextOf(episode, day);
  if (then === null) return { findings: own, claims: [] };
  const { claims, shared } = planEpisode(showEpisode(then, day.date), { earlier: null, later: null }, context);
  const sound = soundFindings(then.episode, day.date);
  const read = [...own, ...then.episode.findings, ...sound, ...claimedTwice(claims)];
  const isOwn = ({ at }: Finding) => at.file.startsWith(`${episode.folder}/`);
  return {
    findings: [
      ...read.filter((finding) => !isOwn(finding)),
      ...checkEpisode(
        subjectOf(then.episode, around, !then.draft),
        read.filter(isOwn),
        (rule) => lengths !== null || rule !== MEDIA_SHORT,
      ),
    ],
    claims: shared,
  };
}

/** Corrections written by hand that `publish` has still to enter. */
function awaitingEntry({ id, record, corrections }: ArchivedEpisode): readonly Finding[] {
  const entries = entriesOf(readRecord(record ?? ""));
  return notEntered(
    id,
    entries,
    corrections.map(({ id: own, kind, place }) => ({ id: own, kind, file: place.file })),
  );
}

/** What the corrections of an episode claim that is not read. */
const correctionsOf = ({ corrections }: Outlined): readonly Claim[] =>
  corrections.map(({ id, at }) => ({ path: fileOf(correctionPath(id)), from: at }));

/** Files outside `episodes/` concern every episode. */
function concerns(file: string, isWanted: (id: string) => boolean): boolean {
  const id = /^episodes\/[^/]+\/([^/]+)\//.exec(file)?.[1];
  return id === undefined || isWanted(id);
}
