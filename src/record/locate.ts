import type { Segment, TranscriptCue } from "../model/episode.ts";
import { type ClockMs, clockMs } from "../model/units.ts";
import { samePunctuation, type Token, tokensOf } from "./fold.ts";
import { type Span, tokensIn, type WorkingPart, wordsOf } from "./words.ts";

/** A word of the episode with the part it stands in. */
interface PlacedToken extends Token {
  readonly part: number;
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

/** Words found in the episode: one span for each part that they touch, in order. */
export interface Passage extends Moment {
  readonly spans: readonly Span[];
}

/** Whether a cue belongs to a segment: it starts in it. */
export const startsIn = (cue: TranscriptCue, segment: Pick<Segment, "in" | "out">): boolean =>
  segment.in <= cue.start && cue.start < segment.out;

/** The words of the parts, in order; those of one segment where one is given. */
export function placedTokens(parts: readonly WorkingPart[], segment: Segment | null): readonly PlacedToken[] {
  return parts.flatMap((part, index) =>
    segment !== null && !startsIn(part.cue, segment) ? [] : tokensIn(part).map((token) => ({ ...token, part: index })),
  );
}

/** Every place where the words `said` stand, whole words only, left to right and never overlapping. */
export function findPassages(said: string, parts: readonly WorkingPart[], segment: Segment | null): readonly Passage[] {
  const needle = tokensOf(said);
  const hay = placedTokens(parts, segment);
  const passages: Passage[] = [];
  if (needle.length === 0) return passages;
  for (let at = 0; at + needle.length <= hay.length; at += 1) {
    if (!needle.every((token, index) => token.text === hay[at + index]?.text)) continue;
    passages.push(passageOf(hay.slice(at, at + needle.length), said, parts));
    at += needle.length - 1;
  }
  return passages;
}

function passageOf(found: readonly PlacedToken[], said: string, parts: readonly WorkingPart[]): Passage {
  const spans: Span[] = [];
  for (const token of found) {
    const last = spans.at(-1);
    if (last?.part === token.part) spans[spans.length - 1] = { ...last, to: token.to };
    else spans.push({ part: token.part, from: token.from, to: token.to });
  }
  return timed(withEdges(spans, said, parts), parts);
}

/** The passage over these spans, with the times of the cue it begins in. */
function timed(spans: readonly Span[], parts: readonly WorkingPart[]): Passage {
  const [first] = spans;
  const part = first === undefined ? undefined : parts[first.part];
  if (first === undefined || part === undefined) throw new Error("a passage without words");
  const { start, end } = part.cue;
  const own = parts.filter(({ cue }) => cue === part.cue);
  const before = own.slice(0, part.index).reduce((sum, { stretches }) => sum + wordsOf(stretches).length, 0);
  const all = own.reduce((sum, { stretches }) => sum + wordsOf(stretches).length, 0);
  const share = all === 0 ? 0 : (before + first.from) / all;
  return { spans, clock: start, about: clockMs(Math.round(start + (end - start) * share)), until: end };
}

/**
 * Takes in the punctuation at the edges of `said` where the same stands in the transcript, and all of it where the
 * passage runs over the edge of a part.
 */
function withEdges(spans: readonly Span[], said: string, parts: readonly WorkingPart[]): readonly Span[] {
  const tokens = tokensOf(said);
  const [head, tail] = [said.slice(0, tokens[0]?.from ?? 0).trim(), said.slice(tokens.at(-1)?.to ?? 0).trim()];
  return spans.map((span, index) => {
    const text = wordsOf(parts[span.part]?.stretches ?? []);
    const before = reach([...head].reverse(), [...text.slice(0, span.from)].reverse());
    const after = reach([...tail], [...text.slice(span.to)]);
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
  return passages.toSorted(
    (a, b) => distance(a, at) - distance(b, at) || Math.abs(a.about - at) - Math.abs(b.about - at),
  )[0];
}
