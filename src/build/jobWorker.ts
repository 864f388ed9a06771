import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import { WriteFault } from "../write/files.ts";
import type { Job, JobResult } from "./jobData.ts";
import type { Said } from "./jobProcess.ts";

interface Worker {
  make(job: Job, progress: (episodes: number) => void): Promise<JobResult>;
  end(): void;
}

/** Starts a process that does jobs, one after the other. */
export function startWorker(): Worker {
  const child = fork(fileURLToPath(new URL("jobProcess.mjs", import.meta.url)), { execArgv: [] });
  return {
    make: (job, progress) => ask(child, job, progress),
    end: () => void child.disconnect(),
  };
}

function ask(child: ChildProcess, job: Job, progress: (episodes: number) => void): Promise<JobResult> {
  return new Promise((resolve, reject) => {
    const hear = (said: Said): void => {
      if ("done" in said) {
        progress(said.done);
        return;
      }
      child.off("message", hear).off("exit", gone);
      if ("made" in said) resolve(said.made);
      else {
        const { failed, isTold, ...system } = said;
        reject(isTold === true ? new WriteFault(failed) : Object.assign(new Error(failed), system));
      }
    };
    const gone = (code: number | null, signal: string | null): void =>
      reject(new Error(`A process that built ${job.name} ended early (${signal ?? code}).`));
    child.on("message", hear).on("exit", gone);
    child.send(job);
  });
}
