import { KIND_RATE } from "./kindFrames.ts";

/** Peaks a second: one for 20 ms. */
export const PEAKS = 50;
const BUCKET = KIND_RATE / PEAKS;

/** The outline of a recording, as it comes. */
export interface Waveform {
  /** Takes samples of one channel at `KIND_RATE`, -1 to 1. */
  take(samples: Float32Array): void;
  /** The highest sample of every 20 ms so far, of either sign: 255 is full scale, and only digital silence is 0. */
  peaks(): Uint8Array;
}

export function waveform(): Waveform {
  let peaks = new Uint8Array(1024);
  let [full, filled, peak] = [0, 0, 0];
  const level = () => Math.min(255, Math.ceil(peak * 255));
  return {
    take: (samples) => {
      for (let n = 0; n < samples.length; n++) {
        const own = Math.abs(samples[n] ?? 0);
        if (own > peak) peak = own;
        if (++filled < BUCKET) continue;
        if (full + 1 >= peaks.length) {
          const more = new Uint8Array(peaks.length * 2);
          more.set(peaks);
          peaks = more;
        }
        peaks[full++] = level();
        [filled, peak] = [0, 0];
      }
    },
    peaks: () => {
      const all = peaks.slice(0, full + (filled > 0 ? 1 : 0));
      if (filled > 0) all[full] = level();
      return all;
    },
  };
}
