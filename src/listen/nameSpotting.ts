import { sayWord } from "../derive/align/said.ts";
import type { Span } from "../derive/captioning/lending.ts";
import type { HeardName } from "../derive/propose/recording.ts";
import { FRAMES, featuresOf } from "./alignFeatures.ts";
import { type Graph, graphOf } from "./alignGraph.ts";
import { type AcousticModel, STATES } from "./alignModel.ts";
import { pronounce } from "./alignPronounce.ts";
import { scorer } from "./alignScores.ts";
import { anyPhones } from "./alignSearch.ts";

/**
 * A name fits at least so well, less by so much for each of its phones: a short one is heard in many words by chance. Chosen on
 * the demo's three broadcasts, by names that are said there and sentences without them; no source.
 */
const [FITS, LESS_A_PHONE] = [2, 0.12] as const;
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
  best: HeardName | null;
}

/**
 * Hears which names are said in stretches of a recording: each name is looked for everywhere in a stretch (Viterbi 1967),
 * against the best phones of any kind.
 * @param stretches milliseconds of the recording. @param frames its cepstra, from its beginning.
 * @returns the names of each stretch that fit well enough, the best place of each; of two in one place the better one.
 */
export function spotNames(
  stretches: readonly Span[],
  names: readonly string[],
  frames: Float32Array,
  model: AcousticModel,
): readonly (readonly HeardName[])[] {
  const rows = names.flatMap((name) => rowOf(name, model) ?? []);
  const features = featuresOf(frames);
  const values = new Float32Array(model.streams * model.width);
  const any = anyPhones(model);
  const count = frames.length / (model.width || 1);
  return stretches.map(({ start, end }) => {
    // Anew for each, so that what is heard in one doesn't depend on which others went before it.
    const scores = scorer(model);
    for (const row of rows) {
      row.score.fill(Number.NEGATIVE_INFINITY);
      row.best = null;
    }
    const last = Math.min(count, Math.ceil(end / MS));
    for (let frame = Math.max(0, Math.floor(start / MS)); frame < last; frame++) {
      features(frame, values);
      scores.begin(values);
      const other = any.reduce((most, state) => Math.max(most, scores.of(state)), Number.NEGATIVE_INFINITY);
      for (const row of rows) goOn(row, frame, (state) => scores.of(state) - other);
    }
    return apart(rows.flatMap(({ best, least }) => (best !== null && best.fit >= least ? [best] : [])));
  });
}

function rowOf(name: string, model: AcousticModel): Spotted | null {
  const ways = name.split(/[\s-]+/).flatMap((word) => sayWord(word).map((said) => pronounce(said)[0]));
  const phones = ways.flatMap((way) => way ?? []);
  if (phones.length === 0 || ways.includes(undefined)) return null;
  const graph = graphOf([{ ways: [phones] }], model);
  const states = phones.length * STATES;
  return {
    name,
    graph,
    states,
    least: FITS - LESS_A_PHONE * phones.length,
    score: new Float64Array(states),
    since: new Int32Array(states),
    best: null,
  };
}

/** All ways through a name go on by one frame; one may begin in any. */
function goOn(row: Spotted, frame: number, gain: (state: number) => number): void {
  const { graph, states, score, since } = row;
  for (let n = states - 1; n >= 0; n--) {
    const stay = (score[n] ?? 0) + (graph.stay[n] ?? 0);
    const come = n === 0 ? 0 : (score[n - 1] ?? 0) + (graph.go[n - 1] ?? 0);
    if (come > stay) since[n] = n === 0 ? frame : (since[n - 1] ?? 0);
    score[n] = Math.max(stay, come) + gain(graph.joined[n] ?? 0);
  }
  const from = since[states - 1] ?? 0;
  const fit = (score[states - 1] ?? 0) / (frame + 1 - from);
  if (fit > (row.best?.fit ?? Number.NEGATIVE_INFINITY))
    row.best = { name: row.name, start: from * MS, end: (frame + 1) * MS, fit };
}

/** Of names that are heard in one place, the one that fits best. */
function apart(heard: readonly HeardName[]): readonly HeardName[] {
  const kept: HeardName[] = [];
  for (const one of [...heard].sort((a, b) => b.fit - a.fit))
    if (kept.every(({ start, end }) => one.end <= start || one.start >= end)) kept.push(one);
  return kept.sort((a, b) => a.start - b.start);
}
