import { FEATURES } from "./alignFeatures.ts";
import { type AcousticModel, WEIGHT_STEP } from "./alignModel.ts";

/** Of a codebook's Gaussians, only the nearest count (pocketsphinx, `-topn`). */
const TOP = 4;
/** All Gaussians of a codebook are tried only every so many frames; between, those that were nearest (pocketsphinx, `-ds`). */
const EVERY = 2;

/** How much more likely one Gaussian is than another, by logarithms in steps: looked up, because sums of them are most of the work. */
const STEPS = 256;
/** What is this much less likely counts for nothing: the twelve-thousandth part. */
const FAR = 9.4;
const EXP = Float64Array.from({ length: Math.ceil(FAR * STEPS) }, (_, n) => Math.exp(-n / STEPS));

/** How well the states of a model fit one frame. */
export interface Scores {
  /** Goes to the next frame, whose features these are. */
  begin(features: Float32Array): void;
  /** The logarithm of the state's likelihood. */
  of(state: number): number;
}

/** Scores are worked out only for the states that somebody asks for, and once a frame. */
export function scorer(model: AcousticModel): Scores {
  const { streams, densities, width, weights, phoneOf, states } = model;
  const features = new Float32Array(FEATURES);
  const done = new Int32Array(states).fill(-1);
  const score = new Float64Array(states);
  const books = Math.max(...phoneOf) + 1;
  const bookDone = new Int32Array(books).fill(-1);
  /** In which frame all Gaussians of a codebook were tried last. */
  const allTried = new Int32Array(books).fill(-EVERY - 1);
  /** The nearest Gaussians of each codebook and stream, and how near. */
  const top = Int32Array.from({ length: books * streams * TOP }, (_, n) => n % TOP);
  const near = new Float64Array(books * streams * TOP);
  const order = tellingFirst(model);
  const table = tableOf(model, order);
  const fits = new Float64Array(TOP);
  let frame = -1;

  const look = (book: number): void => {
    const isFresh = frame - (allTried[book] ?? 0) < EVERY;
    if (!isFresh) allTried[book] = frame;
    for (let stream = 0; stream < streams; stream++) {
      const own = book * streams + stream;
      const [from, at] = [own * densities * ROW, own * TOP];
      for (let k = at; k < at + TOP; k++)
        near[k] = fitOf(table, from + (top[k] ?? 0) * ROW, features, stream * width, Number.NEGATIVE_INFINITY);
      if (!isFresh) nearest({ table, from, features, offset: stream * width, densities }, top, near, at);
    }
    bookDone[book] = frame;
  };
  const work = (state: number): number => {
    const book = phoneOf[state] ?? 0;
    if (bookDone[book] !== frame) look(book);
    let sum = 0;
    for (let stream = 0; stream < streams; stream++) {
      const at = (book * streams + stream) * TOP;
      let best = Number.NEGATIVE_INFINITY;
      for (let k = 0; k < TOP; k++) {
        const weight = weights[(stream * densities + (top[at + k] ?? 0)) * states + state] ?? 255;
        const own = (near[at + k] ?? 0) - weight * WEIGHT_STEP;
        fits[k] = own;
        if (own > best) best = own;
      }
      let total = 0;
      for (let k = 0; k < TOP; k++) {
        const away = (best - (fits[k] ?? 0)) * STEPS;
        if (away < EXP.length) total += EXP[away | 0] ?? 0;
      }
      sum += best + Math.log(total);
    }
    return sum;
  };
  return {
    begin: (own) => {
      order.forEach((from, n) => {
        features[n] = own[from] ?? 0;
      });
      frame++;
    },
    of: (state) => {
      if (done[state] !== frame) {
        score[state] = work(state);
        done[state] = frame;
      }
      return score[state] ?? 0;
    },
  };
}

/** The values of a stream: the loop below is written out for so many. */
const WIDTH = 13;
/** A Gaussian in the table: its height, then a mean and half an inverse variance for each value, then nothing. */
const ROW = 28;

/** All that is needed of a Gaussian side by side, because memory is what the search waits for. */
function tableOf({ means, halves, heights, densities, streams }: AcousticModel, order: Int32Array): Float32Array {
  const table = new Float32Array(heights.length * ROW);
  heights.forEach((height, n) => {
    table[n * ROW] = height;
    const stream = Math.floor(n / densities) % streams;
    for (let k = 0; k < WIDTH; k++) {
      const value = n * WIDTH + (order[stream * WIDTH + k] ?? 0) - stream * WIDTH;
      table[n * ROW + 1 + 2 * k] = means[value] ?? 0;
      table[n * ROW + 2 + 2 * k] = halves[value] ?? 0;
    }
  });
  return table;
}

/**
 * The values of each stream in another order: first those by which its Gaussians lie furthest apart, so that one that
 * is too far off is seen to be so after the fewest.
 */
function tellingFirst({ means, halves, heights, densities, streams, width }: AcousticModel): Int32Array {
  if (width !== WIDTH) throw new Error(`it has ${width} values in a stream: only models of ${WIDTH} can be read here`);
  const sums = new Float64Array(streams * WIDTH);
  const squares = new Float64Array(streams * WIDTH);
  const sharpness = new Float64Array(streams * WIDTH);
  heights.forEach((_, n) => {
    const stream = Math.floor(n / densities) % streams;
    for (let k = 0; k < WIDTH; k++) {
      const [at, mean] = [stream * WIDTH + k, means[n * WIDTH + k] ?? 0];
      sums[at] = (sums[at] ?? 0) + mean;
      squares[at] = (squares[at] ?? 0) + mean * mean;
      sharpness[at] = (sharpness[at] ?? 0) + (halves[n * WIDTH + k] ?? 0);
    }
  });
  const count = heights.length / streams;
  const telling = (at: number) =>
    ((squares[at] ?? 0) / count - ((sums[at] ?? 0) / count) ** 2) * ((sharpness[at] ?? 0) / count);
  const order = Array.from({ length: streams }, (_, stream) =>
    Array.from({ length: WIDTH }, (_, k) => stream * WIDTH + k).sort((a, b) => telling(b) - telling(a)),
  );
  return Int32Array.from(order.flat());
}

interface Codebook {
  readonly table: Float32Array;
  /** Where its first Gaussian stands in the table. */
  readonly from: number;
  readonly features: Float32Array;
  /** Where the stream begins in the features. */
  readonly offset: number;
  readonly densities: number;
}

/**
 * Puts the nearest Gaussians of a codebook into `top` and their logarithms into `near`, from `at` on, best first. Those
 * that are there already, the frame before's, are mostly near still: none that is farther than the last of them counts.
 */
function nearest(
  { table, from, features, offset, densities }: Codebook,
  top: Int32Array,
  near: Float64Array,
  at: number,
): void {
  let least = Math.min(near[at] ?? 0, near[at + 1] ?? 0, near[at + 2] ?? 0, near[at + 3] ?? 0);
  near.fill(Number.NEGATIVE_INFINITY, at, at + TOP);
  for (let density = 0; density < densities; density++) {
    const value = fitOf(table, from + density * ROW, features, offset, least);
    if (value < least || value <= (near[at + TOP - 1] ?? 0)) continue;
    let place = at + TOP - 1;
    for (; place > at && (near[place - 1] ?? 0) < value; place--) {
      near[place] = near[place - 1] ?? 0;
      top[place] = top[place - 1] ?? 0;
    }
    near[place] = value;
    top[place] = density;
    least = Math.max(least, near[at + TOP - 1] ?? 0);
  }
}

/**
 * The logarithm of a Gaussian's likelihood; something below `least` where it is less than that. Written out, and looked
 * at only after every third value: five times as fast as a loop, and nearly all time of an alignment is spent here.
 */
function fitOf(table: Float32Array, p: number, x: Float32Array, o: number, least: number): number {
  const t = table;
  let value = t[p] ?? 0;
  if (value < least) return value;
  let away = (x[o] ?? 0) - (t[p + 1] ?? 0);
  value -= away * away * (t[p + 2] ?? 0);
  away = (x[o + 1] ?? 0) - (t[p + 3] ?? 0);
  value -= away * away * (t[p + 4] ?? 0);
  away = (x[o + 2] ?? 0) - (t[p + 5] ?? 0);
  value -= away * away * (t[p + 6] ?? 0);
  if (value < least) return value;
  away = (x[o + 3] ?? 0) - (t[p + 7] ?? 0);
  value -= away * away * (t[p + 8] ?? 0);
  away = (x[o + 4] ?? 0) - (t[p + 9] ?? 0);
  value -= away * away * (t[p + 10] ?? 0);
  away = (x[o + 5] ?? 0) - (t[p + 11] ?? 0);
  value -= away * away * (t[p + 12] ?? 0);
  if (value < least) return value;
  away = (x[o + 6] ?? 0) - (t[p + 13] ?? 0);
  value -= away * away * (t[p + 14] ?? 0);
  away = (x[o + 7] ?? 0) - (t[p + 15] ?? 0);
  value -= away * away * (t[p + 16] ?? 0);
  away = (x[o + 8] ?? 0) - (t[p + 17] ?? 0);
  value -= away * away * (t[p + 18] ?? 0);
  if (value < least) return value;
  away = (x[o + 9] ?? 0) - (t[p + 19] ?? 0);
  value -= away * away * (t[p + 20] ?? 0);
  away = (x[o + 10] ?? 0) - (t[p + 21] ?? 0);
  value -= away * away * (t[p + 22] ?? 0);
  away = (x[o + 11] ?? 0) - (t[p + 23] ?? 0);
  value -= away * away * (t[p + 24] ?? 0);
  away = (x[o + 12] ?? 0) - (t[p + 25] ?? 0);
  return value - away * away * (t[p + 26] ?? 0);
}
