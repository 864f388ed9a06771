import type { Decoder, Piece } from "./decodePiece.ts";

/** How samples stand in a wav file, from its `fmt ` chunk. */
interface Format {
  readonly rate: number;
  readonly channels: number;
  readonly bytes: number;
  readonly isFloat: boolean;
}

const [PCM, FLOAT, EXTENSIBLE] = [1, 3, 0xfffe] as const;
/** The size that stands where a writer did not know it, or where RF64 has it elsewhere. */
const UNKNOWN = 0xffffffff;

/**
 * Decodes wav: whole numbers of 8 to 32 bits and floats of 32 or 64, any number of channels, also RF64 (EBU Tech 3306).
 * @param tell is told once of what is wrong, as a sentence.
 */
export function wavDecoder(tell: (says: string) => void): Decoder {
  let rest: Uint8Array = new Uint8Array(0);
  let format: Format | null = null;
  /** Bytes of samples that are still to come; null before the `data` chunk. */
  let left: number | null = null;
  let begun = false;

  const take = async (bytes: Uint8Array): Promise<Piece | null> => {
    const all = joined(rest, bytes);
    const view = new DataView(all.buffer, all.byteOffset, all.byteLength);
    let from = begun ? 0 : 12;
    if (all.length < from) {
      rest = all;
      return null;
    }
    begun = true;
    while (left === null && from + 8 <= all.length) {
      const name = String.fromCharCode(...all.subarray(from, from + 4));
      const size = view.getUint32(from + 4, true);
      if (name === "data") {
        if (format === null) throw new Error("the samples come before the description of their format");
        left = size === UNKNOWN || size === 0 ? Number.POSITIVE_INFINITY : size;
        from += 8;
      } else {
        const end = from + 8 + size + (size % 2);
        if (end > all.length) break;
        if (name === "fmt ") format = formatFrom(new DataView(all.buffer, all.byteOffset + from + 8, size));
        from = end;
      }
    }
    if (left === null || format === null) {
      rest = all.slice(from);
      return null;
    }
    const frame = format.bytes * format.channels;
    const count = Math.floor(Math.min(all.length - from, left) / frame);
    const piece = samplesOf(new DataView(all.buffer, all.byteOffset + from, count * frame), format, count);
    left -= count * frame;
    rest = left < frame ? new Uint8Array(0) : all.slice(from + count * frame);
    return piece;
  };

  const end = async (): Promise<null> => {
    if (format === null || left === null) throw new Error("it has no samples");
    if (left !== Number.POSITIVE_INFINITY && left > rest.length) {
      const seconds = (left / (format.bytes * format.channels * format.rate)).toFixed(1);
      tell(`the file ends ${seconds} seconds before the end that its header gives`);
    }
    return null;
  };
  return { take, end, free: () => undefined };
}

function joined(one: Uint8Array, other: Uint8Array): Uint8Array {
  if (one.length === 0) return other;
  const all = new Uint8Array(one.length + other.length);
  all.set(one);
  all.set(other, one.length);
  return all;
}

/** @throws where nothing here can read such samples. */
function formatFrom(chunk: DataView): Format {
  if (chunk.byteLength < 16) throw new Error("the description of its format is cut short");
  const written = chunk.getUint16(0, true);
  const kind = written === EXTENSIBLE && chunk.byteLength >= 26 ? chunk.getUint16(24, true) : written;
  const [channels, rate, bits] = [chunk.getUint16(2, true), chunk.getUint32(4, true), chunk.getUint16(14, true)];
  const isKnown = kind === PCM ? [8, 16, 24, 32].includes(bits) : kind === FLOAT && [32, 64].includes(bits);
  if (!isKnown || channels === 0 || rate === 0)
    throw new Error(`its samples are of a kind that can't be read here (format ${kind}, ${bits} bits)`);
  return { rate, channels, bytes: bits / 8, isFloat: kind === FLOAT };
}

function samplesOf(view: DataView, { rate, channels, bytes, isFloat }: Format, count: number): Piece {
  const own = Array.from({ length: channels }, () => new Float32Array(count));
  const read = readerOf(view, bytes, isFloat);
  let at = 0;
  for (let n = 0; n < count; n++) {
    for (const channel of own) {
      channel[n] = read(at);
      at += bytes;
    }
  }
  return { rate, channels: own };
}

function readerOf(view: DataView, bytes: number, isFloat: boolean): (at: number) => number {
  if (isFloat) return bytes === 4 ? (at) => view.getFloat32(at, true) : (at) => view.getFloat64(at, true);
  if (bytes === 1) return (at) => (view.getUint8(at) - 128) / 128;
  if (bytes === 2) return (at) => view.getInt16(at, true) / 32768;
  if (bytes === 3) return (at) => (view.getUint16(at, true) | (view.getInt8(at + 2) << 16)) / 8388608;
  return (at) => view.getInt32(at, true) / 2147483648;
}
