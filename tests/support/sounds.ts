import { spawnSync } from "node:child_process";
import { createReadStream } from "node:fs";
import { asMono, type Decoded, decode, type Piece } from "../../src/listen/decode.ts";

/** Bytes in chunks of a length, as they come from a disk. */
export async function* inChunks(bytes: Uint8Array, length = 4096): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += length) yield bytes.slice(at, at + length);
}

/** All that a generator gives, and what it returns at the end. */
export async function collected<T, R>(from: AsyncGenerator<T, R>): Promise<{ readonly all: T[]; readonly end: R }> {
  const all: T[] = [];
  for (;;) {
    const { done, value } = await from.next();
    if (done === true) return { all, end: value };
    all.push(value);
  }
}

export const joinedSamples = (pieces: readonly Float32Array[]): Float32Array => {
  const all = new Float32Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
};

/** A file's or some bytes' sound as one channel. */
export async function monoOf(
  from: string | Uint8Array,
  rate: number,
): Promise<{ readonly samples: Float32Array; readonly end: Decoded }> {
  const bytes = typeof from === "string" ? createReadStream(from) : inChunks(from);
  const { all, end } = await collected(asMono(decode(bytes), rate));
  return { samples: joinedSamples(all), end };
}

export const piecesOf = (bytes: Uint8Array): Promise<{ readonly all: Piece[]; readonly end: Decoded }> =>
  collected(decode(inChunks(bytes)));

export type Encoding = "s16" | "s24" | "s32" | "u8" | "f32";

/** A wav file of these channels (RIFF, Microsoft and IBM 1991). @param encoding how the samples stand in it. */
export function wavOf(channels: readonly Float32Array[], rate: number, encoding: Encoding = "s16"): Uint8Array {
  const width = { u8: 1, s16: 2, s24: 3, s32: 4, f32: 4 }[encoding];
  const count = channels[0]?.length ?? 0;
  const size = count * channels.length * width;
  const out = Buffer.alloc(44 + size);
  out.write("RIFF", 0, "latin1");
  out.writeUInt32LE(36 + size, 4);
  out.write("WAVEfmt ", 8, "latin1");
  out.writeUInt32LE(16, 16);
  out.writeUInt16LE(encoding === "f32" ? 3 : 1, 20);
  out.writeUInt16LE(channels.length, 22);
  out.writeUInt32LE(rate, 24);
  out.writeUInt32LE(rate * channels.length * width, 28);
  out.writeUInt16LE(channels.length * width, 32);
  out.writeUInt16LE(width * 8, 34);
  out.write("data", 36, "latin1");
  out.writeUInt32LE(size, 40);
  let at = 44;
  for (let n = 0; n < count; n++) {
    for (const channel of channels) {
      const value = channel[n] ?? 0;
      if (encoding === "f32") out.writeFloatLE(value, at);
      else if (encoding === "u8") out.writeUInt8(Math.round(value * 127) + 128, at);
      else out.writeIntLE(Math.round(value * (2 ** (width * 8 - 1) - 1)), at, width);
      at += width;
    }
  }
  return new Uint8Array(out);
}

export const sine = (rate: number, seconds: number, hertz: number, peak = 0.5): Float32Array =>
  Float32Array.from(
    { length: Math.round(rate * seconds) },
    (_, n) => peak * Math.sin((2 * Math.PI * hertz * n) / rate),
  );

/** Noise that is the same every time. */
export function noise(count: number, peak = 0.5): Float32Array {
  let state = 1;
  return Float32Array.from({ length: count }, () => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return (state / 2147483648 - 1) * peak;
  });
}

/** What ffmpeg makes of a file: one channel, the mean of all. */
export function byFfmpeg(file: string, rate: number, channels: number): Float32Array {
  const mean = Array.from({ length: channels }, (_, n) => `${1 / channels}*c${n}`).join("+");
  const args = ["-v", "error", "-i", file, "-af", `pan=mono|c0=${mean}`, "-ar", `${rate}`, "-f", "f32le", "-"];
  const { status, stdout, stderr } = spawnSync("ffmpeg", args, { maxBuffer: 2 ** 30 });
  if (status !== 0) throw new Error(`ffmpeg: ${stderr.toString()}`);
  return new Float32Array(new Uint8Array(stdout).buffer, 0, stdout.length >> 2);
}

/** The energy of a sound over that of its difference from another, in decibels. */
export function likenessDb(one: Float32Array, other: Float32Array, shift = 0): number {
  let [energy, apart] = [0, 0];
  for (let n = Math.max(0, -shift); n < Math.min(one.length, other.length - shift); n++) {
    const [a, b] = [one[n] ?? 0, other[n + shift] ?? 0];
    energy += a * a;
    apart += (a - b) ** 2;
  }
  return 10 * Math.log10(energy / Math.max(apart, 1e-30));
}
