import type { Span } from "../derive/captioning/lending.ts";
import type { VoicesHeard } from "../derive/propose/voiceNames.ts";
import { FRAMES } from "./alignFeatures.ts";
import type { Division } from "./kinds.ts";
import { cheapestPath } from "./kindTools.ts";
import {
  costOfJoining,
  NO_STATS,
  type Stats,
  spreadOf,
  spreadOfBoth,
  statsOf,
  together,
  voiceModel,
} from "./voiceStats.ts";

/** How dear a second voice is, and how much more alike two voices must be to be told apart for certain. */
const [STRICT, LOOSE] = [1.4, 2] as const;
/** A piece with fewer frames of speech says nothing of its voice, and fewer than so many in all are no voice. */
const [A_PIECE, A_VOICE] = [30, 200] as const;
/** What a change of voice costs, in the logarithm of likelihood. */
const CHANGE = 30;
/** Pieces are given to the voices anew so many times. */
const ROUNDS = 3;
/** More pieces than this are joined with their neighbours first: what is compared grows with their square. */
const MOST = 600;

/**
 * The pieces, those of them empty in which something else than speech is heard for the most part: words that a recogniser made
 * up over music would lend the music somebody's voice.
 */
const spokenIn = (pieces: readonly Span[], { stretches }: Division): readonly Span[] => {
  const speech = stretches.filter(({ kind }) => kind === "speech");
  return pieces.map(({ start, end }) => {
    const said = speech.reduce((sum, own) => sum + Math.max(0, Math.min(end, own.end) - Math.max(start, own.start)), 0);
    return said >= (end - start) / 2 ? { start, end } : { start, end: start };
  });
};

/**
 * Groups pieces of speech by their voices: from the bottom up, the two that are most alike first, as long as the Bayesian
 * information criterion has them as one (Chen and Gopalakrishnan 1998); then each piece goes to the voice that explains it
 * best (Viterbi). The figures were chosen on people's prompts in several languages, see tests/bench/README.md; the demo's
 * broadcasts had no part in it.
 * @param frames as `cepstra` makes them. @param pieces sentences, or what stands between pauses: milliseconds of the media, in their order. @param division what is heard when.
 */
export function voicesIn(frames: Float32Array, pieces: readonly Span[], division: Division): VoicesHeard {
  const spoken = spokenIn(pieces, division);
  const inFrames = (ms: number) => Math.round((ms / 1000) * FRAMES);
  const own = spoken.map(({ start, end }) => statsOf(frames, inFrames(start), inFrames(end)));
  const told = own.flatMap((stats, n) => (stats.count < A_PIECE ? [] : [{ stats, n }]));
  let voices = grouped(joinedNeighbours(told.map(({ stats }) => stats)), STRICT).filter(
    ({ count }) => count >= A_VOICE,
  );
  let path = new Uint16Array(told.length);
  for (let round = 0; round < ROUNDS && voices.length > 0; round++) {
    path = likeliest(
      told.map(({ stats }) => stats),
      voices,
    );
    voices = voices.map((_, v) =>
      told.reduce((sum, { stats }, n) => (path[n] === v ? together(sum, stats) : sum), NO_STATS),
    );
    const kept = voices.flatMap(({ count }, v) => (count > 0 ? [v] : []));
    path = path.map((v) => kept.indexOf(v));
    voices = kept.flatMap((v) => voices[v] ?? []);
  }
  const of = own.map((): number | null => null);
  if (voices.length > 0)
    told.forEach(({ n }, k) => {
      of[n] = path[k] ?? null;
    });
  return {
    of,
    unspoken: pieces.map((piece, n) => (spoken[n]?.end ?? 0) <= (spoken[n]?.start ?? 0) && piece.end > piece.start),
    alike: (a, b) => {
      const [first, second] = [voices[a], voices[b]];
      return first !== undefined && second !== undefined && (a === b || joining(first, second, LOOSE) < 0);
    },
  };
}

function likeliest(pieces: readonly Stats[], voices: readonly Stats[]): Uint16Array<ArrayBuffer> {
  const models = voices.map(voiceModel);
  const costs = new Float32Array(pieces.length * voices.length);
  pieces.forEach((piece, n) => {
    models.forEach((likelihood, v) => {
      costs[n * voices.length + v] = -likelihood(piece);
    });
  });
  return cheapestPath(costs, voices.length, CHANGE);
}

const joining = (a: Stats, b: Stats, strictness: number): number => costOf(groupOf(a), groupOf(b), strictness);

interface Group {
  readonly stats: Stats;
  readonly spread: number;
}
const groupOf = (stats: Stats): Group => ({ stats, spread: spreadOf(stats) });
const costOf = (a: Group, b: Group, strictness: number): number =>
  costOfJoining([a.spread, b.spread, spreadOfBoth(a.stats, b.stats)], a.stats.count + b.stats.count, strictness);

/** Neighbours that are most alike are joined until there are few enough pieces. */
function joinedNeighbours(pieces: readonly Stats[]): readonly Stats[] {
  if (pieces.length <= MOST) return pieces;
  const costs = pieces.map((piece, n) => ({
    n,
    cost: n === 0 ? Number.POSITIVE_INFINITY : joining(pieces[n - 1] ?? piece, piece, STRICT),
  }));
  const joined = new Set(
    costs
      .toSorted((a, b) => a.cost - b.cost)
      .slice(0, pieces.length - MOST)
      .map(({ n }) => n),
  );
  const all: Stats[] = [];
  pieces.forEach((piece, n) => {
    const last = all.at(-1);
    if (last !== undefined && joined.has(n)) all[all.length - 1] = together(last, piece);
    else all.push(piece);
  });
  return all;
}

/** Joins the two that are most alike, again and again, while that costs less than nothing. */
function grouped(pieces: readonly Stats[], strictness: number): readonly Stats[] {
  const groups: (Group | null)[] = pieces.map(groupOf);
  const costs = groups.map((_, a) => new Float64Array(a));
  const cost = (a: number, b: number): number => {
    const [first, second] = [groups[a], groups[b]];
    return first && second ? costOf(first, second, strictness) : Number.POSITIVE_INFINITY;
  };
  costs.forEach((row, a) => {
    for (let b = 0; b < a; b++) row[b] = cost(a, b);
  });
  for (;;) {
    let [least, first, second] = [0, -1, -1];
    costs.forEach((row, a) => {
      for (let b = 0; b < a; b++) if ((row[b] ?? 0) < least) [least, first, second] = [row[b] ?? 0, a, b];
    });
    const [a, b] = [groups[first], groups[second]];
    if (!a || !b) return groups.flatMap((group) => (group === null ? [] : [group.stats]));
    groups[second] = groupOf(together(a.stats, b.stats));
    groups[first] = null;
    for (const changed of [first, second])
      groups.forEach((_, n) => {
        const row = costs[Math.max(n, changed)];
        if (row !== undefined && n !== changed) row[Math.min(n, changed)] = cost(n, changed);
      });
  }
}
