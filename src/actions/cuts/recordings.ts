import { existsSync } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { basename, join, relative } from "node:path";
import { dayFor } from "../../build/build.ts";
import type { Recording } from "../../model/cutList.ts";
import { blocks, type Finding } from "../../model/finding.ts";
import type { Programme } from "../../model/programme.ts";
import { UsageError } from "../../model/usageError.ts";
import { episodeOn } from "../../record/day.ts";
import { isPublished } from "../../record/entry.ts";
import type { LaidEpisode } from "../../record/laid.ts";
import { soundFindings } from "../../record/sound.ts";
import { findFfmpeg } from "../../write/ffmpeg.ts";
import { replaceText } from "../../write/scaffold.ts";
import { type SoundChange, soundYaml, withSound } from "../../write/soundEdit.ts";
import { oneEpisode } from "../oneEpisode.ts";
import { besideEpisode, changeFor, type Fine, leftAsTheyAre } from "./change.ts";
import { checkOne, type Made, type Measured, makeOne } from "./make.ts";
import { type CutsPlan, type CutsWanted, planCuts } from "./plan.ts";

export interface RecordingsOptions {
  readonly content: string;
  readonly episode: string;
  readonly on: string | null;
  readonly source: string | null;
  readonly from: Recording | null;
  readonly silence: boolean;
  /** Make it: true for names of our own choice, or a file's name. */
  readonly make: boolean | string;
  readonly write: boolean;
  /** What goes besides what may not be given. */
  readonly more?: CutsWanted["more"];
}

/** An episode whose recordings are looked at. */
export interface Opened {
  readonly programme: Programme;
  readonly episode: LaidEpisode;
  readonly published: boolean;
  readonly day: string;
}

/** The episode as it stands on a day. @param now the moment it is. @throws UsageError where it can't be read. */
export function openRecordings({ content, episode: id, on }: RecordingsOptions, now: Date): Opened {
  const { programme, episode: archived } = oneEpisode(content, id);
  const { until, date: day } = dayFor({ on, now }, { programme });
  const { episode } = episodeOn(archived, until);
  return { programme, episode, published: isPublished(archived.record), day };
}

/** The cut list of an episode's public recording, and what is to be made. @throws UsageError where none can be. */
export function planRecordings(options: RecordingsOptions, { episode, published, day }: Opened): CutsPlan {
  const { content, source, from, silence, make: wanted, write, more = [] } = options;
  if (source !== null && !existsSync(source)) {
    throw new UsageError(`There is no file ${source}: --source takes a recording on this machine.`);
  }
  const out = typeof wanted === "string" ? wanted : null;
  const answer = planCuts({ episode, published, day, content, source, from, silence, out, more, exists: existsSync });
  if (!answer.ok) throw new UsageError(answer.says);
  if (write && !besideEpisode(answer.plan.jobs, join(content, episode.folder))) {
    throw new UsageError("--write is for files beside episode.md: leave it out, and put in what is shown at the end.");
  }
  const left = leftAsTheyAre(answer.plan, episode);
  if (write && left.length > 0) {
    const says = `--write would say of ${left.join(" and ")} what is true of the new file alone`;
    throw new UsageError(`${says}: make all of them, with --make and no name, or take them out of \`media\` first.`);
  }
  return answer.plan;
}

/** Told while recordings are made. */
export interface Making {
  /** Of the recording `out`, this share is made. */
  progress(out: string, share: number): void;
  /** A recording is at its end, well or not. */
  ended(): void;
  /** A recording is made, and as it should be. */
  made(measured: Measured): void;
}

/** What making the recordings came to. */
export interface MadeRecordings {
  readonly findings: readonly Finding[];
  /** Null where something stands in the way, and nothing was put in. */
  readonly put: PutIn | null;
}

/** Makes the recordings, measures them, and puts them into episode.md where that is wanted. Null: there is no ffmpeg. */
export async function makeRecordings(
  options: RecordingsOptions,
  { episode }: Opened,
  plan: CutsPlan,
  ffmpegName: string,
  making: Making,
): Promise<MadeRecordings | null> {
  const ffmpeg = await findFfmpeg(ffmpegName);
  if (ffmpeg === null) return null;
  const fine: Fine[] = [];
  const findings: Finding[] = [];
  for (const { source, ...job } of plan.jobs) {
    if (source === null) {
      throw new UsageError("The recording is on another host: say with --source where a copy of it lies here.");
    }
    const made = await makeOne({ ...job, source }, plan, episode, ffmpeg, (share) => making.progress(job.out, share));
    making.ended();
    findings.push(...made.findings.filter(({ says }) => !findings.some((known) => known.says === says)));
    if (made.measured === null || made.findings.some(blocks)) continue;
    making.made(made.measured);
    fine.push({ job: { ...job, source }, measured: made.measured, bytes: (await stat(job.out)).size });
  }
  const placed = findings.map((own) => withPlace(own, options.content));
  return { findings: placed, put: findings.some(blocks) ? null : await putIn(options, episode, plan, fine) };
}

/** A report names files from the content folder on; recordings may lie anywhere. */
const withPlace = (own: Finding, content: string): Finding =>
  existsSync(join(content, own.at.file)) ? own : { ...own, at: { ...own.at, file: relative(content, own.at.file) } };

/** What became of episode.md, and what a person must still do. */
export interface PutIn {
  /** episode.md. */
  readonly file: string;
  /** What it must say now. */
  readonly change: SoundChange;
  /** What a person must put there; null: it was put in. */
  readonly yaml: string | null;
  /** Recordings that still hold what may not be given, and are not made anew. */
  readonly left: readonly string[];
  /** Whether a new file must be put on another host. */
  readonly isRemote: boolean;
  /** Files that still hold what may not be given, and that no page names then. */
  readonly old: readonly string[];
}

async function putIn(
  { content, write }: RecordingsOptions,
  episode: LaidEpisode,
  plan: CutsPlan,
  fine: readonly Fine[],
): Promise<PutIn> {
  const change = changeFor(plan, episode, fine);
  const file = join(content, episode.folder, "episode.md");
  const text = await readFile(file, "utf8");
  const edited = write ? withSound(text, change) : null;
  if (edited !== null) await replaceText(file, edited);
  const old = plan.jobs.flatMap(({ media }) => (media === null ? [] : (episode.media[media]?.src ?? [])));
  return {
    file,
    change,
    yaml: edited === null ? soundYaml(text, change) : null,
    left: leftAsTheyAre(plan, episode),
    isRemote: episode.media.some(({ src }) => isRemote(src)),
    old: plan.unwanted.length === 0 ? [] : old.filter((src) => !isRemote(src)),
  };
}

const isRemote = (src: string): boolean => src.startsWith("https:");

/** What looking at the recordings that are there came to. */
export interface CheckedRecordings {
  readonly findings: readonly Finding[];
  /** Those that were not looked at, because they are on another host, or because there is no ffmpeg. */
  readonly unchecked: readonly { readonly src: string; readonly isRemote: boolean }[];
  /** What was measured of those that are as they should be. */
  readonly measured: readonly Measured[];
  readonly hasFfmpeg: boolean;
}

/** Holds the files beside episode.md against what it says of them. */
export async function checkRecordings(
  { content, source }: RecordingsOptions,
  { episode, day }: Opened,
  ffmpegName: string,
): Promise<CheckedRecordings> {
  const ffmpeg = await findFfmpeg(ffmpegName);
  const files = episode.media.map(({ src }) => ({ src, isRemote: isRemote(src) }));
  const unchecked = files.filter((own) => own.isRemote || ffmpeg === null);
  const results: Made[] = [];
  for (const { src } of files.filter((own) => !own.isRemote))
    if (ffmpeg !== null) results.push(await checkOne(join(content, episode.folder, src), source, episode, ffmpeg));
  const fine = results.filter((own) => !own.findings.some(blocks));
  const findings = [...soundFindings(episode, day), ...results.flatMap((own) => own.findings)];
  return {
    findings: findings.map((own) => withPlace(own, content)),
    unchecked,
    measured: fine.flatMap(({ measured }) =>
      measured === null ? [] : [{ ...measured, file: basename(measured.file) }],
    ),
    hasFfmpeg: ffmpeg !== null,
  };
}
