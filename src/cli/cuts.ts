import { dirname } from "node:path";
import type { Measured } from "../actions/cuts/make.ts";
import type { CutsPlan } from "../actions/cuts/plan.ts";
import {
  checkRecordings,
  makeRecordings,
  type Opened,
  openRecordings,
  type PutIn,
  planRecordings,
  type RecordingsOptions,
} from "../actions/cuts/recordings.ts";
import { formatClockExact } from "../model/clock.ts";
import { leavesAll } from "../model/cutList.ts";
import { UsageError } from "../model/usageError.ts";
import { commandsText, cutsData, cutsTable } from "./cutsText.ts";
import type { Io } from "./io.ts";
import { stands } from "./recordIo.ts";

export interface CutsOptions extends RecordingsOptions {
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

/**
 * `afterair cuts`: the cut list of an episode's public recording, and the command that makes it; makes it and measures
 * it where that is asked for and ffmpeg is installed.
 * @returns the exit code.
 */
export async function cuts(options: CutsOptions, io: CutsIo): Promise<0 | 1 | 2> {
  const { episode: id, format, make: wanted, write, check } = options;
  const opened = openRecordings(options, io.now);
  if (opened.episode.withdrawn !== null) {
    io.out(`${id} is withdrawn whole: it has no public recording.`);
    return 0;
  }
  if (write && wanted === false) throw new UsageError("--write goes with --make: it puts in what was made.");
  if (check && wanted !== false) throw new UsageError("--check looks at the files that are there: leave --make out.");
  if (opened.episode.media.length === 0 && options.source === null)
    throw new UsageError(`${id} has no recording: its episode.md names none. Name one on this machine with --source.`);
  const plan = planRecordings(options, opened);
  const { frameRate } = opened.programme;
  if (check) return checkFiles(options, opened, io);
  if (format === "json") io.out(JSON.stringify(cutsData(id, plan, frameRate), null, 1));
  else io.out(`${cutsTable(id, plan, frameRate)}\n\n${commandsText(plan)}`);
  return wanted === false || leavesAll(plan.list) ? 0 : make(options, opened, plan, io);
}

const withoutFfmpeg = (name: string): string =>
  `ffmpeg is not installed here, or AFTERAIR_FFMPEG names another program (${name}): nothing was made or measured.`;

async function make(options: CutsOptions, opened: Opened, plan: CutsPlan, io: CutsIo): Promise<0 | 1 | 2> {
  const isText = options.format === "text";
  const made = await makeRecordings(options, opened, plan, io.ffmpeg, {
    progress: (out, share) => io.status?.(`Making ${out}: ${Math.floor(share * 100)} %`),
    ended: () => io.status?.(""),
    made: (measured) => isText && io.out(`\n${measuredText(measured)}`),
  });
  if (made === null) {
    io.err(withoutFfmpeg(io.ffmpeg));
    return 2;
  }
  stands(made.findings, options.content, io);
  if (made.put === null) return 1;
  if (isText) tellPut(made.put, options, io);
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

/** Tells what was put into episode.md, or what a person must put there, and what is left to do. */
function tellPut({ file, yaml, left, isRemote, old }: PutIn, { write }: CutsOptions, io: CutsIo): void {
  if (yaml === null) io.out(`\nPut into ${file}.`);
  else {
    const why = write ? `${file} is written in a way that can't be changed for sure. ` : "";
    io.out(`\n${why}Put this into ${file}, in the place of what is there:\n\n${yaml}`);
  }
  if (left.length > 0) {
    io.out(
      `\nBefore you do: these still hold what may not be given: ${left.join(", ")}. Make them too, or take them out.`,
    );
  }
  if (isRemote) io.out("\nBefore you do: put the new file on its host. Then take the old one off.");
  if (old.length > 0) {
    io.out(
      `\nThese still hold what may not be given: ${old.join(", ")}. No page names them then, but they are still in ${dirname(file)}.`,
    );
  }
}

/** `--check`: tells what the files beside episode.md are. */
async function checkFiles(options: CutsOptions, opened: Opened, io: CutsIo): Promise<0 | 1 | 2> {
  const { findings, unchecked, measured, hasFfmpeg } = await checkRecordings(options, opened, io.ffmpeg);
  if (!hasFfmpeg) io.err(withoutFfmpeg(io.ffmpeg));
  for (const { src, isRemote } of unchecked)
    io.out(isRemote ? `${src} is on another host: not checked.` : `${src}: not checked.`);
  for (const own of measured) io.out(measuredText(own));
  const blocked = stands(findings, options.content, io);
  return !hasFfmpeg ? 2 : blocked ? 1 : 0;
}
