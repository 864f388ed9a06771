import { availableParallelism } from "node:os";
import type { MadePart, Part } from "./partData.ts";

/** Fewer episodes than this are not worth the beginning of another process. */
const WORTH_A_PROCESS = 40;

/**
 * Makes parts, largest first, on the cores there are: each in a process of its own, because a search index takes one
 * whole. @param effort how many episodes of a part are likely to be made. @param made is given each part when it is done.
 */
export async function makeParts(
  parts: readonly Part[],
  effort: (part: Part) => number,
  made: (part: Part, result: MadePart) => Promise<void>,
  progress: (episodes: number) => void,
): Promise<void> {
  const queue = parts.map((part) => ({ part, size: effort(part) })).sort((a, b) => b.size - a.size);
  const count = Math.min(availableParallelism(), queue.length);
  if (count === 0) return;
  if (count < 2 || queue.reduce((sum, { size }) => sum + size, 0) < WORTH_A_PROCESS) {
    // Loaded here: a build that has nothing to make must not wait for it.
    const { makePart } = await import("./part.ts");
    for (const { part } of queue) await made(part, await makePart(part, progress));
    return;
  }
  // And here: one that has little to make needs no process beside its own.
  const { startWorker } = await import("./partWorker.ts");
  const workers = Array.from({ length: count }, startWorker);
  try {
    await Promise.all(
      workers.map(async (worker) => {
        for (let next = queue.shift(); next !== undefined; next = queue.shift())
          await made(next.part, await worker.make(next.part, progress));
      }),
    );
  } finally {
    for (const worker of workers) worker.end();
  }
}
