import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import { type Aligner, type Alignment, alignerFor } from "../listen/align.ts";
import { type ModelFiles, parseModel } from "../listen/alignModel.ts";
import { joinParts, partsOf } from "../listen/alignParts.ts";
import type { Said, ToHear } from "./alignThread.ts";

/**
 * Looks for words and names on all cores: long texts in parts, each in a thread of its own.
 * @param frames the recording's cepstra. @param most how many threads; left out: as many as there are cores.
 * @throws what a thread threw.
 */
export function alignerInThreads(
  frames: Float32Array,
  files: ModelFiles,
  names: readonly string[] = [],
  most = availableParallelism(),
): Aligner {
  return async (rough, progress) => {
    const parts = partsOf(rough.length, most);
    if (parts.length < 2) return alignerFor(frames, parseModel(files), names)(rough, progress);
    const shared = new Float32Array(new SharedArrayBuffer(frames.byteLength));
    shared.set(frames);
    const shares = parts.map(() => 0);
    const threads = parts.map(({ from, to }) => {
      const workerData: ToHear = { rough: rough.slice(from, to), names, frames: shared, model: files };
      return new Worker(new URL("alignThread.mjs", import.meta.url), { workerData, execArgv: [] });
    });
    const heardBy = (thread: Worker, n: number): Promise<Alignment> =>
      new Promise((resolve, reject) => {
        thread.on("message", (said: Said) => {
          if ("alignment" in said) return resolve(said.alignment);
          shares[n] = said.share;
          progress?.(shares.reduce((sum, share) => sum + share, 0) / parts.length);
        });
        thread.on("error", reject);
        thread.on("exit", (code) => reject(new Error(`A thread that listened ended early (${code}).`)));
      });
    try {
      return joinParts(parts, await Promise.all(threads.map(heardBy)), rough.length);
    } finally {
      // Where one failed, the others would work on for minutes for nothing.
      await Promise.all(threads.map((thread) => thread.terminate()));
    }
  };
}
