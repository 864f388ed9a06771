/** Zero crossings of the filter at each side: the sharper the edge, the more it takes. Common practice, no source. */
const CROSSINGS = 20;
/** The shape of the window (Kaiser): stops what would fold back by some 90 dB (Kaiser's formula: 0.1102 (dB - 8.7)). */
const BETA = 9;
/** Of the band that the new rate can hold, so much is kept, so that the edge falls inside it. */
const KEPT = 0.95;

/** Samples at another rate, as they come. */
export interface Resampler {
  take(samples: Float32Array): Float32Array;
  /** The last samples, which waited for what comes after. */
  end(): Float32Array;
}

/**
 * Turns samples of one rate into samples of another by a low-pass in phases (a sinc under a Kaiser window; textbook,
 * e.g. Oppenheim and Schafer, Discrete-Time Signal Processing, 4.6). Sample 0 stays at time 0: nothing is shifted.
 * Both rates are whole numbers of samples a second.
 */
export function resampler(from: number, to: number): Resampler {
  if (from === to) return { take: (samples) => samples, end: () => new Float32Array(0) };
  const divisor = gcd(from, to);
  const [up, down] = [to / divisor, from / divisor];
  const { phases, reach } = filter(from, to, up);
  const width = 2 * reach;
  /** Samples from `first` on: what the next ones still need. Silence stands before the beginning. */
  let held = new Float32Array(width);
  let first = -width;
  /** The next sample to make, and how many came in. */
  let next = 0;
  let taken = 0;

  const make = (count: number): Float32Array => {
    const made = new Float32Array(Math.max(0, count));
    for (let n = 0; n < made.length; n++) {
      const at = next * down;
      const [whole, phase] = [Math.floor(at / up), at % up];
      const taps = phases[phase] ?? EMPTY;
      made[n] = sumOfProducts(taps, held, whole - reach + 1 - first);
      next++;
    }
    return made;
  };
  const hold = (samples: Float32Array): void => {
    const needed = Math.max(0, Math.min(held.length, Math.floor((next * down) / up) - reach + 1 - first));
    const all = new Float32Array(held.length - needed + samples.length);
    all.set(held.subarray(needed));
    all.set(samples, held.length - needed);
    held = all;
    first += needed;
  };
  return {
    take: (samples) => {
      hold(samples);
      taken += samples.length;
      const last = Math.floor(((taken - reach - 1) * up) / down);
      return make(last - next + 1);
    },
    end: () => {
      hold(new Float32Array(width));
      return make(Math.ceil((taken * up) / down) - next);
    },
  };
}

/** A function of its own, because the engine makes it four times as fast so. */
function sumOfProducts(taps: Float64Array, samples: Float32Array, start: number): number {
  let sum = 0;
  for (let k = 0; k < taps.length; k++) sum += (taps[k] ?? 0) * (samples[start + k] ?? 0);
  return sum;
}

const EMPTY = new Float64Array(0);

/** The filter's taps for each of the places that a new sample can have between two old ones. */
function filter(
  from: number,
  to: number,
  up: number,
): { readonly phases: readonly Float64Array[]; readonly reach: number } {
  const band = Math.min(1, to / from) * KEPT;
  const reach = Math.ceil(CROSSINGS / band);
  const phases = Array.from({ length: up }, (_, phase) => {
    const taps = Float64Array.from({ length: 2 * reach }, (_, k) => {
      const x = k - reach + 1 - phase / up;
      return band * sinc(band * x) * kaiser(x / reach);
    });
    // Each phase passes a steady level unchanged.
    const sum = taps.reduce((all, tap) => all + tap, 0);
    return taps.map((tap) => tap / sum);
  });
  return { phases, reach };
}

const sinc = (x: number): number => (x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x));
const kaiser = (x: number): number => (Math.abs(x) >= 1 ? 0 : bessel(BETA * Math.sqrt(1 - x * x)) / bessel(BETA));

/** The modified Bessel function of the first kind and order 0, by its series. */
function bessel(x: number): number {
  let [sum, term] = [1, 1];
  for (let k = 1; term > sum * 1e-12; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));
