import { basename, join } from "node:path";
import { leavesAll } from "../../model/cutList.ts";
import type { DeskProgress } from "../../model/desk.ts";
import type { DeskStretch, DeskWebFile } from "../../model/deskOrder.ts";
import { blocks } from "../../model/finding.ts";
import { clockMs } from "../../model/units.ts";
import { UsageError } from "../../model/usageError.ts";
import { findFfmpeg } from "../../write/ffmpeg.ts";
import { soundYaml, withSound } from "../../write/soundEdit.ts";
import { besideEpisode, leftAsTheyAre } from "../cuts/change.ts";
import type { CutsPlan } from "../cuts/plan.ts";
import {
  makeRecordings,
  type Opened as OpenedRecordings,
  openRecordings,
  planRecordings,
  type RecordingsOptions,
} from "../cuts/recordings.ts";
import { keepChange, textOf } from "./edit.ts";
import { openWords, versionOf } from "./words.ts";

export interface WebFileAsked {
  readonly content: string;
  readonly id: string;
  readonly more: readonly DeskStretch[];
  /** The name or path of ffmpeg. */
  readonly ffmpeg: string;
  readonly now: Date;
}

/** What the web file will be. Writes nothing. @throws UsageError where the episode can't be read, or is published. */
export async function planWebFile(asked: WebFileAsked): Promise<DeskWebFile> {
  const { plan, opened } = await planned(asked);
  return {
    stretches: plan.list.stretches.map(({ why, ...stretch }) => ({ ...stretch, why: why.join("; ") })),
    result: plan.list.result,
    kept: plan.kept,
    files: leavesAll(plan.list) ? [] : plan.jobs.map(({ out }) => basename(out)),
    stands: await standsIn(asked, plan, opened),
  };
}

/**
 * Makes the web file with ffmpeg, measures it, and puts it into episode.md as a change that can be undone; the recording that
 * was there stays beside it. @param version of the files that somebody saw.
 */
export async function makeWebFile(
  asked: WebFileAsked,
  version: string,
  tell: (says: string) => void,
): Promise<DeskProgress> {
  const { content, id, ffmpeg, now } = asked;
  const before = await openWords(content, id, now);
  if (versionOf(before.sources) !== version)
    return { is: "failed", says: "The episode was changed elsewhere meanwhile: look again. Nothing was made." };
  const { plan, opened, options } = await planned(asked);
  const stands = await standsIn(asked, plan, opened);
  if (stands !== null) return { is: "failed", says: stands };
  const made = await makeRecordings(options, opened, plan, ffmpeg, {
    progress: (out, share) => tell(`Making ${basename(out)}: ${Math.floor(share * 100)} %`),
    ended: () => tell("Measuring it"),
    made() {},
  });
  const fault = made?.findings.find(blocks);
  if (made === null || made.put === null)
    return { is: "failed", says: fault === undefined ? NO_FFMPEG : `${fault.says} ${fault.mend}` };
  const names = plan.jobs.map(({ out }) => basename(out)).join(" and ");
  // Opened again: the new file lies beside episode.md now.
  const after = await openWords(content, id, now);
  const isOther = `${names}: made, and not put in: the episode was changed elsewhere meanwhile. Look again.`;
  if (versionOf(after.sources) !== version) return { is: "failed", says: isOther };
  const was = textOf(after, "episode.md");
  const text = withSound(was, made.put.change);
  if (text === null) {
    const says = `${names}: made. episode.md is written in a way that can't be changed here; put this in by hand:`;
    return { is: "failed", says: `${says}\n${soundYaml(was, made.put.change)}` };
  }
  const kept = await keepChange(after, { is: "made", file: "episode.md", text }, now);
  if (kept.is === "refused") return { is: "failed", says: `${names}: made, and not put in. ${kept.says}` };
  if (kept.is === "stale") return { is: "failed", says: isOther };
  const old = made.put.old.length === 0 ? "" : ` ${made.put.old.join(" and ")} still has it: keep it off the web.`;
  return { is: "done", says: `${names}: made, measured, and put in.${old}`, to: null };
}

const NO_FFMPEG =
  "ffmpeg is not installed here, so no recording can be made. `afterair cuts` shows the command that makes it elsewhere.";

interface Planned {
  readonly plan: CutsPlan;
  readonly opened: OpenedRecordings;
  readonly options: RecordingsOptions;
}

async function planned({ content, id, more, now }: WebFileAsked): Promise<Planned> {
  const { published, episode } = await openWords(content, id, now);
  if (published) throw new UsageError("This episode is published: its recording is changed with `afterair cuts`.");
  if (more.length > 0 && episode.clock === "media")
    throw new UsageError(
      "This episode counts in the recording's own time, and a cut would move all words. Begin it with `--clock aired`.",
    );
  const options: RecordingsOptions = {
    content,
    episode: id,
    on: null,
    source: null,
    from: null,
    silence: false,
    make: true,
    write: false,
    more: more.map(({ from, to, why }) => ({ from: clockMs(from), to: clockMs(to), why })),
  };
  const opened = openRecordings(options, now);
  return { plan: planRecordings(options, opened), opened, options };
}

/** What stands in the way of making it here; null: nothing. */
async function standsIn(
  { content, ffmpeg }: WebFileAsked,
  plan: CutsPlan,
  { episode }: OpenedRecordings,
): Promise<string | null> {
  if (episode.media.length === 0) return "This episode has no recording.";
  if (leavesAll(plan.list)) return "There is nothing to leave out: the recording can be given as it is.";
  if (!besideEpisode(plan.jobs, join(content, episode.folder)) || plan.jobs.some(({ source }) => source === null))
    return "The recording is on another host. Use `afterair cuts` where it lies.";
  const left = leftAsTheyAre(plan, episode);
  if (left.length > 0) return `${left.join(" and ")} can't be made anew here: take it out of \`media\` first.`;
  return (await findFfmpeg(ffmpeg)) === null ? NO_FFMPEG : null;
}
