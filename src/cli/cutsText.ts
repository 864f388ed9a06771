import type { CutsPlan, Job } from "../actions/cuts/plan.ts";
import { formatClockExact } from "../model/clock.ts";
import { type CutList, type Doing, leavesAll } from "../model/cutList.ts";
import { type FrameRate, labelOf, nearestFrame } from "../model/timecode.ts";
import { makingArgs, shellCommand } from "../write/ffmpegArgs.ts";

/** The label of the frame nearest to a moment, in drop-frame where the rate needs it. @param ms milliseconds. */
const timecode = (ms: number, rate: FrameRate): string =>
  labelOf(nearestFrame(ms, rate), rate, rate === 29.97 ? "drop" : "non-drop");
/** A moment for people: as timecode, or by the clock where nobody said how many frames a second has. */
const moment = (ms: number, rate: FrameRate | null): string =>
  rate === null ? formatClockExact(ms).padStart(11) : timecode(ms, rate);
const seconds = (ms: number): string => (ms / 1000).toFixed(3);

const DOES: Readonly<Record<Doing, string>> = { keep: "keep", cut: "leave out", silence: "silence" };

/** The cut list for people: what stays, what goes, what is silenced, by timecode and seconds of the source. */
export function cutsTable(id: string, { from, list, kept }: CutsPlan, rate: FrameRate | null): string {
  const source = from === "aired" ? "the programme as broadcast" : "the present web file";
  const rows = list.stretches.map(({ does, from: start, to, why }) => {
    const codes = [start, to].map((ms) => moment(ms, rate)).join("  ");
    const figures = [start, to, to - start].map((ms) => seconds(ms).padStart(10)).join("");
    return `${DOES[does].padEnd(10)} ${codes}${figures}  ${why.join("; ")}`.trimEnd();
  });
  const frames = rate === 29.97 ? "29.97 frames a second, drop-frame" : `${rate} frames a second`;
  const counted = rate === null ? "" : `; timecode at ${frames}`;
  return [
    `${id}: how the public recording is made from ${source}. Times are the source's${counted}.`,
    "",
    `${" ".repeat(11)}${"from".padEnd(13)}${"to".padEnd(11)}${["from s", "to s", "length s"].map((word) => word.padStart(10)).join("")}`,
    ...rows,
    "",
    `The public recording runs ${formatClockExact(list.result)}.`,
    ...kept.map(({ slug, because }) => `${slug} may not be given, and stays in the file: ${because}`),
  ].join("\n");
}

/** What stands for the source in a command while nobody has named it. */
const UNNAMED = "SOURCE";

/** The command that makes a recording, as words. */
export const commandFor = ({ source, out, format, kbps }: Job, list: CutList): readonly string[] => [
  "ffmpeg",
  ...makingArgs({ list, source: source ?? UNNAMED, out, format, kbps }),
];

/** The commands for a shell, one a recording; nothing where nothing is left out. */
export function commandsText({ list, jobs }: CutsPlan): string {
  if (leavesAll(list)) return "There is nothing to leave out: the recording can be given as it is.";
  if (jobs.length === 0) return "No recording of this episode is of a kind that can be made: see --make FILE.";
  const unnamed = jobs.some(({ source }) => source === null)
    ? [`Write the name of your copy of the recording for ${UNNAMED}, or give it with --source.`]
    : [];
  return [...unnamed, ...jobs.map((job) => shellCommand(commandFor(job, list)))].join("\n\n");
}

/** The same as data: times in seconds of the source. */
export function cutsData(id: string, { from, list, kept, jobs }: CutsPlan, rate: FrameRate | null): object {
  const at = (ms: number) => ({ seconds: ms / 1000, timecode: rate === null ? null : timecode(ms, rate) });
  return {
    episode: id,
    source: from,
    framerate: rate,
    dropframe: rate === 29.97,
    length: list.length / 1000,
    result: list.result / 1000,
    stretches: list.stretches.map(({ does, from: start, to, why }) => ({
      does,
      from: at(start),
      to: at(to),
      why,
    })),
    kept,
    commands: leavesAll(list) ? [] : jobs.map((job) => commandFor(job, list)),
  };
}
