import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { join } from "node:path";
import { asMono, decode, UndecodableSound } from "../../listen/decode.ts";
import { KIND_RATE } from "../../listen/kindFrames.ts";
import { waveform } from "../../listen/waveform.ts";
import { keepWaveform, readWaveform } from "../../write/waveforms.ts";

/**
 * The outline of a recording, 50 peaks a second of its own clock; null where it can't be decoded. It is worked out once
 * for a file's bytes, and kept.
 * @param cache the folder of what is kept between builds.
 */
export async function peaksOf(file: string, cache: string): Promise<Uint8Array | null> {
  const digest = await digestOfFile(file);
  const kept = readWaveform(cache, digest);
  if (kept !== null) return kept;
  const outline = waveform();
  try {
    for await (const samples of asMono(decode(createReadStream(file)), KIND_RATE)) outline.take(samples);
  } catch (error) {
    if (error instanceof UndecodableSound) return null;
    throw error;
  }
  const peaks = outline.peaks();
  await keepWaveform(cache, digest, peaks);
  return peaks;
}

async function digestOfFile(file: string): Promise<string> {
  const hash = createHash("sha256");
  for await (const piece of createReadStream(file)) hash.update(piece as Uint8Array);
  return hash.digest("hex");
}

/** The recording of an episode that lies beside it, best first; null: there is none on this machine. */
export const ownRecording = (
  content: string,
  folder: string,
  media: readonly { readonly src: string }[],
): string | null => {
  const own = media.find(({ src }) => !/^[a-z][a-z0-9+.-]*:/i.test(src));
  return own === undefined ? null : join(content, folder, own.src);
};
