import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import { type Aligner, type Alignment, alignerFor } from "../listen/align.ts";
import { type ModelFiles, parseModel } from "../listen/alignModel.ts";
import { joinParts, partsOf } from "../listen/alignParts.ts";
import type { Said, ToAlign } from "./alignThread.ts";

/**
 * Looks for words on all cores: long texts in parts, each in a thread of its own.
 * @param frames the recording's cepstra. @param most how many threads; left out: as many as there are cores.
 * @throws what a thread threw.
 */
export function alignerInThreads(frames: Float32Array, files: ModelFiles, most = availableParallelism()): Aligner {
  return async (rough, progress) => {
    const parts = partsOf(rough.length, most);
    if (parts.length < 2) return alignerFor(frames, parseModel(files))(rough, progress);
    // All threads read the same memory.
    const shared = new Float32Array(new SharedArrayBuffer(frames.byteLength));
    shared.set(frames);
    const shares = parts.map(() => 0);
    const threads = parts.map(({ from, to }) =>
      threadFor({ rough: rough.slice(from, to), frames: shared, model: files }),
    );
    try {
      const heard = await Promise.all(
        threads.map((thread, n) =>
          alignmentOf(thread, (share) => {
            shares[n] = share;
            progress?.(shares.reduce((sum, own) => sum + own, 0) / shares.length);
          }),
        ),
      );
      return joinParts(parts, heard, rough.length);
    } finally {
      // Where one failed, the others would work on for minutes for nothing.
      await Promise.all(threads.map((thread) => thread.terminate()));
    }
  };
}

const threadFor = (workerData: ToAlign): Worker =>
  new Worker(new URL("alignThread.mjs", import.meta.url), { workerData, execArgv: [] });

function alignmentOf(thread: Worker, progress: (share: number) => void): Promise<Alignment> {
  return new Promise((resolve, reject) => {
    thread.on("message", (said: Said) => ("share" in said ? progress(said.share) : resolve(said.alignment)));
    thread.on("error", reject);
    thread.on("exit", (code) => reject(new Error(`A thread that looked for words ended early (${code}).`)));
  });
}
