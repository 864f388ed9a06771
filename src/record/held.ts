import { holdingOf, homesIn } from "../derive/holdings.ts";
import { mediaSpan } from "../model/timeMap.ts";
import { mediaMs } from "../model/units.ts";
import type { DayText } from "./day.ts";
import type { Unheard } from "./given.ts";
import type { LaidCue, LaidEpisode, LaidSegment } from "./laid.ts";
import { type Bounds, goesWith, meets, merged, widened, withWholePassages } from "./stretch.ts";

/** What may not be given of a text on a day, besides what is withdrawn and no more in it. */
export interface Held {
  /** The places of the cues whose words may not be given. */
  readonly cues: ReadonlySet<number>;
  /** In the order of their times, disjoint. */
  readonly sound: readonly Unheard[];
}

/**
 * What is withheld on a day (a local date) is bound to its words: every cue that went with the segment as published, as
 * corrected, or as the present text has it, whatever segment the cue stands in now. Where times are guesses and nobody
 * has listened to the edges, so is what stands near them.
 */
export function heldOn({ episode, also }: DayText, day: string): Held {
  // Also one that is withdrawn besides: it was taken away where it stood then, and withheld wherever it ever stood.
  const withheld = [...episode.segments, ...also].filter((segment) => holdingOf(segment, episode, day).withheld);
  const silent = withheld.filter((segment) => !holdingOf(segment, episode, day).words);
  const homeOf = homesIn(episode.segments);
  const isSilent = (segment: LaidSegment | undefined): boolean =>
    segment !== undefined && !holdingOf(segment, episode, day).words;
  const isHeld = (cue: LaidCue): boolean =>
    isSilent(homeOf(cue)) ||
    silent.some((segment) => segment.stood.some((own) => goesWith(cue, own) || isNear(cue, own, segment, episode)));
  const cues = new Set(episode.cues.flatMap((cue) => (isHeld(cue) ? [cue.place] : [])));
  const quiet = episode.segments.filter(
    (segment) => segment.withdrawn === null && segment.rights?.sound?.is === "silenced",
  );
  const stepped = [...withheld, ...quiet.filter((segment) => !withheld.includes(segment))];
  return { cues: withWholePassages(cues, episode.passages), sound: soundOf(episode, stepped) };
}

/** Whether where a segment's words begin and end is a guess that nobody has listened to. */
export function areEdgesGuessed(
  { slug, edgesHeard, proposed }: LaidSegment,
  { timesGuessed, segments }: LaidEpisode,
): boolean {
  const next = segments[segments.findIndex((own) => own.slug === slug) + 1];
  const isGuess = timesGuessed === true || proposed !== undefined || next?.proposed !== undefined;
  return isGuess && edgesHeard !== true;
}

const isNear = (cue: LaidCue, own: Bounds, segment: LaidSegment, episode: LaidEpisode): boolean =>
  areEdgesGuessed(segment, episode) && meets(cue, widened(own));

/** @param stepped the segments that the player steps over: withheld, or silent in the recording. */
function soundOf(episode: LaidEpisode, stepped: readonly LaidSegment[]): readonly Unheard[] {
  const slugs = new Map(episode.segments.map((segment) => [segment.slug, segment]));
  const ofWithheld = stepped.flatMap((segment) =>
    merged(segment.stood.map((own) => (areEdgesGuessed(segment, episode) ? widened(own) : own))).map((own) => ({
      own,
      segment: slugs.has(segment.slug) ? segment.slug : null,
    })),
  );
  const ofWithdrawn = episode.gone.map((own) => {
    const segment = slugs.get(own.segment ?? "");
    const isHeard = segment === undefined ? true : !areEdgesGuessed(segment, episode);
    return { own: isHeard ? own : widened(own), segment: segment?.slug ?? null };
  });
  const spans = [...ofWithheld, ...ofWithdrawn].flatMap(({ own, segment }): readonly Unheard[] => {
    const span = mediaSpan(own.from, own.to, episode);
    return span === null ? [] : [{ span, segment }];
  });
  return disjoint(spans);
}

/** Stretches in the order of their times; what two have in common belongs to the first. */
function disjoint(spans: readonly Unheard[]): readonly Unheard[] {
  const apart: Unheard[] = [];
  let end = mediaMs(0);
  for (const { span, segment } of spans.toSorted((a, b) => a.span.from - b.span.from || b.span.to - a.span.to)) {
    const from = mediaMs(Math.max(span.from, end));
    if (span.to <= from) continue;
    apart.push({ span: { from, to: span.to }, segment });
    end = span.to;
  }
  return apart;
}
