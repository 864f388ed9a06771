import { formatClock, parseClock } from "../model/clock.ts";
import { does, type KindThat } from "../model/correctionKinds.ts";
import type { Correction, Cut, Episode } from "../model/episode.ts";

/** From one moment of an episode's clock to another, in milliseconds, half open. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** A stretch that is withdrawn; `slug` null: the whole episode. */
export interface Away extends Stretch {
  readonly slug: string | null;
}

interface Points {
  readonly slug: string;
  readonly in: number;
  readonly out: number;
}

/** Where segments stood when corrections moved their points, one after the other. */
export interface Moves {
  /** Every stretch that a segment stood on, by slug. */
  readonly stood: ReadonlyMap<string, readonly Stretch[]>;
  /** In the order of the text, as they stand in the end. */
  readonly end: readonly Points[];
  /** What withdrawals took away: where it stood then, and where it stands in the end. */
  readonly away: readonly Away[];
}

const BY_NAME = new Intl.Collator("en", { numeric: true });

/** Corrections until a moment (ISO 8601), in order. Withdrawals count whenever they were made. */
export function until(corrections: readonly Correction[], moment: string): readonly Correction[] {
  const has = (own: Correction) => does(own, "takes-away") || !(Date.parse(own.dated) > Date.parse(moment));
  return corrections
    .filter(has)
    .sort((a, b) => Date.parse(a.dated) - Date.parse(b.dated) || BY_NAME.compare(a.id, b.id));
}

/** Follows in and out points through corrections. One whose old time is not there, or that runs into a neighbour, moves nothing. */
export function movesOf({ segments }: Pick<Episode, "segments">, corrections: readonly Correction[]): Moves {
  let points: readonly Points[] = segments.map(({ slug, in: start, out }) => ({ slug, in: start, out }));
  const stood = new Map(points.map((own) => [own.slug, [{ from: own.in, to: own.out }]]));
  const away: Away[] = [];
  const gone = new Set<string | null>();
  for (const correction of corrections) {
    if (does(correction, "takes-away")) {
      away.push(...awayOf(correction.segment, points));
      gone.add(correction.segment);
    } else if (does(correction, "replaces-field")) {
      const moved = moveOne(points, correction);
      for (const own of moved) if (!points.includes(own)) stood.get(own.slug)?.push({ from: own.in, to: own.out });
      points = moved;
    }
  }
  away.push(...[...gone].flatMap((slug) => awayOf(slug, points)));
  return { stood, end: points, away };
}

function awayOf(slug: string | null, points: readonly Points[]): readonly Away[] {
  const own = slug === null ? points : points.filter((one) => one.slug === slug);
  const [first, last] = [own[0], own.at(-1)];
  return first === undefined || last === undefined ? [] : [{ slug, from: first.in, to: last.out }];
}

type PageCorrection = Extract<Correction, { kind: KindThat<"replaces-field"> }>;

function moveOne(points: readonly Points[], { field, segment, said, now }: PageCorrection): readonly Points[] {
  const at = points.findIndex(({ slug }) => slug === segment);
  const [old, to] = [points[at], parseClock(now)];
  if (old === undefined || to === null || (field !== "in" && field !== "out")) return points;
  if (parseClock(said) !== old[field] && said !== formatClock(old[field])) return points;
  const own = { ...old, [field]: to };
  const [before, after] = [points[at - 1], points[at + 1]];
  // An out point that was the next in point moves with it.
  const led = before !== undefined && before.out === old.in && own.in !== old.in ? { ...before, out: own.in } : before;
  const overlaps =
    own.in >= own.out ||
    (led !== undefined && (led.out > own.in || led.in >= led.out)) ||
    (after !== undefined && own.out > after.in);
  if (overlaps || (own.in === old.in && own.out === old.out)) return points;
  return points.map((one, index) => (index === at ? own : index === at - 1 ? (led ?? one) : one));
}

type Timed = Pick<Episode, "clock" | "cuts">;

/** A stretch of one text's clock in another's, by way of the recording. */
export function inClockOf<T extends Stretch>(stretch: T, from: Timed, to: Timed): T {
  const [given, wanted] = [cutsOf(from), cutsOf(to)];
  if (JSON.stringify(given) === JSON.stringify(wanted)) return stretch;
  const move = (at: number): number => {
    let moment = at - given.reduce((sum, cut) => sum + Math.max(0, Math.min(at, cut.to) - cut.from), 0);
    for (const cut of wanted) if (cut.from <= moment) moment += cut.to - cut.from;
    return moment;
  };
  return { ...stretch, from: move(stretch.from), to: move(stretch.to) };
}

const cutsOf = ({ clock, cuts }: Timed): readonly Pick<Cut, "from" | "to">[] =>
  clock === "aired" ? cuts.map(({ from, to }) => ({ from, to })) : [];
