import { addAll } from "../../model/addAll.ts";
import type { Span } from "../captioning/lending.ts";
import { type Room, roomBefore } from "../captioning/room.ts";
import { endsSentence } from "../captioning/stops.ts";
import { DRAWL, HASTE, pauseAfter, speechOf, spread } from "../captioning/wordTimes.ts";

/** A word that is to have a time. */
interface Written {
  readonly text: string;
  readonly voice: string | null;
}

/** How much shorter they may be at all: 180 words a minute become 450. Common practice, no source. */
const LEAST = 0.4;
/** The shortest that a word stands, so that no two begin at once: milliseconds. */
const BLINK = 20;
/** Programmes begin a segment this long before its first word, and end one this long after its last. Measured on the demo. */
export const LEAD = 400;

export interface Laying {
  readonly room: Room;
  /**
   * What speaks against a new stretch of room beginning with word `n`; less than 0 speaks for it. A second's distance
   * from where the old times have it costs 1. `seam`: counts the ends of the stretches from 0.
   */
  readonly clue?: (seam: number, n: number) => number;
}

/**
 * Gives every word a time in the room: its own, where that lies there, else between its neighbours. Where there is too
 * little room between them, the neighbours give of theirs. Words keep their order; no two overlap or begin at once.
 * @param spans the time of each word, where it is known; rising.
 * @returns whole milliseconds; null where the words can't be spoken in the room.
 */
export function layWords<W extends Written>(
  words: readonly W[],
  spans: readonly (Span | null)[],
  { room, clue }: Laying,
): readonly (W & Span)[] | null {
  const splits = splitsOf(words, spans, room, clue ?? (() => 0));
  if (splits === null) return null;
  return room.flatMap((stretch, s) => {
    const [from, to] = [splits[s] ?? 0, splits[s + 1] ?? words.length];
    return laid(words.slice(from, to), spans.slice(from, to), stretch, s > 0);
  });
}

const NOWHERE: Span = { start: 0, end: 0 };

/** The least time that each of the words up to word n takes, summed: n from 0. */
function leastOf(words: readonly Written[]): Float64Array {
  const sums = new Float64Array(words.length + 1);
  words.forEach(({ text }, n) => {
    sums[n + 1] = (sums[n] ?? 0) + Math.max(BLINK, speechOf(text) * LEAST);
  });
  return sums;
}

/**
 * The word that each stretch of the room begins with, and the number of words at the end; null where they don't fit.
 * The nearest to the old times wins, at a sentence's end where there is one near.
 */
function splitsOf(
  words: readonly Written[],
  spans: readonly (Span | null)[],
  room: Room,
  clue: (seam: number, n: number) => number,
): readonly number[] | null {
  const bounds = boundsOf(words, room);
  if (bounds === null) return null;
  const { least, earliest } = bounds;
  const rough = room.length > 1 ? roughTimes(words, spans) : [];
  const splits = [0];
  for (let s = 1; s < room.length; s++) {
    const from = splits[s - 1] ?? 0;
    const before = room[s - 1] ?? NOWHERE;
    const width = before.end - before.start;
    const seam = { start: before.end, end: room[s]?.start ?? before.end };
    let [best, cost] = [-1, Number.POSITIVE_INFINITY];
    for (let n = Math.max(from, earliest[s] ?? 0); n <= words.length; n++) {
      if ((least[n] ?? 0) - (least[from] ?? 0) > width) break;
      const here = distance(n, rough, seam, room) + tornAt(n, words) + clue(s - 1, n);
      if (here < cost) [best, cost] = [n, here];
    }
    if (best === -1) return null;
    splits.push(best);
  }
  return [...splits, words.length];
}

/** For each stretch the first word that it may begin with, for the later ones to fit. */
function boundsOf(
  words: readonly Written[],
  room: Room,
): { readonly least: Float64Array; readonly earliest: readonly number[] } | null {
  const least = leastOf(words);
  const earliest: number[] = Array.from({ length: room.length }, () => 0);
  let to = words.length;
  for (let s = room.length - 1; s >= 0; s--) {
    const { start, end } = room[s] ?? { start: 0, end: 0 };
    let from = to;
    while (from > 0 && (least[to] ?? 0) - (least[from - 1] ?? 0) <= end - start) from--;
    earliest[s] = from;
    to = from;
  }
  return to > 0 ? null : { least, earliest };
}

/** Times for all words, those without one shared out between their neighbours; only to judge where a seam falls. */
function roughTimes(words: readonly Written[], spans: readonly (Span | null)[]): readonly Span[] {
  const rough: Span[] = [];
  for (let n = 0; n < words.length; ) {
    const own = spans[n] ?? null;
    let to = n;
    while (to < words.length && (spans[to] ?? null) === null) to++;
    if (own !== null) {
      rough.push(own);
      n++;
      continue;
    }
    const [before, after] = [rough.at(-1)?.end, spans[to]?.start];
    const start = before ?? after ?? 0;
    addAll(rough, spread(words.slice(n, to), start, Math.max(start, after ?? start)));
    n = to;
  }
  return rough;
}

/** What a second inside a seam counts for, against one of room: times in a break are nobody's. Common practice, no source. */
const INSIDE = 0.25;

/** How far from a seam the pause before word n is, in seconds. @param seam what lies between two stretches of room. */
function distance(n: number, rough: readonly Span[], seam: Span, room: Room): number {
  const [last, next] = [n === 0 ? 0 : (rough[n - 1]?.end ?? 0), rough[n]?.start ?? Number.POSITIVE_INFINITY];
  const at = roomBefore(seam.start, room);
  const outside = Math.max(0, roomBefore(last, room) - at, at - roomBefore(next, room));
  const inside = Math.max(0, Math.min(last, seam.end) - seam.start, seam.end - Math.max(next, seam.start));
  return (outside + inside * INSIDE) / 1000;
}

/** What it costs to tear words apart before word n: nothing where a sentence ends. Common practice, no source. */
function tornAt(n: number, words: readonly Written[]): number {
  const [before, after] = [words[n - 1], words[n]];
  if (before === undefined || after === undefined || endsSentence(before.text)) return 0;
  if (before.voice !== after.voice) return 1;
  return pauseAfter(before.text) > 0 ? 2 : 3;
}

/** A word's own time, and whether it stands: it gives way where its neighbours need room. */
type Held = Span | null;

/** Words in one stretch. @param late whether it begins where the recording is cut or a break ends. */
function laid<W extends Written>(
  words: readonly W[],
  spans: readonly (Span | null)[],
  stretch: Span,
  late: boolean,
): readonly (W & Span)[] {
  const held = spans.map((span) => within(span, stretch));
  giveWay(words, held, stretch);
  const timed: (W & Span)[] = [];
  for (let n = 0; n < words.length; ) {
    const [word, own] = [words[n], held[n] ?? null];
    if (word !== undefined && own !== null) {
      timed.push({ ...word, ...own });
      n++;
      continue;
    }
    const to = runEnd(held, n);
    const run = words.slice(n, to);
    const place = placeOf(run, timed.at(-1), held[to] ?? null, stretch, late);
    addAll(timed, spread(run, place.start, place.end));
    n = to;
  }
  return apart(timed, stretch);
}

/** The part of a word's time that lies in the stretch; null where hardly any does. */
function within(span: Span | null, { start, end }: Span): Held {
  if (span === null) return null;
  const inside = { start: Math.max(span.start, start), end: Math.min(span.end, end) };
  const length = span.end - span.start;
  return inside.end <= inside.start || inside.end - inside.start < length / 2 ? null : inside;
}

const runEnd = (held: readonly Held[], from: number): number => {
  let to = from;
  while (to < held.length && (held[to] ?? null) === null) to++;
  return to;
};

/** Takes away the times of words next to a run that has too little room, until it has enough. */
function giveWay(words: readonly Written[], held: Held[], stretch: Span): void {
  for (let n = 0; n < words.length; ) {
    if ((held[n] ?? null) !== null) {
      n++;
      continue;
    }
    let from = n;
    let to = runEnd(held, n);
    while (from > 0 || to < words.length) {
      const start = held[from - 1]?.end ?? stretch.start;
      const end = held[to]?.start ?? stretch.end;
      if (end - start >= lengthOf(words.slice(from, to)) * HASTE) break;
      const share = Math.max(1, (to - from) >> 2);
      for (let i = 0; i < share; i++) {
        if (from > 0) held[--from] = null;
        if (to < words.length) held[to++] = null;
      }
      while (from > 0 && (held[from - 1] ?? null) === null) from--;
      to = runEnd(held, to);
    }
    n = to;
  }
}

/** How long words take, with the pauses between them and after the last. */
export const lengthOf = (words: readonly Pick<Written, "text">[]): number =>
  words.reduce((sum, { text }) => sum + Math.max(BLINK, speechOf(text)) + pauseAfter(text), 0);

/** The time for a run of words between two others: beside the one that it belongs to. */
function placeOf(
  run: readonly Written[],
  before: (Written & Span) | undefined,
  after: Span | null,
  stretch: Span,
  late: boolean,
): Span {
  const wanted = lengthOf(run);
  const lead = late && before === undefined ? LEAD : 0;
  const first = before?.end ?? stretch.start;
  const last = after?.start ?? stretch.end;
  const from = last - first - lead >= wanted * HASTE ? first + lead : first;
  const length = Math.min(last - from, wanted * (after === null ? 1 : DRAWL));
  const followsOn = after === null || (before !== undefined && pauseAfter(before.text) === 0);
  if (followsOn) return { start: from, end: from + length };
  const start = before === undefined ? Math.max(from, last - wanted) : last - length;
  return { start, end: last };
}

/** Whole milliseconds, no two words at once, none past the stretch. */
function apart<W extends Span>(timed: readonly W[], { start: first, end: last }: Span): readonly W[] {
  const rounded = timed.map((word) => ({ ...word, start: Math.round(word.start), end: Math.round(word.end) }));
  let least = first;
  for (const word of rounded) {
    word.start = Math.max(word.start, least);
    word.end = Math.max(word.end, word.start + 1);
    least = word.start + 1;
  }
  let most = last;
  for (const word of rounded.toReversed()) {
    word.end = Math.min(word.end, most);
    word.start = Math.min(word.start, word.end - 1);
    most = word.start;
  }
  return rounded;
}
