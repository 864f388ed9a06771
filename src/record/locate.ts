import type { Segment, TranscriptCue } from "../model/episode.ts";
import { type ClockMs, clockMs } from "../model/units.ts";
import { samePunctuation, type Token, tokensOf } from "./fold.ts";
import { type PieceIndex, placeIn } from "./pieceIndex.ts";
import { type Span, tokensIn, type WorkingPiece, wordsOf } from "./words.ts";

/** A word of the episode with the piece it stands in. */
interface PlacedToken extends Token {
  readonly piece: number;
}

/** When words that were found are said. */
export interface Moment {
  /** When the first cue of them starts. */
  readonly clock: ClockMs;
  /** When the words are about said: the cue's time shared out by its letters. */
  readonly about: ClockMs;
  /** The first cue's end. */
  readonly until: ClockMs;
}

/** Words found in the episode: one span for each piece that they touch, in order. */
export interface Passage extends Moment {
  readonly spans: readonly Span[];
}

/** Whether a cue belongs to a segment: it starts in it. */
export const startsIn = (cue: TranscriptCue, segment: Pick<Segment, "in" | "out">): boolean =>
  segment.in <= cue.start && cue.start < segment.out;

/** The words of the pieces, in order; those of one segment where one is given. */
export function placedTokens(index: PieceIndex, segment: Segment | null): readonly PlacedToken[] {
  return tokensOfPieces(index, index.within(boundsOf(segment)));
}

const boundsOf = (segment: Segment | null) => (segment === null ? null : { from: segment.in, to: segment.out });

const tokensOfPieces = ({ pieces }: PieceIndex, numbers: readonly number[]): readonly PlacedToken[] =>
  numbers.flatMap((number) => {
    const piece = pieces[number];
    return piece === undefined ? [] : tokensIn(piece).map((token) => ({ ...token, piece: number }));
  });

/** Every place where the words `said` stand, whole words only, left to right and never overlapping. */
export function findPassages(said: string, index: PieceIndex, segment: Segment | null): readonly Passage[] {
  const tokens = tokensOf(said);
  const needle = tokens.map(({ text }) => text);
  const edges = { head: said.slice(0, tokens[0]?.from ?? 0).trim(), tail: said.slice(tokens.at(-1)?.to ?? 0).trim() };
  return rowsWith(needle, index, index.within(boundsOf(segment)))
    .flatMap((numbers) => foundIn(needle, tokensOfPieces(index, numbers)))
    .map((found) => passageOf(found, edges, index.pieces));
}

/**
 * The rows of pieces that the needle may stand in: those around pieces with the rarest of its words, so far to both sides
 * as the needle has words. Rows are apart. @param scope the pieces to look in, by number.
 */
function rowsWith(
  needle: readonly string[],
  index: PieceIndex,
  scope: readonly number[],
): readonly (readonly number[])[] {
  const rarest = needle.reduce<{ at: number; in: readonly number[] } | null>((least, word, at) => {
    const own = index.having(word);
    return least === null || own.length < least.in.length ? { at, in: own } : least;
  }, null);
  if (rarest === null) return [];
  const wordsAt = (place: number): number => {
    const piece = index.pieces[scope[place] ?? -1];
    return piece === undefined ? 0 : tokensIn(piece).length;
  };
  const rows: { from: number; to: number }[] = [];
  for (const number of rarest.in.length < scope.length ? rarest.in : scope) {
    const place = placeIn(scope, number);
    if (scope[place] !== number) continue;
    const last = rows.at(-1);
    let [from, to] = [place, place + 1];
    for (let words = rarest.at; words > 0 && from > (last?.to ?? 0); ) words -= wordsAt(--from);
    for (let words = needle.length - 1 - rarest.at; words > 0 && to < scope.length; ) words -= wordsAt(to++);
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to);
    else rows.push({ from, to });
  }
  return rows.map(({ from, to }) => scope.slice(from, to));
}

/** Where a needle stands in a row of words, in one walk over them (Knuth, Morris and Pratt, SIAM J. Comput. 6, 1977). */
function foundIn(needle: readonly string[], hay: readonly PlacedToken[]): readonly (readonly PlacedToken[])[] {
  const back = fallbacksOf(needle);
  const found: (readonly PlacedToken[])[] = [];
  let fits = 0;
  for (const [at, { text }] of hay.entries()) {
    while (fits > 0 && needle[fits] !== text) fits = back[fits - 1] ?? 0;
    if (needle[fits] === text) fits++;
    if (fits < needle.length) continue;
    found.push(hay.slice(at + 1 - fits, at + 1));
    fits = 0;
  }
  return found;
}

/** For each beginning of a needle, how many words of its end are the needle's own beginning again. */
function fallbacksOf(needle: readonly string[]): readonly number[] {
  const back = [0];
  let fits = 0;
  for (const word of needle.slice(1)) {
    while (fits > 0 && needle[fits] !== word) fits = back[fits - 1] ?? 0;
    if (needle[fits] === word) fits++;
    back.push(fits);
  }
  return back;
}

function passageOf(found: readonly PlacedToken[], edges: Edges, pieces: readonly WorkingPiece[]): Passage {
  const spans: Span[] = [];
  for (const token of found) {
    const last = spans.at(-1);
    if (last?.piece === token.piece) spans[spans.length - 1] = { ...last, to: token.to };
    else spans.push({ piece: token.piece, from: token.from, to: token.to });
  }
  return timed(withEdges(spans, edges, pieces), pieces);
}

/** The passage over these spans, with the times of the cue it begins in. */
function timed(spans: readonly Span[], pieces: readonly WorkingPiece[]): Passage {
  const [first] = spans;
  const piece = first === undefined ? undefined : pieces[first.piece];
  if (first === undefined || piece === undefined) throw new Error("a passage without words");
  const { start, end } = piece.cue;
  const own = pieces.slice(piece.number - piece.index, piece.number - piece.index + piece.cue.pieces.length);
  const before = own.slice(0, piece.index).reduce((sum, { stretches }) => sum + wordsOf(stretches).length, 0);
  const all = own.reduce((sum, { stretches }) => sum + wordsOf(stretches).length, 0);
  const share = all === 0 ? 0 : (before + first.from) / all;
  return { spans, clock: start, about: clockMs(Math.round(start + (end - start) * share)), until: end };
}

/** What stands before the first word and after the last one of words that are looked for. */
interface Edges {
  readonly head: string;
  readonly tail: string;
}

/**
 * Takes in the punctuation at the edges of `said` where the same stands in the transcript, and all of it where the
 * passage runs over the edge of a piece.
 */
function withEdges(spans: readonly Span[], { head, tail }: Edges, pieces: readonly WorkingPiece[]): readonly Span[] {
  return spans.map((span, index) => {
    const text = wordsOf(pieces[span.piece]?.stretches ?? []);
    const before = head === "" ? 0 : reach([...head].reverse(), [...text.slice(0, span.from)].reverse());
    const after = tail === "" ? 0 : reach([...tail], [...text.slice(span.to)]);
    return {
      ...span,
      from: index === 0 ? span.from - before : text.length - text.trimStart().length,
      to: index === spans.length - 1 ? span.to + after : text.trimEnd().length,
    };
  });
}

/** How many UTF-16 units of `text` are the same marks as `marks`, from the beginning. */
function reach(marks: readonly string[], text: readonly string[]): number {
  let units = 0;
  for (const [index, mark] of marks.entries()) {
    const stands = text[index];
    if (stands === undefined || !samePunctuation(mark, stands)) break;
    units += stands.length;
  }
  return units;
}

/** How far a moment is from the passage's first cue; 0 inside it. */
export const distance = (passage: Moment, at: ClockMs): number => Math.max(0, passage.clock - at, at - passage.until);

/** The passage nearest to a moment; of two in one cue, the one said nearest to it; without a moment, the first. */
export function nearestTo<T extends Moment>(passages: readonly T[], at: ClockMs | null): T | undefined {
  if (at === null) return passages[0];
  return passages.reduce<T | undefined>((best, own) => {
    if (best === undefined) return own;
    const nearer = distance(own, at) - distance(best, at) || Math.abs(own.about - at) - Math.abs(best.about - at);
    return nearer < 0 ? own : best;
  }, undefined);
}
