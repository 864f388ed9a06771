import type { SegmentKind } from "../../model/episode.ts";
import type { RegisteredName } from "../../model/programme.ts";
import type { Lump, PlannedSegment, SpokenWord } from "../../model/spoken.ts";
import { layWords } from "../align/layWords.ts";
import type { Span } from "../cutting/lending.ts";
import { ALWAYS, roomOutside } from "../cutting/room.ts";
import { heardOutside } from "../cutting/wordTimes.ts";
import type { Heard } from "./clues.ts";
import { type CutLike, edgesOf, fitToCuts, seamClues, silentSpans } from "./cutEdges.ts";
import { type FoundSegment, findSegments } from "./segments.ts";
import { castOf } from "./speakers.ts";

/** What a raw transcript is laid out by. Milliseconds of its clock. */
export interface Raw {
  readonly lumps: readonly Lump[];
  readonly order: readonly PlannedSegment[];
  readonly names: readonly RegisteredName[];
  /** Where the recording ends, as far as that is known; and where the programme does, at least. */
  readonly given: number | null;
  readonly end: number;
  /** What the recording lacks: sorted, disjoint; and those of it that somebody measured. */
  readonly cuts: readonly CutLike[];
  readonly measured: readonly CutLike[];
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
export function layOut(raw: Raw): LaidOut {
  const { lumps, given, cuts, measured } = raw;
  let silent = silentSpans(measured, [], []);
  let heard = heardOutside(lumps, { end: given }, silent);
  let found = cuts.length === 0 ? [] : findAround(raw, heard.words);
  const known = silentSpans(measured, [], placedIn(raw, found));
  if (JSON.stringify(known) !== JSON.stringify(silent)) {
    silent = known;
    heard = heardOutside(lumps, { end: given }, silent);
    found = findAround(raw, heard.words);
  }
  const words = laidAround(raw, heard.words, found, silent);
  const inside = silent.map((span) => ({
    span,
    words: heard.inside.filter(({ start }) => span.start <= start && start < span.end),
  }));
  return { words, inside: inside.filter((one) => one.words.length > 0), found: findAround(raw, words) };
}

/** The words with none across a cut's edge or in a silent stretch; as they were where there is no room for that. */
function laidAround(
  raw: Raw,
  words: readonly SpokenWord[],
  found: readonly FoundSegment[],
  silent: readonly Span[],
): readonly SpokenWord[] {
  const room = roomOutside(silent, edgesOf(raw.cuts), ALWAYS);
  const clues = room.length > 1 ? seamClues(asHeard(raw, words), placedIn(raw, found), silent) : () => 0;
  const clue = (seam: number, n: number) => clues(room[seam]?.end ?? 0, n);
  return layWords(words, words, { room, clue }) ?? layWords(words, words, { room: [ALWAYS] }) ?? words;
}

const kindsOf = ({ order }: Raw): readonly SegmentKind[] => order.map(({ kind }) => kind);

const asHeard = ({ order, names, end }: Raw, words: readonly SpokenWord[]): Heard => {
  return { words, order, echoes: castOf(words, names).echoes, end };
};

const findAround = (raw: Raw, words: readonly SpokenWord[]): readonly FoundSegment[] =>
  fitToCuts(findSegments(asHeard(raw, words)), kindsOf(raw), raw.cuts);

const placedIn = (raw: Raw, found: readonly FoundSegment[]) =>
  found.map(({ in: start, out }, k) => ({ in: start, out, kind: kindsOf(raw)[k] ?? "reader" }));
