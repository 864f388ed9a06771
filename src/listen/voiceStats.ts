import { CEPSTRA } from "./alignFeatures.ts";

/** Values of a frame that tell voices apart: all but the first, which is loudness. */
const VALUES = CEPSTRA - 1;
/** A frame so far below the loud ones of its piece (natural logarithm of energy, weighted) is a pause, or a closing sound. */
const PAUSE = 8;
/** What is added to each variance: values of a few frames may all be alike. */
const LEAST_VARIANCE = 0.05;
/** Rounding must not take a variance below nothing. */
const TINY = 1e-9;
/** Means and variances, each of which has to be paid for (Schwarz 1978). */
const PARAMETERS = VALUES + (VALUES * (VALUES + 1)) / 2;

/** Counts, sums and sums of products of frames: all that a normal distribution is made from. */
export interface Stats {
  readonly count: number;
  readonly sum: Float64Array;
  /** Row by row, `VALUES` each; below the diagonal and on it. */
  readonly products: Float64Array;
}

/** The frames [from, to) that are loud enough to be speech. @param frames as `cepstra` makes them. */
export function statsOf(frames: Float32Array, from: number, to: number): Stats {
  const end = Math.min(to, frames.length / CEPSTRA);
  const energies = Array.from({ length: Math.max(0, end - from) }, (_, n) => frames[(from + n) * CEPSTRA] ?? 0);
  const loud = energies.toSorted((a, b) => a - b)[Math.floor(energies.length * 0.9)] ?? 0;
  const [sum, products] = [new Float64Array(VALUES), new Float64Array(VALUES * VALUES)];
  let count = 0;
  energies.forEach((energy, n) => {
    if (energy < loud - PAUSE) return;
    count++;
    const at = (from + n) * CEPSTRA + 1;
    for (let i = 0; i < VALUES; i++) {
      const own = frames[at + i] ?? 0;
      sum[i] = (sum[i] ?? 0) + own;
      for (let k = 0; k <= i; k++)
        products[i * VALUES + k] = (products[i * VALUES + k] ?? 0) + own * (frames[at + k] ?? 0);
    }
  });
  return { count, sum, products };
}

export const NO_STATS: Stats = {
  count: 0,
  sum: new Float64Array(VALUES),
  products: new Float64Array(VALUES * VALUES),
};

export const together = (a: Stats, b: Stats): Stats => ({
  count: a.count + b.count,
  sum: a.sum.map((own, n) => own + (b.sum[n] ?? 0)),
  products: a.products.map((own, n) => own + (b.products[n] ?? 0)),
});

/** The covariance around a point, below the diagonal and on it. */
function covariance({ count, sum, products }: Stats, around: (i: number) => number): Float64Array {
  const own = new Float64Array(VALUES * VALUES);
  for (let i = 0; i < VALUES; i++)
    for (let k = 0; k <= i; k++) {
      const [mean, other] = [(sum[i] ?? 0) / count, (sum[k] ?? 0) / count];
      own[i * VALUES + k] =
        (products[i * VALUES + k] ?? 0) / count - mean * other + (mean - around(i)) * (other - around(k));
    }
  return own;
}

/** The lower triangle whose product with itself turned over is the matrix (Cholesky), each variance a little greater. */
function triangleOf(matrix: Float64Array): Float64Array {
  const own = new Float64Array(VALUES * VALUES);
  for (let i = 0; i < VALUES; i++)
    for (let k = 0; k <= i; k++) {
      let sum = (matrix[i * VALUES + k] ?? 0) + (i === k ? LEAST_VARIANCE : 0);
      for (let j = 0; j < k; j++) sum -= (own[i * VALUES + j] ?? 0) * (own[k * VALUES + j] ?? 0);
      own[i * VALUES + k] = i === k ? Math.sqrt(Math.max(sum, TINY)) : sum / (own[k * VALUES + k] ?? 1);
    }
  return own;
}

/** The logarithm of the determinant of what the triangle was made from. */
function sizeOf(triangle: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < VALUES; i++) sum += 2 * Math.log(triangle[i * VALUES + i] ?? 1);
  return sum;
}

/** How wide the frames are spread: their number by the logarithm of their covariance's determinant. */
export const spreadOf = (stats: Stats): number => spreadOfBoth(stats, NO_STATS);

/** Where the triangle of two voices together is worked out: pairs are compared by the hundred thousand. */
const SCRATCH = new Float64Array(VALUES * VALUES);

/** The same of two voices together. */
export function spreadOfBoth(a: Stats, b: Stats): number {
  const count = a.count + b.count;
  let size = 0;
  for (let i = 0; i < VALUES; i++) {
    const mean = ((a.sum[i] ?? 0) + (b.sum[i] ?? 0)) / count;
    for (let k = 0; k <= i; k++) {
      const at = i * VALUES + k;
      let sum = ((a.products[at] ?? 0) + (b.products[at] ?? 0) - mean * ((a.sum[k] ?? 0) + (b.sum[k] ?? 0))) / count;
      if (i === k) sum += LEAST_VARIANCE;
      for (let j = 0; j < k; j++) sum -= (SCRATCH[i * VALUES + j] ?? 0) * (SCRATCH[k * VALUES + j] ?? 0);
      SCRATCH[at] = i === k ? Math.sqrt(Math.max(sum, TINY)) : sum / (SCRATCH[k * VALUES + k] ?? 1);
    }
    size += 2 * Math.log(SCRATCH[i * VALUES + i] ?? 1);
  }
  return count * size;
}

/**
 * What it costs to take two voices for one, by the Bayesian information criterion (Chen and Gopalakrishnan 1998): below 0,
 * one normal distribution explains the frames of both better than two do.
 * @param spreads of the first, of the second, and of both together. @param count frames of both.
 * @param strictness how dear a second voice is; 1 is Schwarz's own.
 */
export const costOfJoining = (
  [first, second, both]: readonly [number, number, number],
  count: number,
  strictness: number,
): number => 0.5 * (both - first - second) - strictness * 0.5 * PARAMETERS * Math.log(count);

/** How well a voice explains frames: the logarithm of their likelihood, but for a constant. */
export function voiceModel(stats: Stats): (frames: Stats) => number {
  const mean = (i: number) => (stats.sum[i] ?? 0) / stats.count;
  const triangle = triangleOf(covariance(stats, mean));
  const inverse = inverseOf(triangle);
  const size = sizeOf(triangle);
  return (frames) => {
    const around = covariance(frames, mean);
    let distance = 0;
    for (let row = 0; row < VALUES; row++)
      for (let i = 0; i <= row; i++)
        for (let k = 0; k <= i; k++) {
          const product =
            (inverse[row * VALUES + i] ?? 0) * (around[i * VALUES + k] ?? 0) * (inverse[row * VALUES + k] ?? 0);
          distance += i === k ? product : 2 * product;
        }
    return -0.5 * frames.count * (size + distance);
  };
}

function inverseOf(triangle: Float64Array): Float64Array {
  const own = new Float64Array(VALUES * VALUES);
  for (let k = 0; k < VALUES; k++) {
    own[k * VALUES + k] = 1 / (triangle[k * VALUES + k] ?? 1);
    for (let i = k + 1; i < VALUES; i++) {
      let sum = 0;
      for (let j = k; j < i; j++) sum -= (triangle[i * VALUES + j] ?? 0) * (own[j * VALUES + k] ?? 0);
      own[i * VALUES + k] = sum / (triangle[i * VALUES + i] ?? 1);
    }
  }
  return own;
}
