import { existsSync } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { basename, dirname, join, relative } from "node:path";
import { besideEpisode, changeFor, type Fine, leftAsTheyAre } from "../actions/cuts/change.ts";
import { checkOne, type Made, type Measured, makeOne } from "../actions/cuts/make.ts";
import { type CutsPlan, type CutsWanted, planCuts } from "../actions/cuts/plan.ts";
import { oneEpisode } from "../actions/oneEpisode.ts";
import { dayFor } from "../build/build.ts";
import { addAll } from "../model/addAll.ts";
import { formatClockExact } from "../model/clock.ts";
import { leavesAll, type Recording } from "../model/cutList.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { UsageError } from "../model/usageError.ts";
import { episodeOn } from "../record/day.ts";
import { isPublished } from "../record/entry.ts";
import type { LaidEpisode } from "../record/laid.ts";
import { soundFindings } from "../record/sound.ts";
import { type Ffmpeg, findFfmpeg } from "../write/ffmpeg.ts";
import { replaceText } from "../write/scaffold.ts";
import { type SoundChange, soundYaml, withSound } from "../write/soundEdit.ts";
import { commandsText, cutsData, cutsTable } from "./cutsText.ts";
import type { Io } from "./io.ts";
import { asText, sorted } from "./report.ts";

export interface CutsOptions {
  readonly content: string;
  readonly episode: string;
  readonly on: string | null;
  readonly source: string | null;
  readonly from: Recording | null;
  readonly silence: boolean;
  /** Make it: true for names of our own choice, or a file's name. */
  readonly make: boolean | string;
  readonly write: boolean;
  readonly check: boolean;
  readonly format: "text" | "json";
}

/** What `cuts` may do to the world besides files. */
export interface CutsIo extends Io {
  /** A line that the next one takes the place of; null where there is no terminal. */
  readonly status: ((text: string) => void) | null;
  /** The name or path of ffmpeg. */
  readonly ffmpeg: string;
}

/** An episode, and what is wanted for it. */
interface Work {
  readonly options: CutsOptions;
  readonly io: CutsIo;
  readonly episode: LaidEpisode;
  readonly plan: CutsPlan;
  readonly day: string;
}

/**
 * `afterair cuts`: the cut list of an episode's public recording, and the command that makes it; makes it and measures
 * it where that is asked for and ffmpeg is installed.
 * @returns the exit code.
 */
export async function cuts(options: CutsOptions, io: CutsIo): Promise<0 | 1 | 2> {
  const { programme, episode: archived } = oneEpisode(options.content, options.episode);
  const { until, date: day } = dayFor({ on: options.on, now: io.now }, { programme });
  const { episode } = episodeOn(archived, until);
  if (episode.withdrawn !== null) {
    io.out(`${options.episode} is withdrawn whole: it has no public recording.`);
    return 0;
  }
  const plan = planned(options, { episode, published: isPublished(archived.record), day });
  const work: Work = { options, io, episode, plan, day };
  if (options.check) return checkFiles(work);
  if (options.format === "json") io.out(JSON.stringify(cutsData(options.episode, plan, programme.frameRate), null, 1));
  else io.out(`${cutsTable(options.episode, plan, programme.frameRate)}\n\n${commandsText(plan)}`);
  if (options.make === false || leavesAll(plan.list)) return 0;
  return make(work);
}

function planned(
  { content, source, from, silence, make: wanted, write, check }: CutsOptions,
  about: Pick<CutsWanted, "episode" | "published" | "day">,
): CutsPlan {
  if (write && wanted === false) throw new UsageError("--write goes with --make: it puts in what was made.");
  if (check && wanted !== false) throw new UsageError("--check looks at the files that are there: leave --make out.");
  if (source !== null && !existsSync(source)) {
    throw new UsageError(`There is no file ${source}: --source takes a recording on this machine.`);
  }
  const out = typeof wanted === "string" ? wanted : null;
  const answer = planCuts({ ...about, content, source, from, silence, out, exists: existsSync });
  if (!answer.ok) throw new UsageError(answer.says);
  if (write && !besideEpisode(answer.plan.jobs, join(content, about.episode.folder))) {
    throw new UsageError("--write is for files beside episode.md: leave it out, and put in what is shown at the end.");
  }
  const left = leftAsTheyAre(answer.plan, about.episode);
  if (write && left.length > 0) {
    const says = `--write would say of ${left.join(" and ")} what is true of the new file alone`;
    throw new UsageError(`${says}: make all of them, with --make and no name, or take them out of \`media\` first.`);
  }
  return answer.plan;
}

/** Finds ffmpeg; where it is missing, says so. */
async function ffmpegFor({ io }: Work): Promise<Ffmpeg | null> {
  const found = await findFfmpeg(io.ffmpeg);
  if (found === null) {
    io.err(
      `ffmpeg is not installed here, or AFTERAIR_FFMPEG names another program (${io.ffmpeg}): nothing was made or measured.`,
    );
  }
  return found;
}

async function make(work: Work): Promise<0 | 1 | 2> {
  const { options, io, episode, plan } = work;
  const ffmpeg = await ffmpegFor(work);
  if (ffmpeg === null) return 2;
  const fine: Fine[] = [];
  const findings: Finding[] = [];
  for (const { source, ...job } of plan.jobs) {
    if (source === null) {
      throw new UsageError("The recording is on another host: say with --source where a copy of it lies here.");
    }
    const progress = (share: number) => io.status?.(`Making ${job.out}: ${Math.floor(share * 100)} %`);
    const made = await makeOne({ ...job, source }, plan, episode, ffmpeg, progress);
    io.status?.("");
    addAll(
      findings,
      made.findings.filter(({ says }) => !findings.some((known) => known.says === says)),
    );
    if (made.measured === null || made.findings.some(blocks)) continue;
    const bytes = (await stat(job.out)).size;
    if (options.format === "text") io.out(`\n${measuredText(made.measured)}`);
    fine.push({ job: { ...job, source }, measured: made.measured, bytes });
  }
  if (tell(findings, work)) return 1;
  await putIn(changeFor(plan, episode, fine), work);
  return 0;
}

/** What was measured, in a sentence. */
function measuredText({ file, ms, found, untold, worst, loudest }: Measured): string {
  const seams =
    found === 0 ? "" : `, the sound beside ${found} seams within ${Math.ceil(worst)} ms of where it should be`;
  const quiet = untold === 0 ? "" : `, silence beside ${untold}`;
  const level =
    loudest === null
      ? ""
      : `, ${loudest < -100 ? "digital silence" : `${Math.round(loudest)} dB`} where it is silenced`;
  return `${file} runs ${formatClockExact(Math.round(ms))}${seams}${quiet}${level}.`;
}

/** Tells findings of files; true where any blocks. */
function tell(findings: readonly Finding[], { options, io }: Work): boolean {
  // A report names files from the content folder on; recordings may lie anywhere.
  const placed = findings.map((own) =>
    existsSync(join(options.content, own.at.file))
      ? own
      : { ...own, at: { ...own.at, file: relative(options.content, own.at.file) } },
  );
  if (findings.length > 0) io.err(asText(sorted(placed), options.content));
  return findings.some(blocks);
}

/** Puts the change into episode.md, or shows what a person must put there. */
async function putIn(change: SoundChange, { options, io, episode, plan }: Work): Promise<void> {
  const file = join(options.content, episode.folder, "episode.md");
  const text = await readFile(file, "utf8");
  const edited = options.write ? withSound(text, change) : null;
  if (edited !== null) await replaceText(file, edited);
  if (options.format === "json") return;
  if (edited !== null) io.out(`\nPut into ${file}.`);
  else {
    const why = options.write ? `${file} is written in a way that can't be changed for sure. ` : "";
    io.out(`\n${why}Put this into ${file}, in the place of what is there:\n\n${soundYaml(text, change)}`);
  }
  const left = leftAsTheyAre(plan, episode);
  if (left.length > 0) {
    io.out(
      `\nBefore you do: these still hold what may not be given: ${left.join(", ")}. Make them too, or take them out.`,
    );
  }
  const remote = episode.media.filter(({ src }) => src.startsWith("https:"));
  if (remote.length > 0) io.out("\nBefore you do: put the new file on its host. Then take the old one off.");
  const old = plan.jobs.flatMap(({ media }) => (media === null ? [] : (episode.media[media]?.src ?? [])));
  const beside = old.filter((src) => !src.startsWith("https:"));
  if (plan.unwanted.length > 0 && beside.length > 0) {
    io.out(
      `\nThese still hold what may not be given: ${beside.join(", ")}. No page names them then, but they are still in ${dirname(file)}.`,
    );
  }
}

/** `--check`: holds the files beside episode.md against what it says of them. */
async function checkFiles(work: Work): Promise<0 | 1 | 2> {
  const { options, io, episode, day } = work;
  const folder = join(options.content, episode.folder);
  const unsettled = soundFindings(episode, day);
  const ffmpeg = await ffmpegFor(work);
  const results: Made[] = [];
  for (const { src } of episode.media) {
    if (src.startsWith("https:")) io.out(`${src} is on another host: not checked.`);
    else if (ffmpeg === null) io.out(`${src}: not checked.`);
    else results.push(await checkOne(join(folder, src), options.source, episode, ffmpeg));
  }
  for (const { measured, findings } of results)
    if (measured !== null && !findings.some(blocks))
      io.out(measuredText({ ...measured, file: basename(measured.file) }));
  const blocked = tell([...unsettled, ...results.flatMap(({ findings }) => findings)], work);
  return ffmpeg === null ? 2 : blocked ? 1 : 0;
}
