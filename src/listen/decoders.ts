import { FLACDecoder } from "@wasm-audio-decoders/flac";
import { OggVorbisDecoder } from "@wasm-audio-decoders/ogg-vorbis";
import { MPEGDecoder } from "mpg123-decoder";
import { OggOpusDecoder } from "ogg-opus-decoder";
import { isMonoMpeg, type SoundKind } from "./decodeKind.ts";
import type { Decoder, Piece } from "./decodePiece.ts";
import { wavDecoder } from "./decodeWav.ts";

/** What the packages' decoders answer, all in the same shape. */
interface Answer {
  readonly channelData: readonly Float32Array[];
  readonly samplesDecoded: number;
  readonly sampleRate: number;
  readonly errors: readonly { readonly message: string }[];
}

interface Packaged {
  readonly ready: Promise<void>;
  decode(bytes: Uint8Array): Answer | Promise<Answer>;
  flush?(): Promise<Answer>;
  free(): void;
}

/** @param tell is told, as a sentence's end, of each fault that the decoder went past. */
export async function decoderFor(kind: Exclude<SoundKind, "other">, tell: (says: string) => void): Promise<Decoder> {
  if (kind === "wav") return wavDecoder(tell);
  const own = await packaged(packageFor(kind), tell);
  return kind === "mp3" ? withoutCopy(own) : own;
}

/** The package gives a sound of one channel twice. */
function withoutCopy(decoder: Decoder): Decoder {
  let isMono: boolean | null = null;
  const own = (piece: Piece | null): Piece | null =>
    piece === null || isMono !== true ? piece : { ...piece, channels: piece.channels.slice(0, 1) };
  return {
    ...decoder,
    take: async (bytes) => {
      isMono ??= isMonoMpeg(bytes) ?? false;
      return own(await decoder.take(bytes));
    },
    end: async () => own(await decoder.end()),
  };
}

function packageFor(kind: "mp3" | "opus" | "vorbis" | "flac"): Packaged {
  switch (kind) {
    case "mp3":
      return new MPEGDecoder();
    case "opus":
      return new OggOpusDecoder();
    case "vorbis":
      return new OggVorbisDecoder();
    case "flac":
      return new FLACDecoder();
  }
}

async function packaged(own: Packaged, tell: (says: string) => void): Promise<Decoder> {
  await own.ready;
  const pieceOf = ({ channelData, samplesDecoded, sampleRate, errors }: Answer): Piece | null => {
    for (const { message } of errors) tell(message);
    return samplesDecoded === 0 ? null : { rate: sampleRate, channels: channelData };
  };
  return {
    take: async (bytes) => pieceOf(await own.decode(bytes)),
    end: async () => (own.flush === undefined ? null : pieceOf(await own.flush())),
    free: () => own.free(),
  };
}
