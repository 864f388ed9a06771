import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { KIND_RATE } from "../../src/listen/kindFrames.ts";
import type { SoundKind } from "../../src/listen/kinds.ts";
import { monoOf, noise, sine } from "../support/sounds.ts";
import { trimmed } from "./trimmed.ts";

/** Sound that was put together, and what it is when: seconds. */
export interface Mixed {
  readonly samples: Float32Array;
  readonly truth: readonly { readonly kind: SoundKind; readonly from: number; readonly to: number }[];
}

/** What there is to mix: sayings of people, and pieces of music; one channel at `KIND_RATE`, of like level. */
export interface Stock {
  readonly sayings: readonly Float32Array[];
  readonly music: readonly Float32Array[];
}

/** No more of a piece of music is held. Seconds. */
const A_PIECE = 200;

/** Prompts that are longer than a word, and pieces of music, from two folders. */
export async function stockIn(prompts: string, tunes: string): Promise<Stock> {
  const load = async (folder: string, least: number) => {
    const files = readdirSync(folder).filter(
      (name) => /\.(wav|mp3)$/.test(name) && statSync(join(folder, name)).size > least,
    );
    const all: Float32Array[] = [];
    for (const file of files.sort()) all.push((await monoOf(join(folder, file), KIND_RATE)).samples);
    return all;
  };
  const sayings = (await load(prompts, 24_000)).map((own) => leveled(trimmed(own)));
  const music = (await load(tunes, 0)).map((own) => leveled(own.subarray(0, A_PIECE * KIND_RATE)));
  return { sayings, music };
}

const energyOf = (samples: Float32Array): number => samples.reduce((sum, own) => sum + own * own, 0) / samples.length;

/** So loud that its RMS is 0.1: 20 dB below full scale. */
export function leveled(samples: Float32Array): Float32Array {
  const gain = 0.1 / Math.sqrt(energyOf(samples) + 1e-12);
  return samples.map((own) => own * gain);
}

/** Rounds of speech, music, silence, tone and speech over music, of changing lengths. */
export function mix({ sayings, music }: Stock, rounds: number): Mixed {
  const parts: { readonly kind: SoundKind; readonly samples: Float32Array }[] = [];
  let said = 0;
  const talk = (seconds: number): Float32Array => {
    const all = new Float32Array(Math.round(seconds * KIND_RATE));
    for (let at = 0; at < all.length; said++) {
      const own = sayings[said % sayings.length] ?? new Float32Array(1);
      all.set(own.subarray(0, all.length - at), at);
      at += own.length + Math.round((0.2 + 0.1 * (said % 5)) * KIND_RATE);
    }
    return trimmed(all);
  };
  const tune = (n: number, seconds: number): Float32Array => {
    const own = music[n % music.length] ?? new Float32Array(0);
    const length = Math.round(seconds * KIND_RATE);
    const at = Math.min(own.length - length, (10 + 25 * Math.floor(n / music.length)) * KIND_RATE);
    return own.subarray(at, at + length);
  };
  for (let n = 0; n < rounds; n++) {
    parts.push({ kind: "speech", samples: talk(10 + (n % 4) * 5) });
    parts.push({ kind: "music", samples: tune(n, 6 + (n % 3) * 6) });
    if (n % 2 === 0) parts.push({ kind: "silence", samples: new Float32Array((2 + (n % 3)) * KIND_RATE) });
    if (n % 3 === 1)
      parts.push({ kind: "tone", samples: sine(KIND_RATE, 3 + (n % 4), n % 2 === 0 ? 440 : 1000, 0.14) });
    const over = talk(12);
    const bed = tune(n + 2, over.length / KIND_RATE);
    parts.push({ kind: "speech", samples: over.map((own, k) => own + 0.178 * (bed[k] ?? 0)) });
  }
  const samples = new Float32Array(parts.reduce((sum, part) => sum + part.samples.length, 0));
  let at = 0;
  const truth = parts.map(({ kind, samples: own }) => {
    const from = at / KIND_RATE;
    samples.set(own, at);
    at += own.length;
    return { kind, from, to: at / KIND_RATE };
  });
  return { samples, truth };
}

/** With white noise so many decibels below the level of speech. */
export function withNoise({ samples, truth }: Mixed, db: number): Mixed {
  // Noise that is spread evenly over -1 to 1 has an RMS of 1 over the root of 3.
  const added = noise(samples.length, 0.1 * 10 ** (-db / 20) * Math.sqrt(3));
  return { samples: samples.map((own, n) => own + (added[n] ?? 0)), truth };
}
