import { RATE } from "../../src/listen/alignFeatures.ts";

/** Without what is quiet at both ends: 35 dB below the loudest tenth of a second. */
export function trimmed(samples: Float32Array): Float32Array {
  const piece = RATE / 100;
  const energies = Array.from({ length: Math.floor(samples.length / piece) }, (_, n) =>
    samples.subarray(n * piece, (n + 1) * piece).reduce((sum, sample) => sum + sample * sample, 0),
  );
  const least = Math.max(...energies) * 10 ** -3.5;
  const [first, last] = [energies.findIndex((own) => own > least), energies.findLastIndex((own) => own > least)];
  return samples.subarray(Math.max(0, first) * piece, (last + 1) * piece);
}
