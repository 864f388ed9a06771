import { WriteFault } from "../write/files.ts";
import { runJob } from "./job.ts";
import type { Job, JobResult } from "./jobData.ts";

/** What a process that does jobs says: episodes done since the last time, the result, or what went wrong. */
export type Said = { readonly done: number } | { readonly made: JobResult } | Failed;

/** An error in a form that goes from process to process. `code`: the system's name for it, where it has one. */
export interface Failed {
  readonly failed: string;
  readonly code?: string;
  readonly path?: string;
  /** It is a WriteFault: `failed` is all that people need. */
  readonly isTold?: boolean;
}

/** A build that is gone hears nothing. */
const say = (said: Said): void => void process.send?.(said, () => undefined);

process.on("message", async (job: Job) => {
  try {
    say({ made: await runJob(job, (done) => say({ done })) });
  } catch (error) {
    if (error instanceof WriteFault) return say({ failed: error.message, isTold: true });
    const { code, path } = error as Partial<NodeJS.ErrnoException>;
    const failed = error instanceof Error ? (error.stack ?? error.message) : String(error);
    say({ failed, ...(code === undefined ? {} : { code }), ...(path === undefined ? {} : { path }) });
  }
});
// The build is gone: nobody waits for the rest.
process.on("disconnect", () => process.exit());
