import type { Finding, Read } from "../model/finding.ts";
import type { Splice } from "./bytes.ts";
import { readerOf, stampSeconds } from "./cuetext.ts";
import type { Cue, VttFile } from "./file.ts";
import { finding } from "./rules.ts";
import type { Spot } from "./spots.ts";
import { formatTimestamp, isWritableMs, wholeMs } from "./timestamp.ts";
import { timingsOf } from "./timings.ts";
import { readToken } from "./tokens.ts";

/** A change of times, in whole milliseconds; cues are counted from 0. */
export type Retiming =
  | { readonly kind: "times"; readonly cue: number; readonly start: number; readonly end: number }
  | { readonly kind: "shift"; readonly from: number; readonly to: number; readonly by: number };

interface NewTimes {
  readonly start: number;
  readonly end: number;
  /** What the times inside the cue move by. */
  readonly by: number;
}

/** The splices for new times, or what stands in the way: see `refusals`. Each cue is retimed from what it has now. */
export function retime(file: VttFile, retimings: readonly Retiming[], fileName: string): Read<readonly Splice[]> {
  const changed = new Map<number, NewTimes>();
  for (const retiming of retimings) {
    if (retiming.kind === "times") changed.set(retiming.cue, { ...retiming, by: 0 });
    else {
      file.cues.slice(retiming.from, retiming.to).forEach((cue, n) => {
        const { by } = retiming;
        const times = { start: wholeMs(cue.startTime) + by, end: wholeMs(cue.endTime) + by, by };
        changed.set(retiming.from + n, times);
      });
    }
  }
  const findings = refusals(file, changed, fileName);
  if (findings.length > 0) return { ok: false, findings };
  const value = [...changed].flatMap(([n, times]) => {
    const cue = file.cues[n];
    return cue === undefined ? [] : timeSplices(file, cue, times);
  });
  return { ok: true, value, findings };
}

function timeSplices(file: VttFile, cue: Cue, { start, end, by }: NewTimes): readonly Splice[] {
  const timings = timingsOf(file, cue);
  const inner = by === 0 ? [] : stampsOf(file, cue);
  return [
    { from: timings.startFrom, to: timings.startTo, words: formatTimestamp(start) },
    { from: timings.endFrom, to: timings.endTo, words: formatTimestamp(end) },
    ...inner.map(({ from, to, ms }) => ({ from, to, words: `<${formatTimestamp(ms + by)}>` })),
  ];
}

/** The times inside a cue, in milliseconds. */
function stampsOf(file: VttFile, cue: Cue): readonly (Spot & { readonly ms: number })[] {
  const stamps: (Spot & { readonly ms: number })[] = [];
  const reader = readerOf(file, cue);
  for (let token = readToken(reader); token !== null; token = readToken(reader)) {
    const seconds = token.kind === "stamp" && token.closed ? stampSeconds(token) : null;
    if (seconds !== null) stamps.push({ ...token, ms: wholeMs(seconds) });
  }
  return stamps;
}

/** Times must be written whole, end after they start, hold what lies inside them, and keep the order of the file. */
function refusals(file: VttFile, changed: ReadonlyMap<number, NewTimes>, fileName: string): readonly Finding[] {
  if (changed.size === 0) return [];
  const found: Finding[] = [];
  let [latestOld, latestNew] = [0, 0];
  file.cues.forEach((cue, n) => {
    const times = changed.get(n);
    const oldStart = wholeMs(cue.startTime);
    const start = times?.start ?? oldStart;
    const fault = times === undefined ? null : timesFault(file, cue, times);
    const isLate = start < latestNew && oldStart >= latestOld;
    const says = fault ?? (isLate ? "This cue would start before one that stands above it." : null);
    latestOld = Math.max(latestOld, oldStart);
    latestNew = Math.max(latestNew, start);
    if (says === null) return;
    const at = { file: fileName, line: cue.line, column: 1 };
    found.push(finding("edit-time", at, cue.startTime, says, "Give other times."));
  });
  return found;
}

function timesFault(file: VttFile, cue: Cue, { start, end, by }: NewTimes): string | null {
  if (!isWritableMs(start) || !isWritableMs(end)) return "Times are whole milliseconds from 0 on.";
  if (end <= start) return "This cue would end before it has started.";
  if (by !== 0) return null;
  const [oldStart, oldEnd] = [wholeMs(cue.startTime), wholeMs(cue.endTime)];
  const isOut = stampsOf(file, cue).some(({ ms }) => ms > oldStart && ms < oldEnd && (ms <= start || ms >= end));
  return isOut ? "A time inside this cue would lie outside it." : null;
}
