import type { Graph } from "./alignGraph.ts";
import { type History, history } from "./alignHistory.ts";
import { type AcousticModel, STATES } from "./alignModel.ts";
import type { Scores } from "./alignScores.ts";

/** What steps cost that the model knows nothing of, as logarithms of likelihood. Found as `npm run bench -- listen` shows. */
export interface SearchCosts {
  /** Leaving a word out, and each further word in a row: a whole sentence must cost less than the beam. */
  readonly skip: number;
  readonly skipMore: number;
  /** Beginning a silence, another sound that the model knows, and any other. */
  readonly silence: number;
  readonly filler: number;
  readonly other: number;
  /** Beginning any sound but silence inside a sentence costs so much more: what was left out of a text, or put in, is mostly whole sentences. */
  readonly inside: number;
  /** How much worse than the best phone a frame of any other sound is. */
  readonly otherFrame: number;
  /** Ways that are this much worse than the best one are given up. */
  readonly beam: number;
}

/** Phones of all kinds: any speech, and most other sound, is like one of them. */
const ANY = ["AA", "IY", "UW", "EH", "AH", "S", "N", "T", "R", "L", "M", "D", "+SPN+", "+NSN+"];
/** No word takes longer than this, in frames: else one would hum along with the music. Common practice, no source. */
const LONGEST = { word: 40, phone: 20 } as const;
const LOST = Number.NEGATIVE_INFINITY;

/** A word in the sound. Frames: `from` is the first that is its, `to` the first that is not. */
export interface FoundWord {
  readonly from: number;
  readonly to: number;
  /** How much better than the best phones of any kind the word fits, a frame: a logarithm of likelihood. */
  readonly fit: number;
}

export interface ToSearch {
  readonly graph: Graph;
  readonly model: AcousticModel;
  readonly scores: Scores;
  /** The frames between which each word may be said, both rising. */
  readonly from: Int32Array;
  readonly to: Int32Array;
  /** By word: 1 where the one before it belongs to the same sentence. */
  readonly inside: Uint8Array;
  readonly frames: number;
  readonly features: (frame: number, into: Float32Array) => void;
  readonly costs: SearchCosts;
  /** Is told of every frame, and how well the best phone of any kind fits it. */
  readonly along?: (frame: number, any: number) => void;
  /** Is told of every thousandth frame. */
  readonly progress?: (frame: number) => void;
}

/**
 * Finds the best way of all words through the sound, in their order, with silence and other sound between them (Viterbi
 * 1967, with a beam). A word that fits worse than leaving it out costs is left out: null.
 */
export function search(work: ToSearch): readonly (FoundWord | null)[] {
  const row = rowOf(work);
  for (let frame = 0; frame < work.frames; frame++) {
    begin(row, frame);
    step(row, frame);
    if (frame % 1000 === 999) {
      row.past.forget((keep) => keepAlive(row, keep));
      work.progress?.(frame);
    }
  }
  begin(row, work.frames);
  const found: (FoundWord | null)[] = Array.from({ length: row.words }, () => null);
  for (const { word, from, to, gain } of row.past.back(lastOf(row)))
    if (from >= 0) found[word] = { from, to, fit: gain };
  return found;
}

/** The states that are neither word: silence, two fillers of the model, and one for all else. */
interface Filler {
  readonly states: readonly number[];
  readonly stay: readonly number[];
  readonly go: readonly number[];
  readonly cost: number;
}

/** All living ways, by where they are. Word states first; the fillers before word `b` from `b * width` on. */
interface Row {
  readonly work: ToSearch;
  readonly words: number;
  readonly past: History;
  readonly score: Float64Array;
  readonly before: Int32Array;
  readonly since: Int32Array;
  /** The score with which the word was begun. */
  readonly begun: Float64Array;
  readonly living: Int32Array;
  readonly fillers: readonly Filler[];
  readonly width: number;
  readonly fillScore: Float64Array;
  readonly fillBefore: Int32Array;
  /** Before each word, and after the last. */
  readonly node: Float64Array;
  readonly nodeBefore: Int32Array;
  /** Whether the word before was left out on the best way here. */
  readonly hasSkipped: Uint8Array;
  readonly any: readonly number[];
  readonly features: Float32Array;
  /** The scores of the best phones of any kind, summed up to each frame. */
  readonly anySum: Float64Array;
  /** The words that may be said now: [first, last). */
  first: number;
  last: number;
  best: number;
  anyNow: number;
}

/** The states of phones of all kinds, each by itself. */
const anyPhones = (model: AcousticModel): readonly number[] =>
  ANY.flatMap((name) => model.statesOf(model.phones.get(name) ?? model.silence, model.silence, model.silence, 0));

function rowOf(work: ToSearch): Row {
  const { graph, model, costs, frames } = work;
  const [words, states] = [graph.words.length - 1, graph.joined.length];
  const alone = (own: number): readonly number[] => model.statesOf(own, model.silence, model.silence, 0);
  const moves = (own: number, step: number): readonly number[] =>
    Array.from({ length: STATES }, (_, n) => model.moves[(own * STATES + n) * 2 + step] ?? 0);
  const fillerOf = (own: number, cost: number): Filler => ({
    states: alone(own),
    stay: moves(own, 0),
    go: moves(own, 1),
    cost,
  });
  const fillers = [
    fillerOf(model.silence, costs.silence),
    ...model.fillers.filter((own) => own !== model.silence).map((own) => fillerOf(own, costs.filler)),
    { states: [-1], stay: [0], go: [0], cost: costs.other },
  ];
  const width = fillers.reduce((sum, { states: own }) => sum + own.length, 0);
  const node = new Float64Array(words + 1).fill(LOST);
  node[0] = 0;
  return {
    work,
    words,
    past: history(),
    score: new Float64Array(states).fill(LOST),
    before: new Int32Array(states).fill(-1),
    since: new Int32Array(states),
    begun: new Float64Array(states),
    living: new Int32Array(words),
    fillers,
    width,
    fillScore: new Float64Array((words + 1) * width).fill(LOST),
    fillBefore: new Int32Array((words + 1) * width).fill(-1),
    node,
    nodeBefore: new Int32Array(words + 1).fill(-1),
    hasSkipped: new Uint8Array(words + 1),
    any: anyPhones(model),
    features: new Float32Array(model.streams * model.width),
    anySum: new Float64Array(frames + 1),
    first: 0,
    last: 0,
    best: 0,
    anyNow: 0,
  };
}

/** Words whose time has come or gone, and the scores between words before this frame. */
function begin(row: Row, frame: number): void {
  const { work, words } = row;
  while (row.last < words && (work.from[row.last] ?? 0) <= frame) row.last++;
  const start = row.first;
  if (frame > 0) for (let b = start; b <= row.last; b++) between(row, b, frame);
  while (row.first < row.last && (work.to[row.first] ?? 0) <= frame) leave(row, row.first++, frame);
}

/** The best way to the point before word `b`: a word that ends there, a filler that ends, or a word left out. */
function between(row: Row, b: number, frame: number): void {
  const { score, past, fillScore, width, node, nodeBefore, living } = row;
  const { graph, costs } = row.work;
  const least = row.best - costs.beam;
  let [best, from] = [LOST, -1];
  if (b > row.first && (living[b - 1] ?? 0) > 0) {
    for (let way = graph.words[b - 1] ?? 0; way < (graph.words[b] ?? 0); way++) {
      const end = (graph.ways[way + 1] ?? 0) - 1;
      const own = (score[end] ?? LOST) + (graph.go[end] ?? 0);
      if (own > best) [best, from] = [own, end];
    }
  }
  let [filled, filler] = [LOST, -1];
  let at = b * width;
  for (const { states, go } of row.fillers) {
    at += states.length;
    const own = (fillScore[at - 1] ?? LOST) + (go.at(-1) ?? 0);
    if (own > filled) [filled, filler] = [own, at - 1];
  }
  const skipped = b > row.first ? (node[b - 1] ?? LOST) - (row.hasSkipped[b - 1] ? costs.skipMore : costs.skip) : LOST;
  const most = Math.max(best, filled, skipped);
  node[b] = most < least ? LOST : most;
  row.hasSkipped[b] = most === skipped ? 1 : 0;
  if (node[b] === LOST) return;
  if (most === filled) nodeBefore[b] = row.fillBefore[filler] ?? -1;
  else if (most === skipped) nodeBefore[b] = past.add(b - 1, -1, -1, nodeBefore[b - 1] ?? -1, 0);
  else
    nodeBefore[b] = past.add(
      b - 1,
      row.since[from] ?? 0,
      frame,
      row.before[from] ?? -1,
      gainOf(row, from, best, frame),
    );
}

/** A word's time is over: the ways that wait before it leave it out, and those that are in it end it. */
function leave(row: Row, word: number, frame: number): void {
  const { graph } = row.work;
  const { width, fillScore, fillBefore, past, node, nodeBefore, score, living } = row;
  const skip = row.work.costs.skipMore;
  for (let k = 0; k < width; k++) {
    const [from, to] = [word * width + k, (word + 1) * width + k];
    const own = (fillScore[from] ?? LOST) - skip;
    if (own > (fillScore[to] ?? LOST)) {
      fillScore[to] = own;
      fillBefore[to] = past.add(word, -1, -1, fillBefore[from] ?? -1, 0);
    }
    fillScore[from] = LOST;
  }
  const [first, end] = [graph.ways[graph.words[word] ?? 0] ?? 0, graph.ways[graph.words[word + 1] ?? 0] ?? 0];
  let [best, from] = [(node[word] ?? LOST) - skip, -1];
  for (let s = first; s < end; s++) if ((score[s] ?? LOST) > best) [best, from] = [score[s] ?? LOST, s];
  if (best > (node[word + 1] ?? LOST)) {
    node[word + 1] = best;
    nodeBefore[word + 1] =
      from < 0
        ? past.add(word, -1, -1, nodeBefore[word] ?? -1, 0)
        : past.add(word, row.since[from] ?? 0, frame, row.before[from] ?? -1, gainOf(row, from, best, frame));
  }
  node[word] = LOST;
  living[word] = 0;
  score.fill(LOST, first, end);
}

/** How much better than the best phones of any kind the word fits that ends in a state, a frame. */
function gainOf(row: Row, state: number, score: number, frame: number): number {
  const since = row.since[state] ?? 0;
  const other = (row.anySum[frame] ?? 0) - (row.anySum[since] ?? 0);
  return (score - (row.begun[state] ?? 0) - other) / Math.max(1, frame - since);
}

/** All ways go on by one frame. */
function step(row: Row, frame: number): void {
  const { work, features, anySum } = row;
  work.features(frame, features);
  work.scores.begin(features);
  let any = LOST;
  for (const state of row.any) any = Math.max(any, work.scores.of(state));
  row.anyNow = any;
  work.along?.(frame, any);
  anySum[frame + 1] = (anySum[frame] ?? 0) + any;
  const least = row.best - work.costs.beam;
  let best = LOST;
  for (let word = row.first; word < row.last; word++) {
    if ((row.living[word] ?? 0) > 0 || (row.node[word] ?? LOST) > least)
      best = Math.max(best, stepWord(row, word, frame, least));
  }
  for (let b = row.first; b <= row.last; b++) best = Math.max(best, stepFillers(row, b, least));
  row.best = best;
}

function stepWord(row: Row, word: number, frame: number, least: number): number {
  const { score, before, since, begun } = row;
  const { graph, scores } = row.work;
  const { joined, apart, stay, go, ways } = graph;
  let [best, living] = [LOST, 0];
  for (let way = graph.words[word] ?? 0; way < (graph.words[word + 1] ?? 0); way++) {
    const first = ways[way] ?? 0;
    const longest = LONGEST.word + (LONGEST.phone * ((ways[way + 1] ?? 0) - first)) / STATES;
    for (let s = (ways[way + 1] ?? 0) - 1; s >= first; s--) {
      const stays = (score[s] ?? LOST) + (stay[s] ?? 0);
      const comes = s > first ? (score[s - 1] ?? LOST) + (go[s - 1] ?? 0) : (row.node[word] ?? LOST);
      const most = Math.max(stays, comes);
      if (most < least || most === LOST || (stays >= comes && frame - (since[s] ?? 0) > longest)) {
        score[s] = LOST;
        continue;
      }
      if (comes > stays) {
        if (s > first) {
          before[s] = before[s - 1] ?? -1;
          since[s] = since[s - 1] ?? 0;
          begun[s] = begun[s - 1] ?? 0;
        } else {
          before[s] = row.nodeBefore[word] ?? -1;
          since[s] = frame;
          begun[s] = comes;
        }
      }
      const [one, other] = [joined[s] ?? 0, apart[s] ?? 0];
      const fit = one === other ? scores.of(one) : Math.max(scores.of(one), scores.of(other));
      const now = most + fit;
      score[s] = now;
      if (now > best) best = now;
      living++;
    }
  }
  row.living[word] = living;
  return best;
}

function stepFillers(row: Row, b: number, least: number): number {
  const { fillScore, fillBefore, width, node, nodeBefore } = row;
  const { scores, costs } = row.work;
  const inside = row.work.inside[b] === 1 ? costs.inside : 0;
  let [best, at] = [LOST, b * width];
  for (const { states, stay, go, cost: begins } of row.fillers) {
    const cost = begins + (begins === costs.silence ? 0 : inside);
    for (let n = states.length - 1; n >= 0; n--) {
      const s = at + n;
      const stays = (fillScore[s] ?? LOST) + (stay[n] ?? 0);
      const comes = n > 0 ? (fillScore[s - 1] ?? LOST) + (go[n - 1] ?? 0) : (node[b] ?? LOST) - cost;
      const most = Math.max(stays, comes);
      if (most < least || most === LOST) {
        fillScore[s] = LOST;
        continue;
      }
      if (comes > stays) fillBefore[s] = (n > 0 ? fillBefore[s - 1] : nodeBefore[b]) ?? -1;
      const state = states[n] ?? -1;
      const now = most + (state < 0 ? row.anyNow - costs.otherFrame : scores.of(state));
      fillScore[s] = now;
      if (now > best) best = now;
    }
    at += states.length;
  }
  return best;
}

/** The last record of the best way that came to the end, past all words. */
function lastOf(row: Row): number {
  let [best, at] = [LOST, row.words];
  for (let b = row.first; b <= row.words; b++) if ((row.node[b] ?? LOST) > best) [best, at] = [row.node[b] ?? LOST, b];
  return row.nodeBefore[(row.node[row.words] ?? LOST) === LOST ? at : row.words] ?? -1;
}

function keepAlive(row: Row, keep: (record: number) => number): void {
  const { graph } = row.work;
  const [from, to] = [row.first, row.last];
  const [a, z] = [graph.ways[graph.words[from] ?? 0] ?? 0, graph.ways[graph.words[to] ?? 0] ?? row.score.length];
  for (let s = a; s < z; s++) row.before[s] = (row.score[s] ?? LOST) === LOST ? -1 : keep(row.before[s] ?? -1);
  for (let s = from * row.width; s < (to + 1) * row.width; s++)
    row.fillBefore[s] = (row.fillScore[s] ?? LOST) === LOST ? -1 : keep(row.fillBefore[s] ?? -1);
  for (let b = from; b <= to; b++)
    row.nodeBefore[b] = (row.node[b] ?? LOST) === LOST ? -1 : keep(row.nodeBefore[b] ?? -1);
}
