import { type Random, randomFrom } from "../../support/random.ts";

/** Notes of a mood, in semitones over its lowest, how many a second, and how they begin. */
interface Mood {
  readonly root: number;
  readonly scale: readonly number[];
  readonly pace: number;
  readonly struck: boolean;
  readonly wash: number;
}

const PLAIN: Mood = { root: 220, scale: [0, 2, 4, 7, 9, 12], pace: 4, struck: true, wash: 0 };
const MOODS: Readonly<Record<string, Mood>> = {
  plain: PLAIN,
  bright: { root: 262, scale: [0, 4, 7, 9, 12, 16], pace: 6, struck: true, wash: 0.004 },
  slow: { root: 147, scale: [0, 3, 7, 10, 12, 15], pace: 2.5, struck: false, wash: 0.02 },
  dance: { root: 196, scale: [0, 2, 3, 5, 7, 10, 12], pace: 5, struck: false, wash: 0 },
};

/** Computed music, nobody's recording: struck tones or plucked strings over a wash of filtered noise. Peak below 0.5. */
export function musicOf(mood: string, seconds: number, rate: number, seed: number): Float32Array {
  const own = MOODS[mood] ?? PLAIN;
  const random = randomFrom(seed);
  const out = new Float32Array(Math.round(seconds * rate));
  const step = 1 / own.pace;
  for (let at = 0; at < seconds - 0.3; at += step) {
    const isBar = Math.round(at / step) % 8 === 0;
    lay(out, rate, at, own.root * 2 ** (random.pick(own.scale) / 12), own.struck, random);
    if (isBar) lay(out, rate, at, own.root / 2, own.struck, random);
  }
  let low = 0;
  for (let n = 0; n < out.length; n++) {
    low += 0.05 * ((random.next() - 0.5) * 2 - low);
    const fade = Math.min(1, n / (0.03 * rate), (out.length - n) / (0.4 * rate));
    out[n] = fade * ((out[n] ?? 0) + own.wash * 8 * low);
  }
  const most = out.reduce((top, one) => Math.max(top, Math.abs(one)), 0);
  return out.map((one) => (0.45 * one) / (most + 1e-9));
}

/** One note. A string is a loop of noise that is smoothed as it goes round (Karplus and Strong, 1983). */
function lay(out: Float32Array, rate: number, at: number, hertz: number, isStruck: boolean, random: Random): void {
  const start = Math.round(at * rate);
  const length = Math.min(out.length - start, Math.round(1.2 * rate));
  if (isStruck) {
    for (let n = 0; n < length; n++) {
      const time = n / rate;
      const tone = Math.sin(2 * Math.PI * hertz * time) + 0.4 * Math.sin(2 * Math.PI * hertz * 2.76 * time);
      out[start + n] = (out[start + n] ?? 0) + 0.2 * tone * Math.exp(-4 * time);
    }
    return;
  }
  const loop = Float32Array.from({ length: Math.round(rate / hertz) }, () => random.next() - 0.5);
  for (let n = 0; n < length; n++) {
    const [here, next] = [n % loop.length, (n + 1) % loop.length];
    const value = loop[here] ?? 0;
    loop[here] = 0.498 * (value + (loop[next] ?? 0));
    out[start + n] = (out[start + n] ?? 0) + 0.5 * value;
  }
}
