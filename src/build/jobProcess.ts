import type { Finding } from "../model/finding.ts";
import { WriteFault } from "../write/files.ts";
import type { Job, JobResult } from "./jobData.ts";
import type { SetRequest, SetResult } from "./setPages.ts";

/** What a process is asked to do: a job, pages to set by the site engine, or to be ready for these. */
export type Asked = { readonly job: Job } | { readonly set: SetRequest } | { readonly warm: Warm };

/** What a process is to have ready: what sets pages in a run, or jobs too. */
export type Warm = "set" | "set and jobs";

/**
 * What it says: episodes done since the last time, what a station's templates are at work on, what they
 * did wrong where nobody waited for it, the result, or what went wrong.
 */
export type Said =
  | { readonly done: number }
  | { readonly at: string | null }
  | { readonly fault: Finding }
  | { readonly made: JobResult }
  | { readonly set: SetResult }
  | Failed;

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
let [station, atWork]: [string | null, string] = [null, ""];
let said: { readonly at: string | null; readonly ms: number } = { at: null, ms: 0 };
/** One template sets hundreds of pages a second: that it is still at work need not be said of each. */
const SAID_AGAIN_MS = 1000;
const at = (what: string | null): void => {
  atWork = what ?? atWork;
  const ms = Date.now();
  if (what === said.at && ms - said.ms < SAID_AGAIN_MS) return;
  said = { at: what, ms };
  say({ at: what });
};
const failed = (error: unknown): string => (error instanceof Error ? (error.stack ?? error.message) : String(error));

process.on("message", async (asked: Asked) => {
  try {
    station = stationOf(asked);
    if ("job" in asked) {
      const { runJob } = await import("./job.ts");
      say({ made: await runJob(asked.job, (done) => say({ done }), at) });
    } else if ("set" in asked) {
      const { setPages } = await import("./setPages.ts");
      say({ set: await setPages(asked.set, at) });
    } else await Promise.all([import("./setPages.ts"), ...(asked.warm === "set" ? [] : [import("./job.ts")])]);
  } catch (error) {
    if (error instanceof WriteFault) return say({ failed: error.message, isTold: true });
    const { code, path } = error as Partial<NodeJS.ErrnoException>;
    say({ failed: failed(error), ...(code === undefined ? {} : { code }), ...(path === undefined ? {} : { path }) });
  }
});

const stationOf = (asked: Asked): string | null => {
  const setup = "job" in asked ? asked.job.framing : "set" in asked ? asked.set.setup : null;
  return setup?.station?.folder ?? null;
};

/** Templates and plugins begin things that nobody waits for. */
async function stray(error: unknown): Promise<void> {
  if (station === null) return say({ failed: failed(error) });
  const { templateFault } = await import("../station/faults.ts");
  say({ fault: templateFault(error, station, atWork) });
}
process.on("uncaughtException", stray).on("unhandledRejection", stray);
// The build is gone: nobody waits for the rest.
process.on("disconnect", () => process.exit());
