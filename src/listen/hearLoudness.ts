import type { Piece } from "./decodePiece.ts";

/** A filter of second order: what it makes of a sample depends on two before it. */
interface Biquad {
  readonly b: readonly [number, number, number];
  readonly a: readonly [number, number];
}

/**
 * The two filters of ITU-R BS.1770-4, Annex 1 ("K-weighting"), for any rate: the standard gives them for 48 kHz alone.
 * The analogue filters behind those numbers, from which others follow by the bilinear transform, are those of B. De Man,
 * "Evaluation of implementations of the EBU R128 loudness measurement" (AES Convention e-Brief, 2018).
 */
function weighting(rate: number): readonly [Biquad, Biquad] {
  const shelf = (): Biquad => {
    const [gain, q] = [3.999843853973347, 0.7071752369554196];
    const k = Math.tan((Math.PI * 1681.974450955533) / rate);
    const high = 10 ** (gain / 20);
    const middle = high ** 0.4996667741545416;
    const over = 1 + k / q + k * k;
    return {
      b: [
        (high + (middle * k) / q + k * k) / over,
        (2 * (k * k - high)) / over,
        (high - (middle * k) / q + k * k) / over,
      ],
      a: [(2 * (k * k - 1)) / over, (1 - k / q + k * k) / over],
    };
  };
  const pass = (): Biquad => {
    const q = 0.5003270373238773;
    const k = Math.tan((Math.PI * 38.13547087602444) / rate);
    const over = 1 + k / q + k * k;
    return { b: [1, -2, 1], a: [(2 * (k * k - 1)) / over, (1 - k / q + k * k) / over] };
  };
  return [shelf(), pass()];
}

/** Energy is summed up over steps of 100 ms; a block of the standard is four of them. */
const [STEPS_A_SECOND, BLOCK] = [10, 4] as const;
/** Gates of the standard: quieter blocks never count; nor do those this much below the mean of the others. */
const [ABSOLUTE, RELATIVE] = [-70, -10] as const;

/** A recording's loudness, as it comes. */
export interface Loudness {
  /** Takes sound of one rate, with as many channels each time. */
  take(piece: Piece): void;
  /** Integrated loudness in LUFS; null where nothing is loud enough to count. */
  integrated(): number | null;
}

/** Integrated loudness by ITU-R BS.1770-4, of one channel or two: all weigh the same. */
export function loudness(): Loudness {
  const steps: number[] = [];
  let filters: readonly ChannelFilter[] = [];
  let [sum, count] = [0, 0];
  return {
    take: ({ rate, channels }) => {
      if (filters.length === 0) filters = channels.map(() => channelFilter(rate));
      const step = Math.round(rate / STEPS_A_SECOND);
      const length = channels[0]?.length ?? 0;
      for (let from = 0; from < length; ) {
        const to = Math.min(length, from + step - count);
        channels.forEach((samples, n) => {
          sum += filters[n]?.energy(samples, from, to) ?? 0;
        });
        count += to - from;
        from = to;
        if (count < step) continue;
        steps.push(sum / step);
        [sum, count] = [0, 0];
      }
    },
    integrated: () => gated(steps),
  };
}

const lufs = (energy: number): number => -0.691 + 10 * Math.log10(energy);
const mean = (values: readonly number[]): number => values.reduce((all, own) => all + own, 0) / values.length;

function gated(steps: readonly number[]): number | null {
  const blocks = steps.slice(BLOCK - 1).map((_, n) => mean(steps.slice(n, n + BLOCK)));
  const audible = blocks.filter((energy) => lufs(energy) > ABSOLUTE);
  if (audible.length === 0) return null;
  const least = lufs(mean(audible)) + RELATIVE;
  return lufs(mean(audible.filter((energy) => lufs(energy) > least)));
}

interface ChannelFilter {
  /** The energy of samples [from, to) behind both filters. */
  energy(samples: Float32Array, from: number, to: number): number;
}

function channelFilter(rate: number): ChannelFilter {
  const [one, other] = weighting(rate);
  const state = new Float64Array(4);
  return { energy: (samples, from, to) => energyBehind(one, other, state, samples, from, to) };
}

/** A function of its own, because the engine makes it faster so. `state`: two values a filter (transposed form II). */
function energyBehind(
  { b: [p0, p1, p2], a: [p3, p4] }: Biquad,
  { b: [q0, q1, q2], a: [q3, q4] }: Biquad,
  state: Float64Array,
  samples: Float32Array,
  from: number,
  to: number,
): number {
  let [s0 = 0, s1 = 0, s2 = 0, s3 = 0] = state;
  let sum = 0;
  for (let n = from; n < to; n++) {
    const x = samples[n] ?? 0;
    const y = p0 * x + s0;
    s0 = p1 * x - p3 * y + s1;
    s1 = p2 * x - p4 * y;
    const z = q0 * y + s2;
    s2 = q1 * y - q3 * z + s3;
    s3 = q2 * y - q4 * z;
    sum += z * z;
  }
  state.set([s0, s1, s2, s3]);
  return sum;
}
