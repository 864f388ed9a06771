import { availableParallelism } from "node:os";
import type { Job, JobResult } from "./jobData.ts";
import { startWorker, type Worker } from "./jobWorker.ts";

/** Fewer episodes than this are not worth the beginning of another process. */
const WORTH_A_PROCESS = 40;

/** The processes of a build: begun when they are needed, used again, and ended with it. */
export interface Workers {
  /** As many as asked for. */
  get(count: number): readonly Worker[];
  end(): void;
}

/**
 * @param folder the current one of the processes. @param zone the programme's. @param spare has one that waits.
 * @param hangsAfter as in `startWorker`.
 */
export function workersIn(folder: string, zone: string, spare: Spare | null, hangsAfter?: number): Workers {
  const begun: Worker[] = [];
  return {
    get(count) {
      while (begun.length < count) begun.push(spare?.take(folder, zone) ?? startWorker(folder, zone, hangsAfter));
      return begun.slice(0, count);
    },
    end() {
      for (const worker of begun.splice(0)) worker.end();
      spare?.refill(folder, zone);
    },
  };
}

/** A process that waits between builds with all that it needs loaded: each build has one of its own, which begins at once. */
export interface Spare {
  take(folder: string, zone: string): Worker | null;
  refill(folder: string, zone: string): void;
  end(): void;
}

export function spareWorker(): Spare {
  let waiting: { readonly of: string; readonly worker: Worker } | null = null;
  let ended = false;
  return {
    take(folder, zone) {
      const own = waiting;
      waiting = null;
      if (own === null) return null;
      if (own.of === `${folder}\n${zone}` && own.worker.isAlive()) return own.worker;
      own.worker.end();
      return null;
    },
    refill(folder, zone) {
      if (waiting !== null || ended) return;
      const worker = startWorker(folder, zone);
      worker.warm("set and jobs");
      waiting = { of: `${folder}\n${zone}`, worker };
    },
    end() {
      ended = true;
      waiting?.worker.end();
      waiting = null;
    },
  };
}

/**
 * Does jobs, largest first, on the cores there are: each in a process of its own, because a search index takes one
 * whole. @param effort how many episodes of a job are likely to be made. @param made is given the result of each.
 */
export async function runJobs(
  jobs: readonly Job[],
  effort: (job: Job) => number,
  made: (job: Job, result: JobResult) => Promise<void>,
  progress: (episodes: number) => void,
  workers: Workers,
): Promise<void> {
  const queue = jobs.map((job) => ({ job, size: effort(job) })).sort((a, b) => b.size - a.size);
  const isSmall = queue.length < 2 || queue.reduce((sum, { size }) => sum + size, 0) < WORTH_A_PROCESS;
  const count = isSmall ? Math.min(1, queue.length) : Math.min(availableParallelism(), queue.length);
  if (count === 0) return;
  // A station's templates take the current folder for theirs, and a process keeps modules as it first read them.
  const isFramed = queue.some(({ job }) => job.framing !== null);
  if (count < 2 && !isFramed) {
    // Loaded here: a build that has nothing to make must not wait for it.
    const { runJob } = await import("./job.ts");
    for (const { job } of queue) await made(job, await runJob(job, progress));
    return;
  }
  await Promise.all(
    workers.get(count).map(async (worker) => {
      for (let next = queue.shift(); next !== undefined; next = queue.shift())
        await made(next.job, await worker.make(next.job, progress));
    }),
  );
}
