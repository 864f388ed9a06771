import { type Holding, holdingOf } from "../derive/holdings.ts";
import { type MediaSpan, mediaSpan } from "../derive/timeMap.ts";
import { type Speech, turnsOf } from "../derive/turns.ts";
import type { ClockMs } from "../model/units.ts";
import type { DayEpisode } from "./day.ts";
import type { LaidCorrection, LaidCue, LaidEpisode, LaidSegment } from "./laid.ts";

/** A correction as it concerns one segment. */
export interface OwnCorrection {
  readonly laid: LaidCorrection;
  /** Where in this segment, in the episode's clock: its first mark here, or the moment it names; null for the whole. */
  readonly clock: ClockMs | null;
  /** Whether words of this segment carry its mark. */
  readonly marked: boolean;
}

/** A segment as the public may have it on a day. */
export interface ShownSegment {
  readonly segment: LaidSegment;
  readonly holding: Holding;
  /** Its stretch of the recording; null where all of it was cut. */
  readonly span: MediaSpan | null;
  /** Empty where its words may not be given. */
  readonly cues: readonly LaidCue[];
  /** The same as turns and sounds. */
  readonly speech: readonly Speech[];
  /** Made for this segment, or marking words of it; in date order. */
  readonly corrections: readonly OwnCorrection[];
}

/** An episode as the public may have it on a day. Everything that leaves the house is made from this. */
export interface ShownEpisode extends Omit<DayEpisode, "texts"> {
  /** The local date it was aired, `2026-10-05`. */
  readonly date: string;
  readonly segments: readonly ShownSegment[];
  /** The texts as they were published, as far as they may be given. */
  readonly texts: readonly { readonly seq: number; readonly shown: ShownText }[];
}

/** What may be given of a text. */
export type ShownText = Pick<ShownEpisode, "episode" | "date" | "segments">;

/**
 * Takes away what may not be given on `day` (a local date): the words of segments withheld whole. A cue goes with the
 * segment that most of its time lies in; one outside all segments goes with the nearest before it, so that no word is lost.
 */
export function showEpisode({ texts, ...own }: DayEpisode, day: string): ShownEpisode {
  const inForce = showText(own.episode, day);
  const shown = texts.map(({ seq, episode }) => {
    return { seq, shown: episode === own.episode ? inForce : showText(episode, day) };
  });
  return { ...own, ...inForce, texts: shown };
}

/**
 * The same for a text alone: takes away what may not be given on `day`, a local date.
 */
export function showText(episode: LaidEpisode, day: string): ShownText {
  const bySegment = new Map<string, LaidCue[]>(episode.segments.map(({ slug }) => [slug, []]));
  for (const cue of episode.cues) {
    const home = homeOf(cue, episode.segments);
    if (home !== undefined) bySegment.get(home.slug)?.push(cue);
  }
  return {
    episode,
    date: episode.aired.slice(0, 10),
    segments: episode.segments.map((segment) => {
      const holding = holdingOf(segment, episode, day);
      const given = holding.words && segment.withdrawn === null && episode.withdrawn === null;
      const cues = given ? (bySegment.get(segment.slug) ?? []) : [];
      return {
        segment,
        holding,
        span: mediaSpan(segment.in, segment.out, episode),
        cues,
        speech: turnsOf(cues),
        corrections: correctionsOn(segment, cues, episode),
      };
    }),
  };
}

/** The segment that a cue goes with; undefined only where there are no segments. */
export function homeOf(cue: LaidCue, segments: readonly LaidSegment[]): LaidSegment | undefined {
  let [home, most] = [segments.findLast((segment) => segment.in <= cue.start) ?? segments[0], 0];
  for (const segment of segments) {
    const shared = Math.min(cue.end, segment.out) - Math.max(cue.start, segment.in);
    if (shared > most) [home, most] = [segment, shared];
  }
  return home;
}

function correctionsOn(
  { slug }: LaidSegment,
  cues: readonly LaidCue[],
  { laid }: LaidEpisode,
): readonly OwnCorrection[] {
  return laid.flatMap((one): readonly OwnCorrection[] => {
    const { id } = one.correction;
    const first = cues.find(({ parts }) =>
      parts.some(({ runs }) => runs.some(({ mark }) => mark?.correction.id === id)),
    );
    if (first !== undefined) return [{ laid: one, clock: first.start, marked: true }];
    return one.segment === slug ? [{ laid: one, clock: one.clock, marked: false }] : [];
  });
}
