import { addAll } from "../../model/addAll.ts";
import { formatClockExact } from "../../model/clock.ts";
import type { Finding } from "../../model/finding.ts";
import type { Lump } from "../../model/spoken.ts";
import { findingAt } from "../findings.ts";

/** One kind of fault, mended. */
type Step = (lumps: readonly Lump[]) => { readonly lumps: readonly Lump[]; readonly findings: readonly Finding[] };

/** More words a minute than anybody can say: their times have stalled. Common practice, no source. */
const UNSAYABLE = 420;
/** Share of times that may run backwards before the lumps, and not the times, are taken to be out of order. */
const FEW = 0.1;

/**
 * Lumps whose times can be worked with: none negative, no end before its start, starts that rise, no two lumps at
 * once. A time that can't hold is taken away, never a word; each is a finding.
 * @param cues whether the lumps are cues, which players sort by time, or paragraphs, whose order is the writer's.
 */
export function mendTimes(lumps: readonly Lump[], cues: boolean): ReturnType<Step> {
  const findings: Finding[] = [];
  let mended = lumps;
  const steps: readonly Step[] = [withinReason, (some) => inOrder(some, cues), apart, unstalled];
  for (const step of steps) {
    const done = step(mended);
    mended = done.lumps;
    addAll(findings, done.findings);
  }
  return { lumps: mended, findings };
}

const warn = (lump: Lump, rule: string, says: string, mend: string): Finding =>
  findingAt(lump.at, "warns", rule, says, mend, lump.start === null ? null : Math.max(0, lump.start) / 1000);

const ESTIMATED = "Its words are placed between their neighbours: listen to them there.";

function withinReason(lumps: readonly Lump[]): ReturnType<Step> {
  const findings: Finding[] = [];
  const kept = lumps.map((lump): Lump => {
    const { start, end } = lump;
    if (start !== null && start < 0) {
      findings.push(warn(lump, "raw-time-negative", "This begins before the programme does.", ESTIMATED));
      return { ...lump, start: null, end: end !== null && end > 0 ? end : null };
    }
    if (start !== null && end !== null && end < start) {
      const says = `This ends at ${formatClockExact(Math.max(0, end))}, before it begins at ${formatClockExact(start)}.`;
      findings.push(warn(lump, "raw-end-before-start", says, "Its end is taken to be where the next one begins."));
      return { ...lump, end: null };
    }
    return lump;
  });
  return { lumps: kept, findings };
}

function inOrder(lumps: readonly Lump[], cues: boolean): ReturnType<Step> {
  const late = strays(lumps);
  if (late.size === 0) return { lumps, findings: [] };
  const timed = lumps.filter(({ start }) => start !== null).length;
  if (cues && late.size > timed * FEW) {
    const [first = 0] = late;
    const lump = lumps[first];
    const says = `${late.size} cues begin before the ones above them: all were put in the order of their times.`;
    const findings =
      lump === undefined ? [] : [warn(lump, "raw-out-of-order", says, "Check that the words follow on.")];
    return { lumps: byTime(lumps), findings };
  }
  const findings: Finding[] = [];
  const kept = lumps.map((lump, n): Lump => {
    if (!late.has(n) || lump.start === null) return lump;
    const says = `The time ${formatClockExact(lump.start)} does not fit between its neighbours'.`;
    findings.push(warn(lump, "raw-time-stray", says, ESTIMATED));
    return { ...lump, start: null, end: null };
  });
  return { lumps: kept, findings };
}

/** By start; a lump without one stays behind the lump that it followed. */
function byTime(lumps: readonly Lump[]): readonly Lump[] {
  let last = 0;
  const keyed = lumps.map((lump) => {
    last = lump.start ?? last;
    return { lump, key: last };
  });
  return keyed.sort((a, b) => a.key - b.key).map(({ lump }) => lump);
}

/** The fewest lumps whose starts must go for the others to rise: those outside the longest rising row. */
function strays(lumps: readonly Lump[]): ReadonlySet<number> {
  const tails: number[] = [];
  const before = new Map<number, number>();
  const startOf = (n: number) => lumps[n]?.start ?? 0;
  lumps.forEach(({ start }, n) => {
    if (start === null) return;
    let [low, high] = [0, tails.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (startOf(tails[middle] ?? 0) <= start) low = middle + 1;
      else high = middle;
    }
    const prior = tails[low - 1];
    if (prior !== undefined) before.set(n, prior);
    tails[low] = n;
  });
  const rising = new Set<number>();
  for (let n = tails.at(-1); n !== undefined; n = before.get(n)) rising.add(n);
  return new Set(lumps.flatMap(({ start }, n) => (start === null || rising.has(n) ? [] : [n])));
}

function apart(lumps: readonly Lump[]): ReturnType<Step> {
  const findings: Finding[] = [];
  const kept = lumps.map((lump, n): Lump => {
    const next = lumps[n + 1];
    if (lump.end === null || next === undefined || next.start === null || lump.end <= next.start) return lump;
    const says = `This ends at ${formatClockExact(lump.end)}, after the next one begins at ${formatClockExact(next.start)}.`;
    findings.push(warn(lump, "raw-times-overlap", says, "Its end was moved to that beginning."));
    return { ...lump, end: next.start };
  });
  return { lumps: kept, findings };
}

/**
 * Where times stand still, the words of several lumps are packed into a moment, and the time that they took stands
 * empty after them. They share the whole: the first keeps its start, the others' times are taken away.
 */
function unstalled(lumps: readonly Lump[]): ReturnType<Step> {
  const findings: Finding[] = [];
  const kept = [...lumps];
  const before = wordsBefore(lumps);
  for (let n = 0; n < lumps.length; n++) {
    let to = n + 1;
    if (!isUnsayable(lumps, before, n, to)) continue;
    while (to < lumps.length && isUnsayable(lumps, before, n, to)) to++;
    const words = wordsIn(before, n, to);
    const first = lumps[n];
    if (words < A_LINE || first === undefined) continue;
    const says = `From here ${words} words stand in less time than anybody can say them in: the times have stalled.`;
    const mend = "They were spread over the time up to the next words: listen to them there.";
    findings.push(warn(first, "raw-times-stalled", says, mend));
    lumps.slice(n, to).forEach((lump, i) => {
      kept[n + i] = { ...lump, start: i === 0 ? lump.start : null, end: null };
    });
    n = to - 1;
  }
  return { lumps: kept, findings };
}

/** Fewer words than this may be squeezed by a rounded time. */
const A_LINE = 8;

/** How many words stand before each lump, and, last, how many there are: a run of thousands is counted once. */
function wordsBefore(lumps: readonly Lump[]): readonly number[] {
  let sum = 0;
  return [0, ...lumps.map(({ text }) => (sum += text.split(" ").length))];
}

/** The words of lumps [n, to). */
const wordsIn = (before: readonly number[], n: number, to: number): number => (before[to] ?? 0) - (before[n] ?? 0);

/** Whether lumps [n, to) hold more words than can be said before lump `to` begins; a lump's own end counts for it alone. */
function isUnsayable(lumps: readonly Lump[], before: readonly number[], n: number, to: number): boolean {
  const start = lumps[n]?.start ?? null;
  const end = (to === n + 1 ? lumps[n]?.end : null) ?? lumps[to]?.start ?? null;
  return start !== null && end !== null && wordsIn(before, n, to) * 60_000 > UNSAYABLE * (end - start);
}
