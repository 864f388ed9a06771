import { powers } from "./spectrum.ts";
import { windows } from "./windows.ts";

/** Samples a second that the features are made from, and features a second. */
export const RATE = 16_000;
export const FRAMES = 100;
/** Values of a frame before their changes over time are added. */
export const CEPSTRA = 13;
/** What a frame has: the values, how they change, and how that changes. */
export const FEATURES = CEPSTRA * 3;

const SHIFT = RATE / FRAMES;
/** The length of the stretch of sound that a frame is made from, in samples (pocketsphinx, `-wlen` 0.025625). */
const WINDOW = 410;
const FFT = 512;
const EMPHASIS = 0.97;
/** From feat.params of the model. */
const [FILTERS, LOWEST, HIGHEST, LIFTER] = [25, 130, 6800, 22] as const;

/** Frames of cepstra as they come. */
export interface Cepstra {
  /** Takes samples of one channel at `RATE`, -1 to 1, and adds the frames that they complete. */
  take(samples: Float32Array): void;
  /** All frames so far, one after another, `CEPSTRA` values each. */
  frames(): Float32Array;
}

/**
 * Mel-frequency cepstra as CMU Sphinx makes them (Davis and Mermelstein 1980; the front end of pocketsphinx with its
 * usual settings): 100 a second, 13 values, energies of 25 triangular filters between 130 and 6800 Hz, with a share of
 * steady noise taken off.
 */
export function cepstra(): Cepstra {
  const [bins, cosines, window] = [filterBank(), cosineTable(), hamming()];
  const denoise = denoiser();
  const { values, power } = powers(FFT);
  const energies = new Float64Array(FILTERS);
  let frames = new Float32Array(CEPSTRA * 1024);
  let count = 0;
  /** The sample before the window. */
  let before = 0;

  const frame = (held: Float32Array, start: number): void => {
    let last = before;
    before = held[start + SHIFT - 1] ?? 0;
    for (let n = 0; n < WINDOW; n++) {
      const sample = held[start + n] ?? 0;
      values[n] = (sample - EMPHASIS * last) * 32_768 * (window[n] ?? 0);
      last = sample;
    }
    const heard = power();
    bins.forEach(({ first, weights }, n) => {
      let sum = 0;
      for (let k = 0; k < weights.length; k++) sum += (weights[k] ?? 0) * (heard[first + k] ?? 0);
      energies[n] = sum;
    });
    denoise(energies);
    for (let n = 0; n < FILTERS; n++) energies[n] = Math.log((energies[n] ?? 0) + 1e-4);
    if ((count + 1) * CEPSTRA > frames.length) {
      const more = new Float32Array(frames.length * 2);
      more.set(frames);
      frames = more;
    }
    for (let c = 0; c < CEPSTRA; c++) {
      let sum = 0;
      for (let n = 0; n < FILTERS; n++) sum += (energies[n] ?? 0) * (cosines[c * FILTERS + n] ?? 0);
      frames[count * CEPSTRA + c] = sum;
    }
    count++;
  };
  return {
    take: windows(WINDOW, SHIFT, frame),
    frames: () => frames.subarray(0, count * CEPSTRA),
  };
}

interface Filter {
  readonly first: number;
  readonly weights: Float64Array;
}

const mel = (hertz: number): number => 2595 * Math.log10(1 + hertz / 700);
const hertzOf = (own: number): number => 700 * (10 ** (own / 2595) - 1);

/** Triangles evenly spread over the mel scale, their corners on whole bins, each of area 1. */
function filterBank(): readonly Filter[] {
  const step = (mel(HIGHEST) - mel(LOWEST)) / (FILTERS + 1);
  const bin = RATE / FFT;
  const corner = (n: number): number => Math.floor(hertzOf(mel(LOWEST) + n * step) / bin + 0.5);
  return Array.from({ length: FILTERS }, (_, n) => {
    const [left, middle, right] = [corner(n), corner(n + 1), corner(n + 2)];
    const height = 2 / ((right - left) * bin);
    const weights = Float64Array.from(
      { length: right - left + 1 },
      (_, k) => Math.max(0, Math.min(k / (middle - left), (right - left - k) / (right - middle))) * height,
    );
    return { first: left, weights };
  });
}

/** The discrete cosine transform, and the weights that make its values of like size. */
function cosineTable(): Float64Array {
  const table = new Float64Array(CEPSTRA * FILTERS);
  for (let c = 0; c < CEPSTRA; c++) {
    const scale = c === 0 ? Math.sqrt(1 / FILTERS) : Math.sqrt(2 / FILTERS);
    const lift = 1 + (LIFTER / 2) * Math.sin((c * Math.PI) / LIFTER);
    for (let n = 0; n < FILTERS; n++)
      table[c * FILTERS + n] = scale * lift * Math.cos(((c * Math.PI) / FILTERS) * (n + 0.5));
  }
  return table;
}

const hamming = (): Float64Array =>
  Float64Array.from({ length: WINDOW }, (_, n) => 0.54 - 0.46 * Math.cos((2 * Math.PI * n) / (WINDOW - 1)));

/** How pocketsphinx follows noise (its `fe_noise.c`; after Kim and Stern 2010, power-normalised cepstra). */
const NOISE = { power: 0.7, up: 0.995, down: 0.5, peak: 0.85, under: 0.2, most: 20, beside: 4 } as const;

/** Takes steady noise off the energies of frames that come one after another. */
function denoiser(): (energies: Float64Array) => void {
  const [power, noise, floor, peak, gain] = Array.from({ length: 5 }, () => new Float64Array(FILTERS)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  let isFirst = true;
  const follow = (value: number, level: number): number => {
    const share = value >= level ? NOISE.up : NOISE.down;
    return share * level + (1 - share) * value;
  };
  return (energies) => {
    for (let n = 0; n < FILTERS; n++) {
      const own = energies[n] ?? 0;
      if (isFirst) {
        power[n] = own;
        noise[n] = own / NOISE.most;
        floor[n] = own / NOISE.most;
      }
      const smooth = NOISE.power * (power[n] ?? 0) + (1 - NOISE.power) * own;
      power[n] = smooth;
      const level = follow(smooth, noise[n] ?? 0);
      noise[n] = level;
      let signal = Math.max(smooth - level, 1);
      const least = follow(signal, floor[n] ?? 0);
      floor[n] = least;
      const heard = signal;
      const top = (peak[n] ?? 0) * NOISE.peak;
      if (signal < NOISE.peak * top) signal = top * NOISE.under;
      peak[n] = Math.max(top, heard);
      signal = Math.max(signal, least);
      gain[n] = Math.max(signal < NOISE.most * smooth ? signal / smooth : NOISE.most, 1 / NOISE.most);
    }
    isFirst = false;
    for (let n = 0; n < FILTERS; n++) {
      const [from, to] = [Math.max(0, n - NOISE.beside), Math.min(FILTERS - 1, n + NOISE.beside)];
      let sum = 0;
      for (let k = from; k <= to; k++) sum += gain[k] ?? 0;
      energies[n] = ((energies[n] ?? 0) * sum) / (to - from + 1);
    }
  };
}

/** So far to both sides the mean is taken that is taken off a frame, in frames. Tuned on none of the broadcasts. */
const MEAN_REACH = 400;

/**
 * The features of single frames: the cepstra less their mean nearby (so that neither a voice's nor a line's colour
 * counts), how they change from two frames before to two after, and how that changes (`1s_c_d_dd` of CMU Sphinx).
 */
export function featuresOf(frames: Float32Array): (frame: number, into: Float32Array) => void {
  const count = frames.length / CEPSTRA;
  const means = runningMeans(frames, count);
  const value = (frame: number, c: number): number =>
    frames[Math.min(count - 1, Math.max(0, frame)) * CEPSTRA + c] ?? 0;
  return (frame, into) => {
    for (let c = 0; c < CEPSTRA; c++) {
      into[c] = value(frame, c) - (means[frame * CEPSTRA + c] ?? 0);
      into[CEPSTRA + c] = value(frame + 2, c) - value(frame - 2, c);
      into[2 * CEPSTRA + c] = value(frame + 3, c) - value(frame - 1, c) - (value(frame + 1, c) - value(frame - 3, c));
    }
  };
}

function runningMeans(frames: Float32Array, count: number): Float32Array {
  const means = new Float32Array(frames.length);
  for (let c = 0; c < CEPSTRA; c++) {
    let [sum, from, to] = [0, 0, 0];
    for (let frame = 0; frame < count; frame++) {
      for (; to < Math.min(count, frame + MEAN_REACH); to++) sum += frames[to * CEPSTRA + c] ?? 0;
      for (; from < frame - MEAN_REACH; from++) sum -= frames[from * CEPSTRA + c] ?? 0;
      means[frame * CEPSTRA + c] = sum / (to - from);
    }
  }
  return means;
}
