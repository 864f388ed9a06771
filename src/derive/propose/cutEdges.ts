import type { Cut, SegmentKind } from "../../model/episode.ts";
import { LEAD } from "../align/layWords.ts";
import type { Span } from "../captioning/lending.ts";
import { joinSpans } from "../captioning/room.ts";
import { cluesOf, type Heard } from "./clues.ts";
import type { FoundSegment } from "./segments.ts";

/** An in point nearer to a cut's edge than this is taken to be there: milliseconds. Common practice, no source. */
const NEAR = 10_000;
/** The part of a cut that must lie in a break for the cut to have no words. Common practice, no source. */
const MOSTLY = 0.8;

export type CutLike = Pick<Cut, "from" | "to" | "why" | "proposed">;
interface Placed {
  readonly kind: SegmentKind;
  readonly in: number;
  readonly out: number;
}

/** The edges of cuts; where two cuts touch, one. */
export const edgesOf = (cuts: readonly Pick<Cut, "from" | "to">[]): readonly number[] => [
  ...new Set(cuts.flatMap(({ from, to }) => [from, to])),
];

/** Whether nobody speaks in a cut: it is called a break, or lies in segments that are one. */
export function isSilent({ from, to, why }: CutLike, segments: readonly Placed[]): boolean {
  if (/\bbreaks?\b/i.test(why)) return true;
  const inside = segments
    .filter(({ kind }) => kind === "break")
    .reduce((sum, { in: start, out }) => sum + Math.max(0, Math.min(out, to) - Math.max(start, from)), 0);
  return inside >= (to - from) * MOSTLY;
}

/** The stretches where nobody speaks: cuts of breaks, and breaks. In order, joined. */
export const silentSpans = (cuts: readonly CutLike[], breaks: readonly Placed[], segments: readonly Placed[]) =>
  joinSpans([
    ...cuts.filter((cut) => isSilent(cut, segments)).map(({ from, to }) => ({ start: from, end: to })),
    ...breaks.map(({ in: start, out }) => ({ start, end: out })),
  ]);

/**
 * Recordings are cut where segments begin and end, and cuts are measured while in points are estimated: so the in point
 * nearest to a cut's edge moves there. A break that was cut has the cut's points. A cut that is only proposed proves nothing.
 * @param cuts sorted, disjoint.
 */
export function fitToCuts(
  found: readonly FoundSegment[],
  kinds: readonly SegmentKind[],
  cuts: readonly CutLike[],
): readonly FoundSegment[] {
  const points = found.map((segment) => ({ ...segment }));
  const taken = new Set<number>();
  const measured = new Set(edgesOf(cuts.filter(({ proposed }) => proposed !== true)));
  const put = (k: number, at: number) => {
    const point = points[k];
    if (point === undefined || k === 0 || taken.has(k)) return;
    taken.add(k);
    point.in = at;
  };
  const placed = found.map((segment, k) => ({ ...segment, kind: kinds[k] ?? "reader" }));
  for (const cut of cuts.filter((one) => isSilent(one, placed))) {
    const k = breakNear({ start: cut.from, end: cut.to }, placed);
    if (k === null) continue;
    put(k, cut.from);
    put(k + 1, cut.to);
  }
  for (const edge of edgesOf(cuts)) {
    if (points.some((point, k) => taken.has(k) && point.in === edge)) continue;
    const near = points.map((point, k) => ({ k, far: Math.abs(point.in - edge) })).filter(({ k }) => k > 0);
    const [nearest] = near.sort((a, b) => a.far - b.far);
    if (nearest !== undefined && nearest.far <= NEAR) put(nearest.k, edge);
  }
  // A recogniser hears words in a break's music, so the words beside it have no times to be relied on.
  const isLoose = (k: number) => kinds[k] === "break" || kinds[k - 1] === "break";
  return points.map((point, k) => ({
    ...point,
    out: points[k + 1]?.in ?? point.out,
    edgeState: taken.has(k) && measured.has(point.in) ? "at a cut" : isLoose(k) ? "doubtful" : point.edgeState,
  }));
}

/** The break that a silent stretch is: the one that lies nearest. Null where the running order has none. */
function breakNear({ start, end }: Span, segments: readonly Placed[]): number | null {
  const breaks = segments.flatMap(({ kind, in: from, out: to }, k) =>
    kind === "break" ? [{ k, far: Math.abs(from - start) + Math.abs(to - end) }] : [],
  );
  return breaks.sort((a, b) => a.far - b.far)[0]?.k ?? null;
}

/**
 * What speaks for and against a segment's end before a word, where the recording is cut or a break begins: the titles,
 * names and phrases of the segments on both sides.
 * @returns by the moment and the word; 0 where no segment is known to begin there.
 */
export function seamClues(
  heard: Heard,
  segments: readonly Placed[],
  silent: readonly Span[],
): (at: number, n: number) => number {
  const clues = cluesOf(
    heard,
    Array.from({ length: heard.words.length + 1 }, (_, n) => n),
  );
  const known = new Map<number, readonly [number, number] | null>();
  const sides = (at: number): readonly [number, number] | null => {
    const stretch = silent.find(({ start, end }) => start <= at && at <= end);
    const k = stretch === undefined ? null : breakNear(stretch, segments);
    if (k !== null) return [k - 1, k + 1];
    const near = segments.map(({ in: start }, n) => ({ n, far: Math.abs(start - at) })).filter(({ n }) => n > 0);
    const [nearest] = near.sort((a, b) => a.far - b.far);
    return nearest === undefined || nearest.far > NEAR ? null : [nearest.n - 1, nearest.n];
  };
  return (at, n) => {
    const own = known.get(at) ?? sides(at);
    known.set(at, own);
    return own === null ? 0 : clues.end(own[0], n) + (own[1] < segments.length ? clues.begin(own[1], n) : 0);
  };
}

/** A cue of speech, and which of all words its first is. */
interface WordedCue extends Span {
  readonly first: number;
}

/** A pause between cues that may be a break: milliseconds. Common practice, no source. */
const PAUSE = 1000;

/**
 * The in points with breaks where nobody speaks: in the longest pause between the cues that a break was found at, from
 * the end of the one to just before the beginning of the other.
 * @param fixed points that are known: segment number to in point.
 * @returns `found` with `isQuiet` false where there is no such pause.
 */
export function quietBreaks(
  found: readonly FoundSegment[],
  kinds: readonly SegmentKind[],
  cues: readonly WordedCue[],
  fixed: ReadonlyMap<number, number>,
): { readonly found: readonly FoundSegment[]; readonly isQuiet: boolean } {
  const points = found.map((segment) => ({ ...segment }));
  let isQuiet = true;
  kinds.forEach((kind, k) => {
    const [own, next] = [points[k], points[k + 1]];
    if (kind !== "break" || own === undefined || k === 0) return;
    const at = fixed.get(k);
    const gaps = cues.slice(1).flatMap(({ start, first }, n) => {
      const end = cues[n]?.end ?? start;
      const isHere = at === undefined ? first >= own.word && first <= (next?.word ?? first) : end <= at && start > at;
      return isHere && start - end >= PAUSE ? [{ start: end, end: start, first }] : [];
    });
    const [gap] = gaps.sort((a, b) => b.end - b.start - (a.end - a.start));
    if (gap === undefined) {
      isQuiet &&= next === undefined || (fixed.has(k) && fixed.has(k + 1));
      return;
    }
    own.in = at ?? gap.start;
    if (next === undefined) return;
    next.in = fixed.get(k + 1) ?? gap.end - Math.min(LEAD, (gap.end - gap.start) / 2);
    next.word = gap.first;
  });
  return { found: points.map((point, k) => ({ ...point, out: points[k + 1]?.in ?? point.out })), isQuiet };
}
