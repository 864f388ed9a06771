import { cutList, type Unwanted } from "../../derive/cutList.ts";
import {
  type Compared,
  type Comparison,
  compare,
  comparisonsOf,
  innerRange,
  loudestPiece,
  RATE,
  type Range,
  SILENCE_DB,
  silencesOf,
  TOLERANCE_MS,
} from "../../derive/soundCheck.ts";
import { formatClockExact } from "../../model/clock.ts";
import type { CutList } from "../../model/cutList.ts";
import type { Finding, Place } from "../../model/finding.ts";
import { type MediaSpan, mediaSpan } from "../../model/timeMap.ts";
import type { LaidEpisode } from "../../record/laid.ts";
import type { Ffmpeg } from "../../write/ffmpeg.ts";
import { type CutsPlan, type Job, slackOf } from "./plan.ts";

/** What was measured of a recording. */
export interface Measured {
  readonly file: string;
  /** Milliseconds. */
  readonly ms: number;
  /** Seams whose place was found, and those beside which the source is silent. */
  readonly found: number;
  readonly untold: number;
  /** How far the worst of them lies from where it should be, in milliseconds. */
  readonly worst: number;
  /** RMS of the loudest tenth of a second that must be silent, in decibels; null: nothing must be. */
  readonly loudest: number | null;
}

export interface Made {
  readonly findings: readonly Finding[];
  /** Null where nothing was made. */
  readonly measured: Measured | null;
}

/** Makes one recording from a file of this machine, and measures it. `progress`: what share of it is made. */
export async function makeOne(
  { source, out, format, kbps }: Job & { readonly source: string },
  plan: CutsPlan,
  episode: LaidEpisode,
  ffmpeg: Ffmpeg,
  progress: (share: number) => void,
): Promise<Made> {
  const heard = await ffmpeg.listen(source, RATE, []);
  if (!heard.ok)
    return failed(source, "source-unreadable", `ffmpeg can't read ${source}: ${heard.says}.`, "Name another file.");
  const wrong = wrongLength(heard.value.ms, source, plan, episode);
  if (wrong !== null) return { findings: [wrong], measured: null };
  const list = plan.listFor(Math.round(heard.value.ms));
  const made = await ffmpeg.make({ list, source, out, format, kbps }, (ms) => progress(Math.min(1, ms / list.result)));
  if (!made.ok)
    return failed(out, "recording-not-made", `${out} could not be made: ${made.says}.`, "Nothing was written.");
  const { findings, measured } = await measure(out, { list, source }, ffmpeg);
  if (measured === null || plan.unwanted.some(({ does }) => does === "cut")) return { findings, measured };
  const due = { due: episode.duration, slack: slackOf(episode) };
  const mend = "Check `duration` and `cuts` in episode.md: the times on the pages are by them.";
  return {
    findings: [...findings, ...lengthFindings({ file: out, line: 1, column: 1 }, measured.ms, due, mend)],
    measured,
  };
}

const failed = (file: string, rule: string, says: string, mend: string): Made => ({
  findings: [finding(rule, { file, line: 1, column: 1 }, says, mend)],
  measured: null,
});

/** Times of a recording are its own, and no moments of the episode's clock. */
function finding(rule: string, at: Place, says: string, mend: string): Finding {
  return { rule, level: "blocks", at, seconds: null, says, mend };
}

/** A source that can't be what it is taken for: all times would be another recording's. */
function wrongLength(ms: number, file: string, { from, list }: CutsPlan, episode: LaidEpisode): Finding | null {
  const [least, most] = [list.length - TOLERANCE_MS, list.length + slackOf(episode) + TOLERANCE_MS];
  if (ms >= least && (from === "aired" || ms <= most)) return null;
  const what = from === "aired" ? "the broadcast" : "the web file";
  const other = from === "aired" ? "web" : "aired";
  return finding(
    "source-length",
    { file, line: 1, column: 1 },
    `${file} runs ${clock(ms)}, and ${what} ${clock(list.length)} by episode.md.`,
    `Check that it is the right file, or say \`--from ${other}\`.`,
  );
}

/** Holds a recording against its source and cut list: how long it runs, where its seams are, what is silent. */
export async function measure(
  file: string,
  { list, source }: { readonly list: CutList; readonly source: string },
  ffmpeg: Ffmpeg,
): Promise<Made> {
  const comparisons = comparisonsOf(list);
  const silences = silencesOf(list);
  const [was, is] = [
    await ffmpeg.listen(
      source,
      RATE,
      comparisons.map((one) => one.source),
    ),
    await ffmpeg.listen(file, RATE, [...comparisons.map((one) => one.made), ...silences]),
  ];
  if (!was.ok || !is.ok) {
    const says = `${file} could not be measured: ${!was.ok ? was.says : is.ok ? "" : is.says}.`;
    return failed(file, "recording-unreadable", says, "Don't give this file to anybody before it is measured.");
  }
  const windows = is.value.windows;
  const seams = comparisons.map((one, n) => ({
    one,
    found: compare(one, was.value.windows[n] ?? NONE, windows[n] ?? NONE),
  }));
  const loudness = silences.map((range, n) => ({
    range,
    level: loudestPiece(windows[comparisons.length + n] ?? NONE),
  }));
  const at = { file, line: 1, column: 1 };
  const shifts = seams.flatMap(({ found }) => (found.is === "found" ? [Math.abs(found.shift)] : []));
  return {
    findings: [
      ...lengthFindings(
        at,
        is.value.ms,
        { due: list.result, slack: 0 },
        "Don't give this file to anybody: make it again.",
      ),
      ...seams.flatMap(({ one, found }) => seamFindings(at, one, found)),
      ...loudness.flatMap(({ range, level }) => silenceFindings(at, range, level)),
    ],
    measured: {
      file,
      ms: is.value.ms,
      found: shifts.length,
      untold: seams.filter(({ found }) => found.is === "silent").length,
      worst: Math.max(0, ...shifts),
      loudest: loudness.length === 0 ? null : Math.max(...loudness.map(({ level }) => level)),
    },
  };
}

const NONE = new Float32Array();
const clock = (ms: number): string => formatClockExact(Math.round(ms));

interface Due {
  readonly due: number;
  readonly slack: number;
}

function lengthFindings(at: Place, ms: number, { due, slack }: Due, mend: string): readonly Finding[] {
  if (ms >= due - TOLERANCE_MS && ms <= due + slack + TOLERANCE_MS) return [];
  return [finding("recording-length", at, `${at.file} runs ${clock(ms)}, and should run ${clock(due)}.`, mend)];
}

function seamFindings(at: Place, { seam, side }: Comparison, found: Compared): readonly Finding[] {
  if (found.is === "silent" || (found.is === "found" && Math.abs(found.shift) <= TOLERANCE_MS)) return [];
  const where = `The sound ${side} ${clock(seam)} of ${at.file}`;
  const says =
    found.is === "found"
      ? `${where} comes ${Math.abs(Math.round(found.shift))} ms ${found.shift > 0 ? "late" : "early"}.`
      : `${where} is not the source's there.`;
  return [finding("recording-seam", at, says, "Don't give this file to anybody: listen there, and make it again.")];
}

function silenceFindings(at: Place, { from, to }: Range, level: number): readonly Finding[] {
  if (level <= SILENCE_DB) return [];
  const says = `${at.file} is not silent from ${clock(from)} to ${clock(to)}: ${Math.round(level)} dB at its loudest.`;
  return [finding("sound-not-silent", at, says, "Don't give this file to anybody: listen there, and make it again.")];
}

/** The stretches that episode.md says are silent, whatever the day. */
const saidSilent = (episode: LaidEpisode): readonly (Unwanted & { readonly span: MediaSpan })[] =>
  episode.segments.flatMap(({ in: from, out: to, slug, rights }) => {
    const span = mediaSpan(from, to, episode);
    return rights?.sound?.is !== "silenced" || span === null ? [] : [{ from, to, why: slug, does: "silence", span }];
  });

/**
 * Holds a web file against what episode.md says of it: how long it runs, and where it is silent; and against the
 * broadcast, where that is at hand, where its seams are.
 */
export async function checkOne(
  file: string,
  aired: string | null,
  episode: LaidEpisode,
  ffmpeg: Ffmpeg,
): Promise<Made> {
  const silent = saidSilent(episode);
  const heard = await ffmpeg.listen(
    file,
    RATE,
    silent.map(({ span }) => innerRange(span)),
  );
  if (!heard.ok)
    return failed(file, "recording-unreadable", `ffmpeg can't read ${file}: ${heard.says}.`, "Copy it again.");
  const { ms, windows } = heard.value;
  const at = { file, line: 1, column: 1 };
  const levels = silent.map(({ span }, n) => ({ span, level: loudestPiece(windows[n] ?? NONE) }));
  const due = { due: episode.duration, slack: slackOf(episode) };
  const length = lengthFindings(
    at,
    ms,
    due,
    "Check that it is the right file, and `duration` and `cuts` in episode.md.",
  );
  if (aired !== null) {
    const list = cutList({ episode, unwanted: silent, source: "aired", length: null });
    const { findings, measured } = await measure(file, { list, source: aired }, ffmpeg);
    return { findings: [...length, ...findings.filter(({ rule }) => rule !== "recording-length")], measured };
  }
  const loudest = levels.length === 0 ? null : Math.max(...levels.map(({ level }) => level));
  return {
    findings: [...length, ...levels.flatMap(({ span, level }) => silenceFindings(at, span, level))],
    measured: { file, ms, found: 0, untold: 0, worst: 0, loudest },
  };
}
