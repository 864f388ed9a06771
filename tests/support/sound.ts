import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { wavOf } from "./sounds.ts";

/** Samples a second of the sound that tests make. */
export const TRACK_RATE = 24_000;

/** The pitch of a second of the track, in hertz: each second has its own, so that it can be told where sound is from. */
export const pitchOf = (second: number): number => 300 + 45 * second;

/** A track whose every second has its own pitch, a little louder in its second half, with a hiss that is the same nowhere. */
export function track(seconds: number): Float32Array {
  let state = 1;
  return Float32Array.from({ length: seconds * TRACK_RATE }, (_, n) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const second = Math.floor(n / TRACK_RATE);
    const loud = (n % TRACK_RATE) * 2 < TRACK_RATE ? 0.2 : 0.3;
    return loud * Math.sin((2 * Math.PI * pitchOf(second) * n) / TRACK_RATE) + (state / 2 ** 31 - 1) * 0.1;
  });
}

/** Writes samples as a WAV file: one channel, 16 bits. */
export const writeWav = (path: string, samples: Float32Array): void =>
  writeFileSync(path, wavOf([samples], TRACK_RATE));

/** ffmpeg as the tests call it, for making and measuring what they compare with. Its output. */
export function ffmpeg(...args: readonly string[]): Buffer {
  const ran = spawnSync("ffmpeg", ["-nostdin", "-v", "error", ...args], { maxBuffer: 2 ** 28 });
  if (ran.status !== 0) throw new Error(`ffmpeg ${args.join(" ")}: ${ran.stderr?.toString() ?? ran.error}`);
  return ran.stdout;
}

export const HAS_FFMPEG = spawnSync("ffmpeg", ["-version"]).status === 0;
export const UNLESS_FFMPEG = HAS_FFMPEG ? "" : " (skipped: no ffmpeg found)";
