import { HEAD_BYTES, kindOf, type SoundKind } from "./decodeKind.ts";
import type { Decoder, Piece } from "./decodePiece.ts";
import { decoderFor } from "./decoders.ts";
import { type Resampler, resampler } from "./resample.ts";

export type { Piece } from "./decodePiece.ts";

/** What was found out of a file's sound while it was decoded. Milliseconds by its samples. */
export interface Decoded {
  readonly kind: SoundKind;
  /** Samples a second in the file. */
  readonly rate: number;
  readonly channels: number;
  readonly ms: number;
  /** How often the decoder met something broken, and what it said first. */
  readonly faults: number;
  readonly firstFault: string | null;
}

/** Thrown where a file has no sound that can be decoded here; `says` is a sentence without the file's name. */
export class UndecodableSound extends Error {
  constructor(readonly says: string) {
    super(says);
    this.name = "UndecodableSound";
  }
}

/**
 * Decodes a file's sound as it comes: never more than some seconds are held. What the encoder put in front and behind is
 * taken off. @param bytes the file, from its beginning. @returns, at the end, what the file is like.
 * @throws {UndecodableSound} where nothing can be made of it.
 */
export async function* decode(bytes: AsyncIterable<Uint8Array>): AsyncGenerator<Piece, Decoded> {
  let [kind, decoder]: [SoundKind, Decoder | null] = ["other", null];
  let [rate, channels, samples, faults]: [number, number, number, number] = [0, 0, 0, 0];
  let firstFault: string | null = null;
  const tell = (says: string): void => {
    faults++;
    firstFault ??= says;
  };
  const counted = (piece: Piece): Piece => {
    if (rate !== 0 && (piece.rate !== rate || piece.channels.length !== channels))
      throw new UndecodableSound("The sound changes its rate or its channels on the way, and can't be heard as one.");
    [rate, channels] = [piece.rate, piece.channels.length];
    samples += piece.channels[0]?.length ?? 0;
    return piece;
  };
  try {
    for await (const chunk of withHead(bytes)) {
      if (decoder === null) {
        kind = kindOf(chunk);
        if (kind === "other") throw new UndecodableSound("It is no wav, mp3, Ogg Opus, Ogg Vorbis or flac file.");
        decoder = await decoderFor(kind, tell);
      }
      const piece = await decoder.take(chunk);
      if (piece !== null) yield counted(piece);
    }
    const last = (await decoder?.end()) ?? null;
    if (last !== null) yield counted(last);
  } catch (error) {
    if (error instanceof UndecodableSound || !(error instanceof Error)) throw error;
    throw new UndecodableSound(`It can't be decoded: ${error.message}.`);
  } finally {
    decoder?.free();
  }
  if (samples === 0) throw new UndecodableSound("It holds no sound.");
  return { kind, rate, channels, ms: (samples / rate) * 1000, faults, firstFault };
}

/** The first chunk is made long enough to tell what the file is. */
async function* withHead(bytes: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  let head: Uint8Array | null = new Uint8Array(0);
  for await (const chunk of bytes) {
    if (head === null) yield chunk;
    else {
      const all: Uint8Array = new Uint8Array(head.length + chunk.length);
      all.set(head);
      all.set(chunk, head.length);
      if (all.length < HEAD_BYTES) head = all;
      else {
        head = null;
        yield all;
      }
    }
  }
  if (head !== null && head.length > 0) yield head;
}

/** The mean of all channels; a file of one has its own samples. */
export function mixed({ channels }: Piece): Float32Array {
  const [first = new Float32Array(0)] = channels;
  if (channels.length <= 1) return first;
  return first.map((_, n) => channels.reduce((sum, channel) => sum + (channel[n] ?? 0), 0) / channels.length);
}

/** Pieces of sound as one channel at `rate` samples a second. @returns what the pieces' own generator returns. */
export async function* asMono<R>(pieces: AsyncGenerator<Piece, R>, rate: number): AsyncGenerator<Float32Array, R> {
  let own: Resampler | null = null;
  for (;;) {
    const { done, value } = await pieces.next();
    if (done === true) {
      const last = own?.end() ?? new Float32Array(0);
      if (last.length > 0) yield last;
      return value;
    }
    own ??= resampler(value.rate, rate);
    const samples = own.take(mixed(value));
    if (samples.length > 0) yield samples;
  }
}
