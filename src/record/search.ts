import { segmentAt } from "../derive/holdings.ts";
import { formatClock, formatClockExact, parseClock } from "../model/clock.ts";
import type { Segment, TranscriptCue } from "../model/episode.ts";
import type { ClockMs } from "../model/units.ts";
import { findPassages, type Moment, nearestTo, type Passage } from "./locate.ts";
import { type NearMatch, nearMatch } from "./nearest.ts";
import { pieceIndexOf } from "./pieceIndex.ts";
import { type WorkingPiece, wordsOf, workingPieces } from "./words.ts";

/** Words found in an episode, in their context. */
export interface FoundWords extends Moment {
  /** The moment to write in a correction, so that these very words are found by it: `3:41`. */
  readonly at: string;
  /** Slug; null: in no segment. */
  readonly segment: string | null;
  readonly before: string;
  readonly words: string;
  readonly after: string;
}

/** Characters of context on either side. */
const CONTEXT = 60;

/** Every place where words stand, as a correction would find them; in one segment where a slug is given. */
export function findWords(
  said: string,
  cues: readonly TranscriptCue[],
  segments: readonly Segment[],
  slug: string | null = null,
): readonly FoundWords[] {
  const index = pieceIndexOf(workingPieces(cues));
  const within = segments.find((segment) => segment.slug === slug) ?? null;
  const inSegment = new Map<Segment | null, readonly Passage[]>();
  return findPassages(said, index, within).map((passage) => {
    const segment = segmentAt(passage.clock, segments) ?? null;
    const all = inSegment.get(segment) ?? findPassages(said, index, segment);
    inSegment.set(segment, all);
    return {
      at: momentOf(passage, all),
      clock: passage.clock,
      about: passage.about,
      until: passage.until,
      segment: segment?.slug ?? null,
      ...inContext(passage, index.pieces),
    };
  });
}

/** The shortest time that leads to this passage and to none of the others. */
function momentOf({ about, clock, until }: Passage, all: readonly Passage[]): string {
  const leads = (text: string): boolean => {
    const found = nearestTo(all, (parseClock(text) ?? about) as ClockMs);
    return found?.about === about && found.clock === clock && found.until === until;
  };
  const short = formatClock(about);
  return leads(short) ? short : formatClockExact(about);
}

function inContext(
  { spans }: Passage,
  pieces: readonly WorkingPiece[],
): Pick<FoundWords, "before" | "words" | "after"> {
  const textOf = (index: number): string => wordsOf(pieces[index]?.stretches ?? []);
  const [first, last] = [spans[0], spans.at(-1)];
  if (first === undefined || last === undefined) throw new Error("a passage without words");
  const before = `${textOf(first.piece - 1)} ${textOf(first.piece).slice(0, first.from)}`
    .replace(/\s+/g, " ")
    .trimStart();
  const after = `${textOf(last.piece).slice(last.to)} ${textOf(last.piece + 1)}`.replace(/\s+/g, " ").trimEnd();
  const words = spans.map(({ piece, from, to }) => textOf(piece).slice(from, to)).join(" ");
  return {
    before: before.length > CONTEXT ? `…${before.slice(-CONTEXT)}` : before,
    words: words.replace(/\s+/g, " "),
    after: after.length > CONTEXT ? `${after.slice(0, CONTEXT)}…` : after,
  };
}

/** Of places found, the one that a correction with this moment is laid over; without a moment, the first. */
export const nearestFound = (found: readonly FoundWords[], at: ClockMs | null): FoundWords | undefined =>
  nearestTo(found, at);

/** The words of an episode most like these; undefined where nothing is. */
export const nearestWords = (said: string, cues: readonly TranscriptCue[]): NearMatch | undefined =>
  nearMatch(said, pieceIndexOf(workingPieces(cues)), null);
