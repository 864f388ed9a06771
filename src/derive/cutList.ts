import type { CutList, Doing, ListedStretch, Recording } from "../model/cutList.ts";
import type { Episode } from "../model/episode.ts";
import { mediaSpan, programmeEnd, type Timed, toEpisode } from "../model/timeMap.ts";
import { type ClockMs, mediaMs } from "../model/units.ts";

/** A stretch that the public recording must not have, in the episode's clock. */
export interface Unwanted {
  readonly from: ClockMs;
  readonly to: ClockMs;
  readonly why: string;
  /** `cut` makes the recording shorter, `silence` moves nothing. */
  readonly does: Exclude<Doing, "keep">;
}

export interface CutWanted {
  readonly episode: Pick<Episode, "clock" | "cuts" | "duration">;
  readonly unwanted: readonly Unwanted[];
  readonly source: Recording;
  /** How long the source runs, in milliseconds; null: as the episode says. */
  readonly length: number | null;
  /** Where in the source the programme ends, in milliseconds: what comes after goes. Left out: at the source's end. */
  readonly ends?: number;
}

/**
 * The cut list of the public recording: all stretches of the source in order, with what becomes of each. From the
 * broadcast, the declared cuts go too. Where a cut and a silence meet, the cut wins.
 */
export function cutList({ episode, unwanted, source, length, ends }: CutWanted): CutList {
  const paints = source === "web" ? webPaints(episode, unwanted) : airedPaints(episode, unwanted);
  const due = source === "web" ? episode.duration : programmeEnd({ ...episode, clock: "aired" });
  const end = length ?? due;
  const tail: readonly Paint[] = ends === undefined ? [] : [{ does: "cut", from: ends, to: end, why: AFTER_THE_END }];
  // A file may run a little longer than the episode says: what goes at its end goes to the last sample.
  const whole = paints.map((paint) => (paint.to >= due ? { ...paint, to: Math.max(paint.to, end) } : paint));
  const stretches = painted([...whole, ...tail], end);
  const result = stretches.reduce((sum, { does, from, to }) => (does === "cut" ? sum : sum + to - from), 0);
  return { source, length: end, stretches, result };
}

const AFTER_THE_END = "after the end";

interface Paint {
  readonly does: Exclude<Doing, "keep">;
  readonly from: number;
  readonly to: number;
  readonly why: string;
}

const webPaints = (timed: Timed, unwanted: readonly Unwanted[]): readonly Paint[] =>
  unwanted.flatMap(({ from, to, why, does }) => {
    const span = mediaSpan(from, to, timed);
    return span === null ? [] : [{ does, ...span, why }];
  });

function airedPaints({ clock, cuts }: CutWanted["episode"], unwanted: readonly Unwanted[]): readonly Paint[] {
  const aired = (at: ClockMs): number => (clock === "aired" ? at : toEpisode(mediaMs(at), { clock: "aired", cuts }));
  return [
    ...cuts.map(({ from, to, why }): Paint => ({ does: "cut", from, to, why })),
    ...unwanted.map((own) => ({ ...own, from: aired(own.from), to: aired(own.to) })),
  ];
}

/** The whole of [0, end) in stretches: what lies under no paint stays. */
function painted(paints: readonly Paint[], end: number): readonly ListedStretch[] {
  const inside = (at: number) => Math.min(Math.max(at, 0), end);
  const edges = [...new Set([0, end, ...paints.flatMap(({ from, to }) => [inside(from), inside(to)])])].sort(
    (a, b) => a - b,
  );
  const stretches: ListedStretch[] = [];
  for (const [n, from] of edges.entries()) {
    const to = edges[n + 1];
    if (to === undefined) break;
    const over = paints.filter((paint) => paint.from <= from && to <= paint.to);
    const does = over.some((paint) => paint.does === "cut") ? "cut" : over.length > 0 ? "silence" : "keep";
    const why = over.filter((paint) => paint.does === does).map((paint) => paint.why);
    const last = stretches.at(-1);
    if (last?.does === does)
      stretches[stretches.length - 1] = { ...last, to, why: [...new Set([...last.why, ...why])] };
    else stretches.push({ does, from, to, why: [...new Set(why)] });
  }
  return stretches;
}
