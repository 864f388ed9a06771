import type { SegmentKind } from "../../model/episode.ts";
import { firstWhere } from "../../model/firstWhere.ts";
import type { SpokenWord } from "../../model/spoken.ts";
import type { Span } from "../captioning/lending.ts";
import { type Sentence, sentencesOf } from "./sentences.ts";
import type { TellApart } from "./voiceNames.ts";

/** A stretch of the transcript's clock where nobody speaks: a pause, silence or music, or several that touch. Milliseconds. */
export interface Quiet extends Span {
  /** How long it is in the recording, which may lack a part of it. */
  readonly length: number;
  /** How much of that is music, and where the first of it begins; null: there is none, or the recording lacks a part of the quiet. */
  readonly music: number;
  readonly musicFrom: number | null;
}

/** A name that is heard, whatever the recogniser wrote there. Milliseconds. */
export interface HeardName extends Span {
  readonly name: string;
  /** How much better the sound fits the name than it must to count: a logarithm of likelihood a frame. */
  readonly fit: number;
}

/** What listening to the recording tells of a transcript. */
export interface Recording {
  readonly tellApart: TellApart;
  /** In their order; none overlaps another. */
  readonly quiets: readonly Quiet[];
  /** The names that are heard: in their order. */
  readonly names: readonly HeardName[];
}

/** Nobody speaks for so long, and somebody begins anew: milliseconds. Inside a sentence hardly anybody rests that long. */
const A_REST = 500;
/** A word begins at a quiet's end when it is so near: before it, and after. Milliseconds. */
const [BEFORE, AFTER] = [200, 250] as const;

/** Music that is shorter is an error of hearing; milliseconds. And what is longer is more than a sting between segments. */
export const LEAST_MUSIC = 300;
const LONGEST_STING = 6000;

/** The sentences of what was heard, parted again where a rest is heard before a word. */
export function piecesOf(words: readonly SpokenWord[], recording: Recording | null): readonly Sentence[] {
  const sentences = sentencesOf(words);
  if (recording === null) return sentences;
  const rested = new Set(
    recording.quiets.flatMap((quiet) => (quiet.length < A_REST ? [] : (wordAfter(quiet, words) ?? []))),
  );
  return sentences.flatMap(({ from, to }) => {
    const begins = [from];
    for (let word = from + 1; word < to; word++) if (rested.has(word)) begins.push(word);
    return begins.map((begin, n) => ({ from: begin, to: begins[n + 1] ?? to }));
  });
}

/** The word that begins nearest to where a quiet ends; null where none is near. */
function wordAfter({ end }: Quiet, words: readonly SpokenWord[]): number | null {
  const startOf = (n: number) => words[n]?.start ?? Number.POSITIVE_INFINITY;
  const next = firstWhere(words.length, (n) => startOf(n) >= end);
  const nearest = end - startOf(next - 1) < startOf(next) - end ? next - 1 : next;
  return startOf(nearest) >= end - BEFORE && startOf(nearest) <= end + AFTER ? nearest : null;
}

/** The quiet that ends where a word begins; null: there is none. */
export function quietBefore(recording: Recording | null, start: number): Quiet | null {
  if (recording === null) return null;
  const { quiets } = recording;
  const ended = quiets[firstWhere(quiets.length, (n) => (quiets[n]?.end ?? 0) > start + BEFORE) - 1];
  return ended !== undefined && ended.end >= start - AFTER ? ended : null;
}

/**
 * Where a segment begins whose first word is this: in the middle of the rest before it, and at most so long before it.
 * Where a sting goes before it, with the sting; but for headlines, which end with theirs, and breaks. Common practice, no source.
 * @param lead milliseconds before the word. @param after the kind of the segment before. @returns null: nothing is heard there.
 */
export function beginsInRest(
  recording: Recording | null,
  start: number,
  { lead, after }: { readonly lead: number; readonly after: SegmentKind | null },
): number | null {
  const quiet = quietBefore(recording, start);
  if (quiet === null) return null;
  const isSting = quiet.music >= LEAST_MUSIC && quiet.music <= LONGEST_STING;
  if (isSting && quiet.musicFrom !== null && after !== "headlines" && after !== "break") return quiet.musicFrom;
  return start - Math.min(lead, quiet.length / 2);
}
