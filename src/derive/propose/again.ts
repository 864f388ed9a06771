import type { Episode } from "../../model/episode.ts";
import type { RegisteredName } from "../../model/programme.ts";
import type { SpokenWord } from "../../model/spoken.ts";
import { programmeEnd } from "../../model/timeMap.ts";
import { type ExistingCue, wordsIn } from "../align/recue.ts";
import type { Span } from "../captioning/lending.ts";
import { timeWords } from "../captioning/wordTimes.ts";
import { fitToCuts, isSilent, quietBreaks } from "./cutEdges.ts";
import { type FoundSegment, findSegments } from "./segments.ts";
import { castOf } from "./speakers.ts";

/** In points by slug, but the first; `was`: what episode.md has. */
export type Points = ReadonlyMap<string, FoundSegment & { readonly was: number }>;

/** The words of cues, with their times; cues stand longer than their words. */
export const timedWords = (cues: readonly ExistingCue[]): readonly SpokenWord[] =>
  timeWords(rawBlocksOf(cues), { end: null });

/** Cues as blocks whose ends are left open. */
export const rawBlocksOf = (cues: readonly ExistingCue[]) =>
  cues.flatMap(({ start, pieces }) => {
    const spoken = pieces.filter(({ words }) => words.trim() !== "");
    return spoken.map(({ voice, words }, n) => ({
      start: n === 0 ? start : null,
      end: null,
      voice,
      text: words.replace(/\s+/g, " ").trim(),
      at: { file: "", line: 1, column: 1 },
    }));
  });

/**
 * The segments of an episode found again in its cues of speech, which an editor has been over. Depends on nothing else:
 * the same cues give the same points. @param spans when the cues' words were heard, by word; left out or null: nobody knows.
 * @returns `isQuiet` false where a break has no pause between the cues that it could stand in.
 */
export function findAgain(
  episode: Episode,
  names: readonly RegisteredName[],
  cues: readonly ExistingCue[],
  spans: readonly (Span | null)[] = [],
): { readonly points: Points; readonly isQuiet: boolean } {
  const { segments, cuts, clock } = episode;
  const words = timedWords(cues).map((word, n) => ({ ...word, ...spans[n] }));
  const order = segments.map((segment) => ({ ...segment, in: null }));
  const { echoes } = castOf(words, names);
  const kinds = segments.map(({ kind }) => kind);
  const missing = clock === "aired" ? cuts : [];
  const heard = { words, order, echoes, end: programmeEnd(episode), quietBreaks: true };
  const found = fitToCuts(findSegments(heard), kinds, missing);
  const { found: quiet, isQuiet } = quietBreaks(found, kinds, wordedCues(cues), fixedIn(episode, found));
  const points = segments.flatMap(({ slug, in: was }, k) => {
    const here = quiet[k];
    return here === undefined || k === 0 ? [] : [[slug, { ...here, was }] as const];
  });
  return { points: new Map(points), isQuiet };
}

/** The points that episode.md can have: those between the accepted ones beside them, and before its end. */
export function possiblePoints(points: Points, episode: Episode): Points {
  const end = programmeEnd(episode);
  const { segments } = episode;
  const possible = new Map<string, FoundSegment & { readonly was: number }>();
  let last = segments[0]?.in ?? 0;
  segments.forEach(({ slug, in: was, proposed }, k) => {
    const point = points.get(slug);
    const next = segments.slice(k + 1).find((later) => later.proposed === undefined)?.in ?? end;
    const moves = proposed !== undefined && point !== undefined && Math.round(point.in) > last && point.in < next;
    if (moves) possible.set(slug, point);
    last = Math.max(last, moves ? Math.round(point.in) : was);
  });
  return possible;
}

/** Points that are known: accepted, or on the edges of a cut that is a break. */
function fixedIn({ segments, cuts, clock }: Episode, found: readonly FoundSegment[]): ReadonlyMap<number, number> {
  const fixed = new Map<number, number>();
  segments.forEach(({ in: start, proposed }, k) => {
    if (proposed === undefined) fixed.set(k, start);
  });
  if (clock !== "aired") return fixed;
  for (const cut of cuts.filter((one) => isSilent(one, segments))) {
    for (const [k, point] of found.entries()) if (point.in === cut.from || point.in === cut.to) fixed.set(k, point.in);
  }
  return fixed;
}

function wordedCues(cues: readonly ExistingCue[]) {
  let first = 0;
  return cues.map((cue) => {
    const worded = { start: cue.start, end: cue.end, first };
    first += wordsIn(cue).length;
    return worded;
  });
}
