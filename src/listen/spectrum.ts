import FFT from "fft.js";

/** The power of a stretch of samples by frequency. */
export interface Spectrum {
  /** Samples that a spectrum is made from. */
  readonly length: number;
  /** The power in bins 0 to `length / 2 - 1` of samples from `start` on, behind a Hann window; holds until the next call. */
  of(samples: Float32Array, start: number): Float64Array;
}

/** @param length a power of two. */
export function spectrum(length: number): Spectrum {
  const window = Float64Array.from({ length }, (_, n) => 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / length));
  const { values, power } = powers(length);
  return {
    length,
    of: (samples, start) => {
      for (let n = 0; n < length; n++) values[n] = (samples[start + n] ?? 0) * (window[n] ?? 0);
      return power();
    },
  };
}

/** Powers by frequency of what stands in `values`. */
export interface Powers {
  readonly values: Float64Array;
  /** In bins 0 to `length / 2 - 1`; holds until the next call. */
  power(): Float64Array;
}

/** @param length a power of two. */
export function powers(length: number): Powers {
  const fft = new FFT(length);
  const [values, parts, into] = [new Float64Array(length), new Float64Array(length * 2), new Float64Array(length / 2)];
  return {
    values,
    power: () => {
      fft.realTransform(parts, values);
      for (let k = 0; k < into.length; k++) {
        const re = parts[2 * k] ?? 0;
        const im = parts[2 * k + 1] ?? 0;
        into[k] = re * re + im * im;
      }
      return into;
    },
  };
}
