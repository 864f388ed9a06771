import { spectrum } from "./spectrum.ts";
import { windows } from "./windows.ts";

/** Samples a second that frames are made from, and frames a second. */
export const KIND_RATE = 16_000;
export const KIND_FRAMES = 25;
const SHIFT = KIND_RATE / KIND_FRAMES;
const WINDOW = 512;
/** Frequencies looked at, in bins of 31.25 Hz: 125 to 3400 Hz, which a telephone line has too. */
const [FIRST, LAST] = [4, 109] as const;
/** Bands of a third of an octave and more, by their first bins; the last number ends the last band. */
const BANDS = [4, 7, 10, 13, 17, 21, 26, 32, 39, 47, 57, 68, 80, 94, 109] as const;
export const BAND_COUNT = BANDS.length - 1;

/** What a frame of 40 ms has, by place: levels of its halves, shares of power, then the levels of the bands. */
export const AT = { level: 0, later: 1, steady: 2, single: 3, bands: 4 } as const;
export const VALUES = AT.bands + BAND_COUNT;

export interface KindFrames {
  /** Takes samples of one channel at `KIND_RATE`, -1 to 1. */
  take(samples: Float32Array): void;
  /** All frames so far, `VALUES` values each. */
  frames(): Float32Array;
}

/** Makes a full-scale sine 0 dB: half its power is in the Hann window's three bins of positive frequency. */
const SCALE = 1 / ((WINDOW / 4) ** 2 * 1.5);

/** A peak counts as steady once it has stood in its bin for so many frames: no voice holds a note so still. */
const STEADY = 7;

export function kindFrames(): KindFrames {
  const spectra = spectrum(WINDOW);
  const ages = new Uint16Array(WINDOW / 2);
  let frames = new Float32Array(VALUES * 1024);
  let count = 0;

  const frame = (held: Float32Array, start: number): void => {
    if ((count + 1) * VALUES > frames.length) {
      const more = new Float32Array(frames.length * 2);
      more.set(frames);
      frames = more;
    }
    const at = count * VALUES;
    frames[at + AT.level] = levelOf(held, start, start + SHIFT / 2);
    frames[at + AT.later] = levelOf(held, start + SHIFT / 2, start + SHIFT);
    const power = spectra.of(held, start);
    let [sum, most, mostAt] = [1e-12, 0, 0];
    for (let b = 0; b < BAND_COUNT; b++) {
      let own = 0;
      for (let k = BANDS[b] ?? 0; k < (BANDS[b + 1] ?? 0); k++) {
        const p = power[k] ?? 0;
        own += p;
        if (p > most) [most, mostAt] = [p, k];
      }
      sum += own;
      frames[at + AT.bands + b] = 10 * Math.log10(own * SCALE + 1e-10);
    }
    let steady = 0;
    for (let k = FIRST; k < LAST; k++) {
      const p = power[k] ?? 0;
      const isPeak = p > (power[k - 1] ?? 0) && p >= (power[k + 1] ?? 0) && p > sum * 1e-3;
      const age = isPeak ? (ages[k] ?? 0) + 1 : 0;
      ages[k] = age;
      if (age >= STEADY) steady += p + (power[k - 1] ?? 0) + (power[k + 1] ?? 0);
    }
    let single = 0;
    for (let k = mostAt - 2; k <= mostAt + 2; k++) single += power[k] ?? 0;
    frames[at + AT.steady] = Math.min(1, steady / sum);
    frames[at + AT.single] = Math.min(1, single / sum);
    count++;
  };
  return {
    take: windows(SHIFT, SHIFT, frame),
    frames: () => frames.subarray(0, count * VALUES),
  };
}

/** In decibels of full scale. */
function levelOf(samples: Float32Array, from: number, to: number): number {
  let energy = 0;
  for (let n = from; n < to; n++) {
    const own = samples[n] ?? 0;
    energy += own * own;
  }
  return 10 * Math.log10(energy / (to - from) + 1e-10);
}
