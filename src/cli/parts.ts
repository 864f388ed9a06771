import type { ChildProcess, fork } from "node:child_process";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import type { MadePart, Part } from "./part.ts";
import type { Said } from "./partProcess.ts";

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
  // Loaded here for the same reason.
  const { fork: start } = await import("node:child_process");
  const workers = Array.from({ length: count }, () => startWorker(start));
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

interface Worker {
  make(part: Part, progress: (episodes: number) => void): Promise<MadePart>;
  end(): void;
}

function startWorker(start: typeof fork): Worker {
  const child = start(fileURLToPath(new URL("partProcess.mjs", import.meta.url)), { execArgv: [] });
  return {
    make: (part, progress) => ask(child, part, progress),
    end: () => void child.disconnect(),
  };
}

function ask(child: ChildProcess, part: Part, progress: (episodes: number) => void): Promise<MadePart> {
  return new Promise((resolve, reject) => {
    const hear = (said: Said): void => {
      if ("done" in said) {
        progress(said.done);
        return;
      }
      child.off("message", hear).off("exit", gone);
      if ("made" in said) resolve(said.made);
      else reject(new Error(said.failed));
    };
    const gone = (code: number | null, signal: string | null): void =>
      reject(new Error(`A process that built ${part.name} ended early (${signal ?? code}).`));
    child.on("message", hear).on("exit", gone);
    child.send(part);
  });
}
