import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import type { Span } from "../derive/captioning/lending.ts";
import type { HeardName } from "../derive/propose/recording.ts";
import { type Aligner, alignerFor } from "../listen/align.ts";
import { type ModelFiles, parseModel } from "../listen/alignModel.ts";
import { joinParts, partsOf } from "../listen/alignParts.ts";
import type { Said, ToHear } from "./alignThread.ts";

/**
 * Looks for words on all cores: long texts in parts, each in a thread of its own.
 * @param frames the recording's cepstra. @param most how many threads; left out: as many as there are cores.
 * @throws what a thread threw.
 */
export function alignerInThreads(frames: Float32Array, files: ModelFiles, most = availableParallelism()): Aligner {
  return async (rough, progress) => {
    const parts = partsOf(rough.length, most);
    if (parts.length < 2) return alignerFor(frames, parseModel(files))(rough, progress);
    const shared = sharedOf(frames);
    const shares = parts.map(() => 0);
    const heard = await inThreads(
      parts.map(({ from, to }) => ({ rough: rough.slice(from, to), frames: shared, model: files })),
      (said) => ("alignment" in said ? said.alignment : null),
      (share, n) => {
        shares[n] = share;
        progress?.(shares.reduce((sum, own) => sum + own, 0) / shares.length);
      },
    );
    return joinParts(parts, heard, rough.length);
  };
}

/** Hears which names are said in stretches of a recording, milliseconds of it: by stretch. */
export type NameSpotter = (
  stretches: readonly Span[],
  names: readonly string[],
) => Promise<readonly (readonly HeardName[])[]>;

/** Listens for names on all cores. @throws what a thread threw. */
export function spotterInThreads(frames: Float32Array, files: ModelFiles, most = availableParallelism()): NameSpotter {
  return async (stretches, names) => {
    const each = Math.ceil(stretches.length / most);
    if (each === 0 || names.length === 0) return stretches.map(() => []);
    const shared = sharedOf(frames);
    const parts = Array.from({ length: Math.ceil(stretches.length / each) }, (_, n) =>
      stretches.slice(n * each, (n + 1) * each),
    );
    const heard = await inThreads(
      parts.map((part) => ({ stretches: part, names, frames: shared, model: files })),
      (said) => ("spotted" in said ? said.spotted : null),
    );
    return heard.flat();
  };
}

/** Memory that all threads read. */
function sharedOf(frames: Float32Array): Float32Array {
  const shared = new Float32Array(new SharedArrayBuffer(frames.byteLength));
  shared.set(frames);
  return shared;
}

/** What threads heard, in the order of their work. @param heardIn null: that was not it yet. */
async function inThreads<Heard>(
  work: readonly ToHear[],
  heardIn: (said: Said) => Heard | null,
  progress: (share: number, n: number) => void = () => {},
): Promise<readonly Heard[]> {
  const threads = work.map(
    (workerData) => new Worker(new URL("alignThread.mjs", import.meta.url), { workerData, execArgv: [] }),
  );
  const heardBy = (thread: Worker, n: number): Promise<Heard> =>
    new Promise((resolve, reject) => {
      thread.on("message", (said: Said) => {
        const heard = heardIn(said);
        if (heard !== null) resolve(heard);
        else if ("share" in said) progress(said.share, n);
      });
      thread.on("error", reject);
      thread.on("exit", (code) => reject(new Error(`A thread that listened ended early (${code}).`)));
    });
  try {
    return await Promise.all(threads.map(heardBy));
  } finally {
    // Where one failed, the others would work on for minutes for nothing.
    await Promise.all(threads.map((thread) => thread.terminate()));
  }
}
