import { sayWord } from "../derive/align/said.ts";
import type { HeardName } from "../derive/propose/recording.ts";
import { FRAMES } from "./alignFeatures.ts";
import { type Graph, graphOf } from "./alignGraph.ts";
import { type AcousticModel, STATES } from "./alignModel.ts";
import { pronounce } from "./alignPronounce.ts";
import type { Scores } from "./alignScores.ts";

/**
 * A name fits at least so well, less by so much for each of its phones: a short one is heard in many words by chance. Chosen on
 * the demo's three broadcasts, by names that are said there and sentences without them; no source.
 */
const [FITS, LESS_A_PHONE] = [2, 0.12] as const;
/** A way through a name that fits so much worse than it must, all in all, is given up. Nearly all are, and cost no more. */
const GIVEN_UP = 150;
const MS = 1000 / FRAMES;

/** A name as a row of states, as it goes through the sound. */
interface Spotted {
  readonly name: string;
  readonly graph: Graph;
  readonly states: number;
  readonly least: number;
  readonly score: Float64Array;
  /** In which frame the way here began the name. */
  readonly since: Int32Array;
}

/** Hears names while somebody goes through a recording. */
export interface NameSpotter {
  /** Is told of every frame. @param any how well the best phone of any kind fits it. */
  take(frame: number, scores: Scores, any: number): void;
  /** The names that fit well enough, each at its best place; of two in one place the better one. In their order. */
  heard(): readonly HeardName[];
}

/** Looks for each name in all frames (Viterbi 1967), against the best phones of any kind. */
export function nameSpotter(names: readonly string[], model: AcousticModel): NameSpotter {
  const rows = names.flatMap((name) => rowOf(name, model) ?? []);
  const heard: HeardName[] = [];
  const last = new Map<Spotted, number>();
  return {
    take(frame, scores, any) {
      for (const row of rows) {
        const fit = goOn(row, frame, scores, any) - row.least;
        if (fit < 0) continue;
        const start = (row.since[row.states - 1] ?? 0) * MS;
        const own = { name: row.name, start, end: (frame + 1) * MS, fit };
        // The same name is found again in the frames after it.
        const at = last.get(row) ?? -1;
        const before = heard[at];
        if (before === undefined || before.end <= start) last.set(row, heard.push(own) - 1);
        else if (fit > before.fit) heard[at] = own;
      }
    },
    heard: () => apart(heard),
  };
}

function rowOf(name: string, model: AcousticModel): Spotted | null {
  const ways = name.split(/[\s-]+/).flatMap((word) => sayWord(word).map((said) => pronounce(said)[0]));
  const phones = ways.flatMap((way) => way ?? []);
  if (phones.length === 0 || ways.includes(undefined)) return null;
  const states = phones.length * STATES;
  return {
    name,
    graph: graphOf([{ ways: [phones] }], model),
    states,
    least: FITS - LESS_A_PHONE * phones.length,
    score: new Float64Array(states).fill(Number.NEGATIVE_INFINITY),
    since: new Int32Array(states),
  };
}

/** All ways through a name go on by one frame; one may begin in any. @returns how well the name fits that ends here, a frame. */
function goOn({ graph, states, least, score, since }: Spotted, frame: number, scores: Scores, any: number): number {
  for (let n = states - 1; n >= 0; n--) {
    const stay = (score[n] ?? 0) + (graph.stay[n] ?? 0);
    const come = n === 0 ? 0 : (score[n - 1] ?? 0) + (graph.go[n - 1] ?? 0);
    const most = Math.max(stay, come);
    if (most === Number.NEGATIVE_INFINITY) continue;
    if (come > stay) since[n] = n === 0 ? frame : (since[n - 1] ?? 0);
    const own = most + scores.of(graph.joined[n] ?? 0) - any;
    score[n] = own < (frame + 1 - (since[n] ?? 0)) * least - GIVEN_UP ? Number.NEGATIVE_INFINITY : own;
  }
  return (score[states - 1] ?? 0) / (frame + 1 - (since[states - 1] ?? 0));
}

/** Of names that are heard in one place, the one that fits best. In their order. */
export function apart(heard: readonly HeardName[]): readonly HeardName[] {
  const kept: HeardName[] = [];
  for (const one of [...heard].sort((a, b) => b.fit - a.fit))
    if (kept.every(({ start, end }) => one.end <= start || one.start >= end)) kept.push(one);
  return kept.sort((a, b) => a.start - b.start);
}
