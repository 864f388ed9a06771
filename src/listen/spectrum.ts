/** The power of a stretch of samples by frequency. */
export interface Spectrum {
  /** Samples that a spectrum is made from. */
  readonly length: number;
  /** The power in bins 0 to `length / 2 - 1` of samples from `start` on, behind a Hann window; holds until the next call. */
  of(samples: Float32Array, start: number): Float64Array;
}

/**
 * Power spectra of `length` real samples, by a complex transform of half the length (Cooley and Tukey 1965; packing by
 * Press et al., "Numerical Recipes", 12.3). @param length a power of two.
 */
export function spectrum(length: number): Spectrum {
  const half = length / 2;
  const [real, imaginary, power] = [new Float64Array(half), new Float64Array(half), new Float64Array(half)];
  const window = Float64Array.from({ length }, (_, n) => 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / length));
  const [cos, sin] = [Math.cos, Math.sin].map((of) =>
    Float64Array.from({ length: half }, (_, n) => of((-2 * Math.PI * n) / length)),
  ) as [Float64Array, Float64Array];
  const turned = Uint16Array.from({ length: half }, (_, n) => {
    let other = 0;
    for (let bit = 1, to = half / 2; bit < half; bit *= 2, to /= 2) if (n & bit) other |= to;
    return other;
  });
  return {
    length,
    of: (samples, start) => {
      for (let n = 0; n < half; n++) {
        const to = turned[n] as number;
        const at = start + 2 * n;
        real[to] = (samples[at] ?? 0) * (window[2 * n] as number);
        imaginary[to] = (samples[at + 1] ?? 0) * (window[2 * n + 1] as number);
      }
      transform(real, imaginary, cos, sin);
      unpack(real, imaginary, cos, sin, power);
      return power;
    },
  };
}

// `as number`: these run millions of times, and a check of each value took as long as the sums.

/** In place; values stand in bit-reversed order. `cos` and `sin` turn by a whole circle in twice the length. */
function transform(real: Float64Array, imaginary: Float64Array, cos: Float64Array, sin: Float64Array): void {
  const length = real.length;
  for (let half = 1; half < length; half *= 2) {
    const step = length / half;
    for (let k = 0; k < half; k++) {
      const c = cos[k * step] as number;
      const s = sin[k * step] as number;
      for (let a = k; a < length; a += 2 * half) {
        const b = a + half;
        const x = real[b] as number;
        const y = imaginary[b] as number;
        const re = x * c - y * s;
        const im = x * s + y * c;
        const p = real[a] as number;
        const q = imaginary[a] as number;
        real[b] = p - re;
        imaginary[b] = q - im;
        real[a] = p + re;
        imaginary[a] = q + im;
      }
    }
  }
}

/** The power of the real samples whose even ones stood in the real part and odd ones in the imaginary. */
function unpack(
  real: Float64Array,
  imaginary: Float64Array,
  cos: Float64Array,
  sin: Float64Array,
  into: Float64Array,
): void {
  const half = real.length;
  for (let k = 0; k < half; k++) {
    const other = k === 0 ? 0 : half - k;
    const a = real[k] as number;
    const b = imaginary[k] as number;
    const c = real[other] as number;
    const d = imaginary[other] as number;
    const oddRe = (b + d) / 2;
    const oddIm = (c - a) / 2;
    const turnedBy = cos[k] as number;
    const and = sin[k] as number;
    const re = (a + c) / 2 + turnedBy * oddRe - and * oddIm;
    const im = (b - d) / 2 + turnedBy * oddIm + and * oddRe;
    into[k] = re * re + im * im;
  }
}
