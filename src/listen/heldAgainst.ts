import type { Span } from "../derive/captioning/lending.ts";
import { speechOf } from "../derive/captioning/wordTimes.ts";
import { formatClock } from "../model/clock.ts";
import { shortened } from "../model/excerpt.ts";
import { type Timed, toEpisode, toMediaEdge } from "../model/timeMap.ts";
import { clockMs, mediaMs } from "../model/units.ts";
import type { SoundFault } from "./hear.ts";
import type { Division, SoundKind } from "./kinds.ts";

/** A fault at a moment of the episode's clock, in milliseconds. */
export interface HeardFault extends SoundFault {
  readonly at: number;
  /** The stretch that was judged: between the words that are heard before and after. */
  readonly around: Span;
}

/** A word of a text that was looked for in a recording. */
export interface SoughtWord {
  readonly text: string;
  /** When it is heard, in milliseconds of the media; null: it is not. */
  readonly heard: Span | null;
}

/** So near to its edges, a stretch may be another. Milliseconds. */
const EDGE = 300;
/** Fewer words in a row than this may be a slip. Common practice, no source. */
const A_RUN = 2;
/** Of the time that words take to say, so much speech may be where they stand, and still nobody says them. */
const UNSAID = 0.3;
/** So much of other sound must be there. Milliseconds. */
const LEAST_OTHER = 1000;
/** So much speech without words is missed. Milliseconds; common practice, no source. */
const MISSED = 4000;
/** Words may be spoken so much slower than by nature. */
const SLOW = 1.5;
/** Of a break, so much is speech where it isn't a break; and of the stretch beside it that is meant, so much at most. */
const [TALK, HUSH] = [0.8, 0.2] as const;
/** So far from where it is said to be, a break is looked for, and so long it is at least. Milliseconds. */
const [BESIDE, A_BREAK] = [120_000, 8000] as const;

const NAMES: Readonly<Record<SoundKind, string>> = {
  speech: "somebody speaks",
  music: "there is music or other sound",
  tone: "there is a tone",
  silence: "there is silence",
};

/** How much of a stretch of the media is of a kind, in milliseconds. */
function within(division: Division, { start, end }: Span, kind: SoundKind): number {
  return division.stretches.reduce(
    (sum, own) => (own.kind === kind ? sum + Math.max(0, Math.min(end, own.end) - Math.max(start, own.start)) : sum),
    0,
  );
}

/** Words between two that are heard, and the time of the media between those. */
interface Gap extends Span {
  readonly words: readonly string[];
}

/**
 * The words that are not heard, with the room that is theirs. What is heard where nobody speaks is no word: the search
 * finds a short one in any sound.
 */
function gapsOf(sought: readonly SoughtWord[], division: Division, whole: Span): readonly Gap[] {
  const isSpoken = ({ start, end }: Span) => within(division, { start: start - EDGE, end: end + EDGE }, "speech") > 0;
  const gaps: Gap[] = [];
  let [start, words]: [number, string[]] = [whole.start, []];
  for (const { text, heard } of sought) {
    if (heard === null || !isSpoken(heard)) words.push(text);
    else {
      gaps.push({ start, end: Math.max(start, heard.start), words });
      [start, words] = [heard.end, []];
    }
  }
  gaps.push({ start, end: Math.max(start, whole.end), words });
  return gaps;
}

const isWord = (text: string): boolean => /[\p{L}\p{N}]/u.test(text);

/**
 * Where a text and its recording disagree: words where nobody speaks, and speech that has no words.
 * @param sought the words in order, without those of cuts. @param whole the part of the media that the text is for.
 */
export function heldAgainst(
  sought: readonly SoughtWord[],
  division: Division,
  whole: Span,
  timed: Timed,
): readonly HeardFault[] {
  const clock = (ms: number): number => toEpisode(mediaMs(Math.round(ms)), timed);
  return gapsOf(sought, division, whole).flatMap((gap): readonly HeardFault[] => {
    const said = gap.words.filter(isWord);
    const needed = said.reduce((sum, word) => sum + speechOf(word), 0);
    const speech = speechIn(division, gap);
    const [from, to] = [clock(gap.start), clock(Math.max(gap.start, gap.end - 1))];
    if (said.length >= A_RUN && speech < Math.max(EDGE, needed * UNSAID)) {
      const other = longestOther(division, gap);
      if (other === null || other.end - other.start < LEAST_OTHER) return [];
      const at = clock(other.start);
      const says = `“${shortened(gap.words.join(" "), 70)}” is not heard, and nobody speaks where it stands: from ${formatClock(at)} on ${NAMES[other.kind]}.`;
      return [
        {
          rule: "words-unspoken",
          at,
          around: { start: from, end: to },
          says,
          mend: "Listen there, and take the words out: recognisers make them up over music.",
        },
      ];
    }
    if (speech < MISSED + needed * SLOW) return [];
    const says = `Somebody speaks for ${Math.round(speech / 1000)} seconds between ${formatClock(from)} and ${formatClock(to)}, and the transcript has ${said.length === 0 ? "no words" : `only “${shortened(gap.words.join(" "), 40)}”`} there.`;
    return [
      {
        rule: "speech-without-words",
        at: from,
        around: { start: from, end: to },
        says,
        mend: "Listen there, and write down what is said.",
      },
    ];
  });
}

/** How long somebody speaks in a stretch of the media, without pauses. */
function speechIn(division: Division, { start, end }: Span): number {
  const inner = { start: Math.min(end, start + EDGE), end: Math.max(start, end - EDGE) };
  if (inner.end <= inner.start) return 0;
  const pauses = division.pauses.reduce(
    (sum, own) => sum + Math.max(0, Math.min(inner.end, own.end) - Math.max(inner.start, own.start)),
    0,
  );
  return within(division, inner, "speech") - pauses;
}

/** The longest part of a stretch in which nobody speaks. */
function longestOther(division: Division, { start, end }: Span): (Span & { readonly kind: SoundKind }) | null {
  const parts = division.stretches.flatMap((own) => {
    const part = { kind: own.kind, start: Math.max(start, own.start), end: Math.min(end, own.end) };
    return own.kind !== "speech" && part.end > part.start ? [part] : [];
  });
  return parts.reduce<(typeof parts)[number] | null>(
    (best, own) => (best === null || own.end - own.start > best.end - best.start ? own : best),
    null,
  );
}

/** A break as it is said to be, in milliseconds of the episode's clock. */
export interface SaidBreak extends Span {
  readonly slug: string;
}

/**
 * Breaks that are not where they are said to be: somebody speaks through the one, and nearby is a long stretch where
 * nobody does. A break of spoken adverts alone is none of these: it can't be told from the programme by its sound.
 */
export function breaksAgainst(breaks: readonly SaidBreak[], division: Division, timed: Timed): readonly HeardFault[] {
  const media = (at: number): number => toMediaEdge(clockMs(Math.round(at)), timed);
  const clock = (ms: number): number => toEpisode(mediaMs(Math.round(ms)), timed);
  const hushes = hushesOf(division);
  const taken = (own: Span) =>
    breaks.some(({ start, end }) => media(start) < own.end - EDGE && own.start + EDGE < media(end));
  return breaks.flatMap(({ slug, start, end }): readonly HeardFault[] => {
    const own = { start: media(start), end: media(end) };
    const length = own.end - own.start;
    if (length < A_BREAK || within(division, own, "speech") < length * TALK) return [];
    const near = hushes.filter(
      (hush) =>
        hush.end - hush.start >= Math.max(A_BREAK, length / 2) &&
        hush.start - own.end < BESIDE &&
        own.start - hush.end < BESIDE &&
        !taken({ start: hush.start + (hush.end - hush.start) * HUSH, end: hush.end - (hush.end - hush.start) * HUSH }),
    );
    const [nearest] = near.toSorted((a, b) => Math.abs(a.start - own.start) - Math.abs(b.start - own.start));
    if (nearest === undefined) return [];
    const [from, to] = [formatClock(clock(nearest.start)), formatClock(clock(nearest.end))];
    const says = `The break ${slug} is said to run from ${formatClock(start)} to ${formatClock(end)}, but somebody speaks there; nobody does from ${from} to ${to}.`;
    return [
      {
        rule: "break-elsewhere",
        at: start,
        around: { start, end },
        says,
        mend: "Listen there, and correct its points.",
      },
    ];
  });
}

/** Stretches in which nobody speaks, whatever else is heard there. */
function hushesOf({ stretches }: Division): readonly Span[] {
  const hushes: Span[] = [];
  for (const { kind, start, end } of stretches) {
    const before = hushes.at(-1);
    if (kind === "speech") continue;
    if (before !== undefined && before.end === start) hushes[hushes.length - 1] = { start: before.start, end };
    else hushes.push({ start, end });
  }
  return hushes;
}
