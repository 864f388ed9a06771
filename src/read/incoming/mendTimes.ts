import { addAll } from "../../model/addAll.ts";
import { formatClockExact } from "../../model/clock.ts";
import type { Finding } from "../../model/finding.ts";
import type { RawBlock } from "../../model/spoken.ts";
import { findingAt } from "../findings.ts";

/** One kind of fault, mended. */
type Step = (rawBlocks: readonly RawBlock[]) => {
  readonly rawBlocks: readonly RawBlock[];
  readonly findings: readonly Finding[];
};

/** More words a minute than anybody can say: their times have stalled. Common practice, no source. */
const UNSAYABLE = 420;
/** Share of times that may run backwards before the blocks, and not the times, are taken to be out of order. */
const FEW = 0.1;

/**
 * Blocks whose times can be worked with: none negative, no end before its start, starts that rise, no two blocks at
 * once. A time that can't hold is taken away, never a word; each is a finding.
 * @param cues whether the blocks are cues, which players sort by time, or paragraphs, whose order is the writer's.
 */
export function mendTimes(rawBlocks: readonly RawBlock[], cues: boolean): ReturnType<Step> {
  const findings: Finding[] = [];
  let mended = rawBlocks;
  const steps: readonly Step[] = [fromBeginning, withinReason, (some) => inOrder(some, cues), apart, unstalled];
  for (const step of steps) {
    const done = step(mended);
    mended = done.rawBlocks;
    addAll(findings, done.findings);
  }
  return { rawBlocks: mended, findings };
}

const warn = (block: RawBlock, rule: string, says: string, mend: string): Finding =>
  findingAt(block.at, "warns", rule, says, mend, block.start === null ? null : Math.max(0, block.start) / 1000);

/** No broadcast is longer: such a time is a fault of the file. Milliseconds. */
const LONGEST = 100 * 3_600_000;
/** Times that all lie past this count from something else than the programme's beginning. Milliseconds. */
const HOUR = 3_600_000;

/**
 * Times that begin at a full hour, as timecode by custom does (`01:00:00:00`, `10:00:00:00`), or on a clock on the wall,
 * counted from the programme's beginning: whole hours are taken off where the first words are in the first minutes of
 * one, else all that is before them.
 */
function fromBeginning(rawBlocks: readonly RawBlock[]): ReturnType<Step> {
  const starts = rawBlocks.flatMap(({ start }) => (start === null || start < 0 ? [] : [start]));
  const first = starts.reduce((least, start) => Math.min(least, start), Number.POSITIVE_INFINITY);
  const block = rawBlocks.find(({ start }) => start === first);
  if (block === undefined || first < HOUR) return { rawBlocks, findings: [] };
  const off = first % HOUR < HOUR / 6 ? first - (first % HOUR) : first;
  const says = `The times begin at ${formatClockExact(first)}: ${formatClockExact(off)} was taken off them all.`;
  const finding = warn(block, "raw-times-offset", says, "Listen to the first and the last words, and compare.");
  const less = (time: number | null) => (time === null ? null : time - off);
  return {
    rawBlocks: rawBlocks.map((one) => ({ ...one, start: less(one.start), end: less(one.end) })),
    findings: [{ ...finding, seconds: null }],
  };
}

const ESTIMATED = "Its words are placed between their neighbours: listen to them there.";

function withinReason(rawBlocks: readonly RawBlock[]): ReturnType<Step> {
  const findings: Finding[] = [];
  const kept = rawBlocks.map((block): RawBlock => {
    const { start, end } = block;
    if ((start ?? 0) > LONGEST || (end ?? 0) > LONGEST) {
      const says = `The time ${formatClockExact(Math.max(start ?? 0, end ?? 0))} is more than 100 hours.`;
      findings.push(warn(block, "raw-time-past-all", says, ESTIMATED));
      return { ...block, start: (start ?? 0) > LONGEST ? null : start, end: null };
    }
    if (start !== null && start < 0) {
      findings.push(warn(block, "raw-time-negative", "This begins before the programme does.", ESTIMATED));
      return { ...block, start: null, end: end !== null && end > 0 ? end : null };
    }
    if (start !== null && end !== null && end < start) {
      const says = `This ends at ${formatClockExact(Math.max(0, end))}, before it begins at ${formatClockExact(start)}.`;
      findings.push(warn(block, "raw-end-before-start", says, "Its end is taken to be where the next one begins."));
      return { ...block, end: null };
    }
    return block;
  });
  return { rawBlocks: kept, findings };
}

function inOrder(rawBlocks: readonly RawBlock[], cues: boolean): ReturnType<Step> {
  const late = strays(rawBlocks);
  if (late.size === 0) return { rawBlocks, findings: [] };
  const timed = rawBlocks.filter(({ start }) => start !== null).length;
  if (cues && late.size > timed * FEW) {
    const [first = 0] = late;
    const block = rawBlocks[first];
    const says = `${late.size} cues begin before the ones above them: all were put in the order of their times.`;
    const findings =
      block === undefined ? [] : [warn(block, "raw-out-of-order", says, "Check that the words follow on.")];
    return { rawBlocks: byTime(rawBlocks), findings };
  }
  const findings: Finding[] = [];
  const kept = rawBlocks.map((block, n): RawBlock => {
    if (!late.has(n) || block.start === null) return block;
    const says = `The time ${formatClockExact(block.start)} does not fit between its neighbours'.`;
    findings.push(warn(block, "raw-time-stray", says, ESTIMATED));
    return { ...block, start: null, end: null };
  });
  return { rawBlocks: kept, findings };
}

/** By start; a block without one stays behind the block that it followed. */
function byTime(rawBlocks: readonly RawBlock[]): readonly RawBlock[] {
  let last = 0;
  const keyed = rawBlocks.map((block) => {
    last = block.start ?? last;
    return { block, key: last };
  });
  return keyed.sort((a, b) => a.key - b.key).map(({ block }) => block);
}

/** The fewest blocks whose starts must go for the others to rise: those outside the longest rising row. */
function strays(rawBlocks: readonly RawBlock[]): ReadonlySet<number> {
  const tails: number[] = [];
  const before = new Map<number, number>();
  const startOf = (n: number) => rawBlocks[n]?.start ?? 0;
  rawBlocks.forEach(({ start }, n) => {
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
  return new Set(rawBlocks.flatMap(({ start }, n) => (start === null || rising.has(n) ? [] : [n])));
}

function apart(rawBlocks: readonly RawBlock[]): ReturnType<Step> {
  const findings: Finding[] = [];
  const kept = rawBlocks.map((block, n): RawBlock => {
    const next = rawBlocks[n + 1];
    if (block.end === null || next === undefined || next.start === null || block.end <= next.start) return block;
    const says = `This ends at ${formatClockExact(block.end)}, after the next one begins at ${formatClockExact(next.start)}.`;
    findings.push(warn(block, "raw-times-overlap", says, "Its end was moved to that beginning."));
    return { ...block, end: next.start };
  });
  return { rawBlocks: kept, findings };
}

/**
 * Where times stand still, the words of several blocks are packed into a moment, and the time that they took stands
 * empty after them. They share the whole: the first keeps its start, the others' times are taken away.
 */
function unstalled(rawBlocks: readonly RawBlock[]): ReturnType<Step> {
  const findings: Finding[] = [];
  const kept = [...rawBlocks];
  const before = wordsBefore(rawBlocks);
  for (let n = 0; n < rawBlocks.length; n++) {
    let to = n + 1;
    if (!isUnsayable(rawBlocks, before, n, to)) continue;
    while (to < rawBlocks.length && isUnsayable(rawBlocks, before, n, to)) to++;
    const words = wordsIn(before, n, to);
    const first = rawBlocks[n];
    if (words < A_LINE || first === undefined) continue;
    const says = `From here ${words} words stand in less time than anybody can say them in: the times have stalled.`;
    const mend = "They were spread over the time up to the next words: listen to them there.";
    findings.push(warn(first, "raw-times-stalled", says, mend));
    rawBlocks.slice(n, to).forEach((block, i) => {
      kept[n + i] = { ...block, start: i === 0 ? block.start : null, end: null };
    });
    n = to - 1;
  }
  return { rawBlocks: kept, findings };
}

/** Fewer words than this may be squeezed by a rounded time. */
const A_LINE = 8;

/** How many words stand before each block, and, last, how many there are: a run of thousands is counted once. */
function wordsBefore(rawBlocks: readonly RawBlock[]): readonly number[] {
  let sum = 0;
  return [0, ...rawBlocks.map(({ text }) => (sum += text.split(" ").length))];
}

/** The words of blocks [n, to). */
const wordsIn = (before: readonly number[], n: number, to: number): number => (before[to] ?? 0) - (before[n] ?? 0);

/** Whether blocks [n, to) hold more words than can be said before block `to` begins; a block's own end counts for it alone. */
function isUnsayable(rawBlocks: readonly RawBlock[], before: readonly number[], n: number, to: number): boolean {
  const start = rawBlocks[n]?.start ?? null;
  const end = (to === n + 1 ? rawBlocks[n]?.end : null) ?? rawBlocks[to]?.start ?? null;
  return start !== null && end !== null && wordsIn(before, n, to) * 60_000 > UNSAYABLE * (end - start);
}
