import { addAll } from "../model/addAll.ts";
import { tenths } from "../model/strip.ts";
import { toMediaEdge } from "../model/timeMap.ts";
import type { ShownEpisode, ShownSegment } from "../record/shown.ts";
import type { FineStrip, Weave } from "./types.ts";

const seconds = (ms: number): number => tenths(ms / 1000);

/** Who speaks when, in a segment, in seconds from its in point: one block a paragraph. */
export function weaveOf({ speech, span }: ShownSegment, shown: ShownEpisode, presenters: readonly string[]): Weave {
  const studio: [number, number][] = [];
  const others: [number, number][] = [];
  if (span === null) return { studio, others };
  for (const turn of speech) {
    if (turn.is === "sound") continue;
    const thread = turn.voice !== null && presenters.includes(turn.voice) ? studio : others;
    for (const paragraph of turn.paragraphs) {
      const from = Math.max(toMediaEdge(paragraph.start, shown.episode), span.from);
      const to = Math.min(toMediaEdge(paragraph.end, shown.episode), span.to);
      if (to > from) thread.push([seconds(from - span.from), seconds(to - from)]);
    }
  }
  return { studio, others };
}

/** The whole programme in one strip, in seconds of the media. */
export function stripOf(shown: ShownEpisode, presenters: readonly string[], carets: readonly number[]): FineStrip {
  const studio: [number, number][] = [];
  const others: [number, number][] = [];
  const held: [number, number][] = [];
  for (const own of shown.segments) {
    if (own.span === null) continue;
    const start = own.span.from / 1000;
    const weave = weaveOf(own, shown, presenters);
    addAll(studio, shifted(weave.studio, start));
    addAll(others, shifted(weave.others, start));
    if (own.holding.skip !== null) held.push([seconds(own.span.from), seconds(own.span.to - own.span.from)]);
  }
  return { runs: seconds(shown.episode.duration), studio, others, held, carets };
}

const shifted = (blocks: Weave["studio"], by: number): readonly [number, number][] =>
  blocks.map(([from, length]) => [tenths(from + by), length]);
