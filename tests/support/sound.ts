import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";

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

/** Writes samples as a WAV file: one channel, 16 bits (RIFF, Microsoft and IBM 1991). */
export function writeWav(path: string, samples: Float32Array): void {
  const bytes = Buffer.alloc(44 + samples.length * 2);
  bytes.write("RIFF", 0, "latin1");
  bytes.writeUInt32LE(bytes.length - 8, 4);
  bytes.write("WAVEfmt ", 8, "latin1");
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(TRACK_RATE, 24);
  bytes.writeUInt32LE(TRACK_RATE * 2, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write("data", 36, "latin1");
  bytes.writeUInt32LE(samples.length * 2, 40);
  samples.forEach((sample, n) => {
    bytes.writeInt16LE(Math.round(Math.max(-1, Math.min(1, sample)) * 32767), 44 + n * 2);
  });
  writeFileSync(path, bytes);
}

/** ffmpeg as the tests call it, for making and measuring what they compare with. Its output. */
export function ffmpeg(...args: readonly string[]): Buffer {
  const ran = spawnSync("ffmpeg", ["-nostdin", "-v", "error", ...args], { maxBuffer: 2 ** 28 });
  if (ran.status !== 0) throw new Error(`ffmpeg ${args.join(" ")}: ${ran.stderr?.toString() ?? ran.error}`);
  return ran.stdout;
}

export const HAS_FFMPEG = spawnSync("ffmpeg", ["-version"]).status === 0;
export const UNLESS_FFMPEG = HAS_FFMPEG ? "" : " (skipped: no ffmpeg found)";
