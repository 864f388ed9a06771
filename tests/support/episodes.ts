import { parseClock } from "../../src/model/clock.ts";
import type { Cut, Episode, Segment, TranscriptCue } from "../../src/model/episode.ts";
import { clockMs, mediaMs } from "../../src/model/units.ts";

const SOMEWHERE = { file: "episodes/2026/2026-10-05/episode.md", line: 1, column: 1 };

/** Milliseconds of `m:ss` or `m:ss.mmm`; a fault of the test where it is no time. */
export function ms(text: string): number {
  const parsed = parseClock(text);
  if (parsed === null) throw new Error(`${text} is no time`);
  return parsed;
}

export const cutsOf = (pairs: readonly (readonly [number, number])[]): readonly Cut[] =>
  pairs.map(([from, to]) => ({ from: clockMs(from), to: clockMs(to), why: "break", at: SOMEWHERE }));

export const timed = (...pairs: readonly (readonly [string, string])[]): Pick<Episode, "clock" | "cuts"> => ({
  clock: "aired",
  cuts: cutsOf(pairs.map(([from, to]) => [ms(from), ms(to)])),
});

/** A cue: times in clock notation, then a voice (or null) and its words. */
export function cue(start: string, end: string, voice: string | null, words: string): TranscriptCue {
  return {
    id: "",
    start: clockMs(ms(start)),
    end: clockMs(ms(end)),
    pieces: [{ voice, language: null, words }],
    settings: "",
    at: { file: "episodes/2026/2026-10-05/transcript.vtt", line: 3, column: 1 },
  };
}

export function segment(slug: string, from: string, to: string, more: Partial<Segment> = {}): Segment {
  return {
    slug,
    kind: "package",
    title: `About ${slug}`,
    in: clockMs(ms(from)),
    out: clockMs(ms(to)),
    by: [],
    topics: [],
    places: [],
    summary: null,
    rights: null,
    cautions: [],
    planned: null,
    at: SOMEWHERE,
    ...more,
  };
}

export function episode(more: Partial<Episode> = {}): Episode {
  return {
    id: "2026-10-05",
    title: "An evening",
    summary: null,
    aired: "2026-10-05T18:30:00.000+01:00",
    duration: mediaMs(60_000),
    media: [],
    clock: "aired",
    cuts: [],
    segments: [],
    cues: [],
    notes: "",
    corrections: [],
    folder: "episodes/2026/2026-10-05",
    at: SOMEWHERE,
    ...more,
  };
}
