import type { SegmentKind } from "../../model/episode.ts";
import type { RegisteredName } from "../../model/programme.ts";
import type { PlannedSegment, RawBlock, SpokenWord } from "../../model/spoken.ts";
import { layWords } from "../align/layWords.ts";
import type { Span } from "../captioning/lending.ts";
import { ALWAYS, roomOutside } from "../captioning/room.ts";
import { heardOutside } from "../captioning/wordTimes.ts";
import type { Heard } from "./clues.ts";
import { type CutLike, edgesOf, fitToCuts, seamClues, silentSpans } from "./cutEdges.ts";
import type { Recording } from "./recording.ts";
import { type FoundSegment, findSegments } from "./segments.ts";
import { castOf } from "./speakers.ts";

/** What a raw transcript is laid out by. Milliseconds of its clock. */
export interface LayOutFrom {
  readonly rawBlocks: readonly RawBlock[];
  readonly order: readonly PlannedSegment[];
  readonly names: readonly RegisteredName[];
  /** Where the recording ends, as far as that is known; and where the programme does, at least. */
  readonly given: number | null;
  readonly end: number;
  /** What the recording lacks: sorted, disjoint; and those of it that somebody measured. */
  readonly cuts: readonly CutLike[];
  readonly measured: readonly CutLike[];
  /** What listening to the recording tells; null: nobody listens. */
  readonly recording: Recording | null;
}

export interface LaidOut {
  readonly words: readonly SpokenWord[];
  /** What was heard where nobody speaks, by stretch. */
  readonly inside: readonly { readonly span: Span; readonly words: readonly SpokenWord[] }[];
  readonly found: readonly FoundSegment[];
}

/**
 * The words of a raw transcript and the segments in them, with the cuts in mind: no word stands across a cut's edge, and
 * what was heard in a cut where nobody speaks is told apart. Of a cut that is only assumed nothing is taken away.
 */
export function layOut(from: LayOutFrom): LaidOut {
  const { rawBlocks, given, cuts, measured } = from;
  let silent = silentSpans(measured, [], []);
  let heard = heardOutside(rawBlocks, { end: given }, silent);
  let found = cuts.length === 0 ? [] : findAround(from, heard.words);
  const known = silentSpans(measured, [], placedIn(from, found));
  if (JSON.stringify(known) !== JSON.stringify(silent)) {
    silent = known;
    heard = heardOutside(rawBlocks, { end: given }, silent);
    found = findAround(from, heard.words);
  }
  const words = laidAround(from, heard.words, found, silent);
  const inside = silent.map((span) => ({
    span,
    words: heard.inside.filter(({ start }) => span.start <= start && start < span.end),
  }));
  return { words, inside: inside.filter((one) => one.words.length > 0), found: findAround(from, words) };
}

/** The words with none across a cut's edge or in a silent stretch; as they were where there is no room for that. */
function laidAround(
  from: LayOutFrom,
  words: readonly SpokenWord[],
  found: readonly FoundSegment[],
  silent: readonly Span[],
): readonly SpokenWord[] {
  const room = roomOutside(silent, edgesOf(from.cuts), ALWAYS);
  const clues = room.length > 1 ? seamClues(asHeard(from, words), placedIn(from, found), silent) : () => 0;
  const clue = (seam: number, n: number) => clues(room[seam]?.end ?? 0, n);
  return layWords(words, words, { room, clue }) ?? layWords(words, words, { room: [ALWAYS] }) ?? words;
}

const kindsOf = ({ order }: LayOutFrom): readonly SegmentKind[] => order.map(({ kind }) => kind);

const asHeard = ({ order, names, end, recording }: LayOutFrom, words: readonly SpokenWord[]): Heard => {
  return { words, order, echoes: castOf(words, names, recording).echoes, end, recording };
};

const findAround = (from: LayOutFrom, words: readonly SpokenWord[]): readonly FoundSegment[] =>
  fitToCuts(findSegments(asHeard(from, words)), kindsOf(from), from.cuts);

const placedIn = (from: LayOutFrom, found: readonly FoundSegment[]) =>
  found.map(({ in: start, out }, k) => ({ in: start, out, kind: kindsOf(from)[k] ?? "reader" }));
