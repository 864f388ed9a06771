import type { EdgeState } from "../../model/episode.ts";
import { firstWhere } from "../../model/firstWhere.ts";
import { MOST_SENTENCES } from "../../model/limits.ts";
import { NEAR_ENOUGH } from "../../model/proposal.ts";
import type { PlannedSegment, SpokenWord } from "../../model/spoken.ts";
import { LEAD } from "../align/layWords.ts";
import { type Clues, cluesOf, type Heard } from "./clues.ts";
import { beginsInRest, piecesOf } from "./recording.ts";
import { sentencesOf } from "./sentences.ts";

/** Where a segment was found. Milliseconds of the transcript's clock. */
export interface FoundSegment {
  readonly in: number;
  readonly out: number;
  /** The first of its words. */
  readonly word: number;
  /** How the in point was found. */
  readonly edgeState: EdgeState;
}

/** How far a segment strays from its plan: this share of it, and at least so many milliseconds. Measured on the demo. */
const [STRAY, LEAST_STRAY] = [0.15, 6000] as const;
/** An in point is clear where any other place costs so much more. Chosen on the demo; `bench -- proposals` measures it. */
const CLEAR = 1;

/** A place where a segment may begin: before a word, or at the very end. */
interface Edge {
  readonly word: number;
  readonly at: number;
}

/** Whether a transcript has more sentences than segments are looked for among: then the plan alone says where they are. */
export const areTooMany = (words: readonly SpokenWord[]): boolean => sentencesOf(words).length > MOST_SENTENCES;

/**
 * Proposes in and out points: of all the ways to lay the running order over the sentences, the one that agrees best
 * with the plan's durations, with what titles, reporters and kinds of segment lead one to hear, and with the pauses
 * (dynamic programming over the sentences' beginnings).
 */
export function findSegments(programme: Heard): readonly FoundSegment[] {
  const { words, order, end } = programme;
  if (order.length === 0) return [];
  const edges = edgesOf(programme);
  const wanted = wantedOf(order, end);
  if (edges.length > MOST_SENTENCES) return byPlan(wanted, words, end);
  const clues = cluesOf(
    programme,
    edges.map(({ word }) => word),
  );
  const sweep = { edges, wanted, clues };
  const { least, chosen } = sweepForward(sweep);
  if ((least[order.length]?.[edges.length - 1] ?? Infinity) === Infinity) return byPlan(wanted, words, end);
  const back = sweepBack(sweep);
  return order.map((_, k) => {
    const total = (edge: number) => (least[k]?.[edge] ?? Infinity) + (back[k]?.[edge] ?? Infinity);
    return {
      in: inPoint(programme, edges, k, chosen),
      word: edges[chosen[k] ?? 0]?.word ?? 0,
      out: k === order.length - 1 ? end : inPoint(programme, edges, k + 1, chosen),
      edgeState: k === 0 || isClear(edges, chosen[k] ?? 0, total) ? "clear" : "doubtful",
    };
  });
}

/** A silence this long may be a break with no words in it; where breaks have none at all, one this long. */
const [SILENCE, QUIET] = [5000, 1000] as const;

/** Sentences' beginnings; where a long silence goes before one, its own beginning too. */
function edgesOf({ words, end, quietBreaks = false, recording = null }: Heard): readonly Edge[] {
  const silence = quietBreaks ? QUIET : SILENCE;
  const begins = piecesOf(words, recording)
    .filter(({ from }) => from > 0)
    .flatMap(({ from: word }): Edge[] => {
      const [at, before] = [words[word]?.start ?? 0, words[word - 1]?.end ?? 0];
      return at - before < silence
        ? [{ word, at }]
        : [
            { word, at: before },
            { word, at },
          ];
    });
  const last = { word: words.length, at: Math.max(end, words.at(-1)?.end ?? 0) };
  return [{ word: 0, at: 0 }, ...begins, last];
}

/** What each segment is wanted to last: its plan, stretched so that the plans fill the programme. */
function wantedOf(order: readonly PlannedSegment[], end: number): readonly (number | null)[] {
  const planned = order.map((segment, n) => {
    const next = order[n + 1]?.in ?? null;
    return segment.planned ?? (segment.in !== null && next !== null && next > segment.in ? next - segment.in : null);
  });
  if (planned.some((length) => length === null)) return planned;
  const sum = planned.reduce<number>((all, length) => all + (length ?? 0), 0);
  return planned.map((length) => (sum === 0 ? null : ((length ?? 0) * end) / sum));
}

/** In points where the plan has them: for want of sentences. Segments without a plan share what the others leave. */
function byPlan(
  wanted: readonly (number | null)[],
  words: readonly SpokenWord[],
  end: number,
): readonly FoundSegment[] {
  const planned = wanted.reduce<number>((sum, length) => sum + (length ?? 0), 0);
  const open = wanted.filter((length) => length === null).length;
  const share = Math.max(0, end - planned) / Math.max(1, open);
  let at = 0;
  return wanted.map((length, k) => {
    const start = at;
    at += length ?? share;
    return {
      in: start,
      out: k === wanted.length - 1 ? end : at,
      word: firstWhere(words.length, (n) => (words[n]?.start ?? 0) >= start),
      edgeState: "doubtful",
    };
  });
}

/** What it costs that segment k stands on edges a to b. */
function costOf(
  k: number,
  a: number,
  b: number,
  edges: readonly Edge[],
  wanted: readonly (number | null)[],
  clues: Clues,
): number {
  const length = (edges[b]?.at ?? 0) - (edges[a]?.at ?? 0);
  const plan = wanted[k] ?? null;
  const stray = plan === null ? 0 : (length - plan) / Math.max(plan * STRAY, LEAST_STRAY);
  return (stray * stray) / 2 + clues.begin(k, a) + clues.end(k, b) + clues.inside(k, a, b, length);
}

/** A segment lasts no longer than four times its plan and three minutes, nor, without a plan, than so many sentences. */
const [TIMES_PLAN, AND_MORE, MOST_IN_ONE] = [4, 180_000, 400] as const;

/** The first edge that a segment ending on edge `b` may begin on. */
function firstEdge(plan: number | null, b: number, edges: readonly Edge[]): number {
  if (plan === null) return Math.max(0, b - MOST_IN_ONE);
  const earliest = (edges[b]?.at ?? 0) - plan * TIMES_PLAN - AND_MORE;
  let a = b - 1;
  while (a > 0 && (edges[a - 1]?.at ?? 0) >= earliest) a--;
  return a;
}

interface Sweep {
  readonly edges: readonly Edge[];
  readonly wanted: readonly (number | null)[];
  readonly clues: Clues;
}

const infinities = (length: number): Float64Array => new Float64Array(length).fill(Number.POSITIVE_INFINITY);

/** least[k][b]: the least that the first k segments cost when they end on edge b; `chosen`: where each then begins. */
function sweepForward({ edges, wanted, clues }: Sweep) {
  const last = edges.length - 1;
  const least = [infinities(edges.length), ...wanted.map(() => infinities(edges.length))];
  const cameFrom = wanted.map(() => new Int32Array(edges.length));
  least[0]?.set([0]);
  wanted.forEach((plan, k) => {
    const [before, here, from] = [least[k], least[k + 1], cameFrom[k]];
    if (before === undefined || here === undefined || from === undefined) return;
    for (let b = k === wanted.length - 1 ? last : 1; b <= last; b++) {
      for (let a = firstEdge(plan, b, edges); a < b; a++) {
        const sofar = before[a] ?? Infinity;
        if (sofar === Infinity) continue;
        const cost = sofar + costOf(k, a, b, edges, wanted, clues);
        if (cost >= (here[b] ?? Infinity)) continue;
        here[b] = cost;
        from[b] = a;
      }
    }
  });
  const chosen: number[] = [];
  for (let k = wanted.length - 1, at = last; k >= 0; k--) {
    at = cameFrom[k]?.[at] ?? 0;
    chosen.unshift(at);
  }
  return { least, chosen };
}

/** back[k][a]: the least that segments k and later cost when k begins on edge a. */
function sweepBack({ edges, wanted, clues }: Sweep): readonly Float64Array[] {
  const last = edges.length - 1;
  const back = [...wanted, null].map(() => infinities(edges.length));
  back[wanted.length]?.set([0], last);
  for (let k = wanted.length - 1; k >= 0; k--) {
    const [here, after] = [back[k], back[k + 1]];
    if (here === undefined || after === undefined) continue;
    for (let b = last; b > 0; b--) {
      const rest = after[b] ?? Infinity;
      if (rest === Infinity) continue;
      for (let a = firstEdge(wanted[k] ?? null, b, edges); a < b; a++) {
        const cost = rest + costOf(k, a, b, edges, wanted, clues);
        if (cost < (here[a] ?? Infinity)) here[a] = cost;
      }
    }
  }
  return back;
}

function isClear(edges: readonly Edge[], chosen: number, total: (edge: number) => number): boolean {
  const least = total(chosen) + CLEAR;
  const own = edges[chosen]?.at ?? 0;
  return edges.every(({ at }, c) => Math.abs(at - own) <= NEAR_ENOUGH || total(c) >= least);
}

/** The moment of an in point: in the rest before the first word, as far as it is heard; for a break, just after the last word before it. */
function inPoint(
  { words, order, recording = null }: Heard,
  edges: readonly Edge[],
  k: number,
  chosen: readonly number[],
): number {
  if (k === 0) return 0;
  const { word = 0, at = 0 } = edges[chosen[k] ?? 0] ?? {};
  const before = words[word - 1]?.end ?? 0;
  const lead = Math.min(LEAD, Math.max(0, at - before));
  if (order[k]?.kind === "break") return before + lead;
  return beginsInRest(recording, at, { lead: LEAD, after: order[k - 1]?.kind ?? null }) ?? at - lead;
}
