import { availableParallelism } from "node:os";
import type { Job, JobResult } from "./jobData.ts";

/** Fewer episodes than this are not worth the beginning of another process. */
const WORTH_A_PROCESS = 40;

/**
 * Does jobs, largest first, on the cores there are: each in a process of its own, because a search index takes one
 * whole. @param effort how many episodes of a job are likely to be made. @param made is given the result of each.
 */
export async function runJobs(
  jobs: readonly Job[],
  effort: (job: Job) => number,
  made: (job: Job, result: JobResult) => Promise<void>,
  progress: (episodes: number) => void,
): Promise<void> {
  const queue = jobs.map((job) => ({ job, size: effort(job) })).sort((a, b) => b.size - a.size);
  const count = Math.min(availableParallelism(), queue.length);
  if (count === 0) return;
  if (count < 2 || queue.reduce((sum, { size }) => sum + size, 0) < WORTH_A_PROCESS) {
    // Loaded here: a build that has nothing to make must not wait for it.
    const { runJob } = await import("./job.ts");
    for (const { job } of queue) await made(job, await runJob(job, progress));
    return;
  }
  // And here: one that has little to make needs no process beside its own.
  const { startWorker } = await import("./jobWorker.ts");
  const workers = Array.from({ length: count }, startWorker);
  try {
    await Promise.all(
      workers.map(async (worker) => {
        for (let next = queue.shift(); next !== undefined; next = queue.shift())
          await made(next.job, await worker.make(next.job, progress));
      }),
    );
  } finally {
    for (const worker of workers) worker.end();
  }
}
