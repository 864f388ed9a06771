import { join } from "node:path";
import { readKept, writeKept } from "./kept.ts";
import { makeCache } from "./mark.ts";

/** The peaks as they are kept: one byte each, as base64. */
interface KeptWaveform {
  readonly peaks: string;
}

/** Recordings are told apart by the SHA-256 of their bytes, in small hexadecimal digits; nothing else is a file's name here. */
function pathOf(cache: string, digest: string): string {
  if (!/^[0-9a-f]{64}$/.test(digest)) throw new Error(`not a digest: ${digest}`);
  return join(cache, "waveforms", `${digest}.json`);
}

/**
 * Keeps a recording's waveform in the folder of what is kept between builds: 4 hours take 1 MB. @param cache that folder
 * (`cacheOf`); it is made where it isn't there. @throws where it can't be written.
 */
export async function keepWaveform(cache: string, digest: string, peaks: Uint8Array): Promise<void> {
  const path = pathOf(cache, digest);
  makeCache(cache);
  const kept: KeptWaveform = { peaks: Buffer.from(peaks).toString("base64") };
  await writeKept(path, kept);
}

/** A recording's waveform; null where none is kept, or what is there is damaged or of another version of the program. */
export function readWaveform(cache: string, digest: string): Uint8Array | null {
  const kept = readKept<KeptWaveform>(pathOf(cache, digest));
  return kept === null ? null : new Uint8Array(Buffer.from(kept.peaks, "base64"));
}
