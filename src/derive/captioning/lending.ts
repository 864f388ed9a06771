import type { CaptionFigures } from "../../model/captions.ts";

/** When a cue or a word stands, or a stretch of time. Milliseconds of one clock, `end` >= `start`. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** A cue's time, and what is said in it: so many words, the last of which ends at `last`. */
export interface SpokenSpan extends Span {
  readonly words: number;
  readonly last: number;
}

/**
 * How early a cue may begin, in milliseconds. Two frames of 25 a second are not seen (common practice, no source); less is taken, for a
 * word that is found in the sound may itself begin a frame too early.
 */
const LEAD = 60;
/** How late a cue may begin so that the one before can be read; BBC Subtitle Guidelines §5.4 has 2 s at most. */
const LAG = 1000;

/**
 * Gives cues that are too short to read more time: a little in the pause before them, where the cue before stood into
 * it; then from the beginning of the next cue, where that or those after it have time to spare. A gap that a cut leaves, too short for the
 * guidelines, is closed.
 * @param edges moments that no cue stands across; rising.
 */
export function lendTime(
  cues: readonly SpokenSpan[],
  figures: CaptionFigures,
  edges: readonly number[],
): readonly Span[] {
  const lent: SpokenSpan[] = [];
  for (const spoken of cues) {
    const before = lent.at(-1);
    const cue = before === undefined ? spoken : closed(before, spoken, figures, edges);
    const lead = before === undefined ? 0 : leadOf(before, cue, figures, edges);
    if (before !== undefined && lead > 0) lent[lent.length - 1] = { ...before, end: before.end - lead };
    lent.push({ ...cue, start: cue.start - lead });
  }
  const spare = sparesOf(lent, figures, edges);
  lent.forEach((cue, n) => {
    const next = lent[n + 1];
    const lag = next === undefined || cue.end !== next.start ? 0 : Math.min(lackOf(cue, figures), spare[n + 1] ?? 0);
    if (next === undefined || lag <= 0) return;
    lent[n] = { ...cue, end: cue.end + lag };
    lent[n + 1] = { ...next, start: next.start + lag };
  });
  return lent;
}

function closed(before: SpokenSpan, cue: SpokenSpan, { gap }: CaptionFigures, edges: readonly number[]): SpokenSpan {
  const between = cue.start - before.end;
  if (between <= 0 || between >= gap) return cue;
  return { ...cue, start: Math.max(before.end, edges.findLast((at) => at <= cue.start) ?? 0) };
}

/** How much earlier a cue may begin. */
function leadOf(before: SpokenSpan, cue: SpokenSpan, figures: CaptionFigures, edges: readonly number[]): number {
  if (before.end !== cue.start) return 0;
  const spare = before.end - Math.max(before.last, before.start + least(before, figures));
  const edge = edges.findLast((at) => at <= cue.start) ?? 0;
  return Math.floor(Math.max(0, Math.min(lackOf(cue, figures), spare, LEAD, cue.start - edge)));
}

/**
 * How much later each cue may begin: by what it can spare itself, and by what the cues that it touches can spare after it.
 * So a run of quick sentences falls behind its voice a little, all of it, and catches up in the next pause.
 */
function sparesOf(cues: readonly SpokenSpan[], figures: CaptionFigures, edges: readonly number[]): readonly number[] {
  const spares = cues.map(() => 0);
  for (const [n, cue] of [...cues.entries()].reverse()) {
    const handedOn = cues[n + 1]?.start === cue.end ? (spares[n + 1] ?? 0) : 0;
    const edge = edges.find((at) => at >= cue.start) ?? Number.POSITIVE_INFINITY;
    spares[n] = Math.floor(Math.max(0, Math.min(handedOn - lackOf(cue, figures), LAG, edge - cue.start)));
  }
  return spares;
}

/** How much time a cue lacks to be read at all; less than 0 is time to spare. */
const lackOf = (cue: SpokenSpan, figures: CaptionFigures): number =>
  Math.ceil(least(cue, figures)) - (cue.end - cue.start);

const least = ({ words }: SpokenSpan, { shortest, fastest }: CaptionFigures): number =>
  Math.max(shortest, (words * 60_000) / fastest);
