import type { Cut } from "../../model/episode.ts";
import type { SpokenWord } from "../../model/spoken.ts";
import { HASTE } from "../align/retime.ts";
import { speechOf, spread } from "../cutting/wordTimes.ts";
import { type FoundSegment, LEAD } from "./segments.ts";
import { sentencesOf } from "./sentences.ts";

/** An in point nearer to a cut's edge than this is taken to be there: milliseconds. Common practice, no source. */
const NEAR = 10_000;
/** How sure a point is that stands on the edge of a cut, which somebody measured. */
const SURE = 0.95;

export interface FittedToCuts {
  readonly words: readonly SpokenWord[];
  readonly found: readonly FoundSegment[];
}

/**
 * Recordings are cut where segments begin and end, and cuts are measured while in points and words are estimated: so
 * the in point nearest to a cut's edge moves there, and sentences that would lie across it move to their segment's
 * side. Otherwise their words would be cut out with the break.
 * @param cuts sorted, disjoint.
 */
export function fitToCuts(
  words: readonly SpokenWord[],
  found: readonly FoundSegment[],
  cuts: readonly Pick<Cut, "from" | "to">[],
): FittedToCuts {
  const points = found.map((segment) => ({ ...segment }));
  let fitted = words;
  for (const edge of edgesOf(cuts)) {
    const near = points.slice(1).filter((point) => Math.abs(point.in - edge) <= NEAR);
    const [point] = near.sort((a, b) => Math.abs(a.in - edge) - Math.abs(b.in - edge));
    if (point === undefined) continue;
    fitted = movedOff(fitted, point.word, edge);
    Object.assign(point, { in: edge, confidence: Math.max(point.confidence, SURE) });
  }
  return { words: fitted, found: points.map((point, k) => ({ ...point, out: points[k + 1]?.in ?? point.out })) };
}

/** The edges of cuts; where two cuts touch, one. */
export const edgesOf = (cuts: readonly Pick<Cut, "from" | "to">[]): readonly number[] => [
  ...new Set(cuts.flatMap(({ from, to }) => [from, to])),
];

/** The words with those before `first` ending by the edge, and `first` and later ones beginning after it. */
function movedOff(words: readonly SpokenWord[], first: number, edge: number): readonly SpokenWord[] {
  const sentences = sentencesOf(words);
  const moved = [...words];
  const put = (from: number, to: number, start: number, end: number) => {
    spread(words.slice(from, to), start, Math.max(start, end)).forEach((word, n) => {
      moved[from + n] = word;
    });
  };
  const fits = (from: number, to: number, ms: number) =>
    ms >= words.slice(from, to).reduce((sum, { text }) => sum + speechOf(text), 0) * HASTE;
  if ((words[first - 1]?.end ?? 0) > edge) {
    const begins = sentences.filter(({ to }) => to <= first).map(({ from }) => from);
    const from = begins.findLast((at) => fits(at, first, edge - (words[at]?.start ?? 0))) ?? first;
    put(from, first, words[from]?.start ?? edge, edge);
  }
  const after = words[first];
  if (after !== undefined && after.start < edge) {
    const ends = sentences.filter(({ to }) => to > first).map(({ to }) => to);
    const to = ends.find((at) => fits(first, at, (words[at - 1]?.end ?? 0) - edge)) ?? first;
    const end = words[to - 1]?.end ?? edge;
    put(first, to, Math.min(edge + LEAD, end), end);
  }
  return moved;
}
