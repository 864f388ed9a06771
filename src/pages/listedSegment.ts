import type { SegmentKind } from "../model/episode.ts";
import { toMediaEdge } from "../model/timeMap.ts";
import type { ShownEpisode, ShownSegment } from "../record/shown.ts";
import { isListed } from "./order.ts";

/** A segment as lists of the whole archive need it: no words, and nothing that can be worked out. */
export interface ListedSegment {
  readonly slug: string;
  readonly title: string;
  readonly kind: SegmentKind;
  /** Where it begins in the recording, in seconds; null where the recording does not have it. */
  readonly at: number | null;
  readonly seconds: number;
  readonly summary: string | null;
  readonly topics: readonly string[];
  readonly places: readonly string[];
  /** In order of their first words. */
  readonly speakers: readonly string[];
  readonly withheld: boolean;
  readonly withdrawn: boolean;
  readonly corrections: number;
}

/** The segments of an episode as they may be given. What was withdrawn keeps its title, as in the running order, and no more. */
export const listedSegments = (shown: ShownEpisode): readonly ListedSegment[] =>
  shown.segments.filter(isListed).map((own) => listedSegment(own, shown));

function listedSegment(
  { segment, span, holding, speech, corrections }: ShownSegment,
  shown: ShownEpisode,
): ListedSegment {
  const { slug, title, kind, withdrawn } = segment;
  const isGone = withdrawn || shown.episode.withdrawn;
  const voices = speech.flatMap((turn) => (turn.is === "turn" && turn.voice !== null ? [turn.voice] : []));
  return {
    slug,
    title,
    kind,
    at: span === null || isGone ? null : toMediaEdge(segment.in, shown.episode) / 1000,
    seconds: span === null || isGone ? 0 : (span.to - span.from) / 1000,
    summary: isGone ? null : segment.summary,
    topics: isGone ? [] : segment.topics,
    places: isGone ? [] : segment.places,
    speakers: isGone ? [] : [...new Set(voices)],
    withheld: holding.withheld && !isGone,
    withdrawn: isGone,
    corrections: corrections.length,
  };
}
