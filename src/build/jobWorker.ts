import { type ChildProcess, fork } from "node:child_process";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Finding } from "../model/finding.ts";
import { StationFault } from "../station/stationFault.ts";
import { WriteFault } from "../write/files.ts";
import type { Job, JobResult } from "./jobData.ts";
import type { Asked, Said, Warm } from "./jobProcess.ts";
import type { SetRequest, SetResult } from "./setPages.ts";

/** A process of a build's. It does one thing after the other. */
export interface Worker {
  readonly isAlive: () => boolean;
  /** Has it load what sets pages, while others work. */
  warm(what: Warm): void;
  make(job: Job, progress: (episodes: number) => void): Promise<JobResult>;
  /** @throws StationFault where a template hangs. */
  set(request: SetRequest): Promise<SetResult>;
  end(): void;
}

/** How long a station's template may take for a page: longer, and it hangs. In milliseconds. */
const HANGS_MS = 60_000;

/**
 * Starts a process. @param folder the current one, which a station's templates take for theirs. @param zone the programme's.
 * @param hangsAfter as `HANGS_MS`.
 */
export function startWorker(folder: string, zone: string, hangsAfter = HANGS_MS): Worker {
  const child = fork(fileURLToPath(new URL("jobProcess.mjs", import.meta.url)), {
    execArgv: [],
    cwd: folder,
    // What templates print goes where messages go, and times are those of the programme's zone everywhere.
    stdio: ["ignore", 2, 2, "ipc"],
    env: { ...process.env, TZ: zone, ELEVENTY_SKIP_ESM_RESOLVER: "1" },
  });
  // A process that ends early is found out by whoever asks it.
  child.on("error", () => undefined);
  const asking = <T>(asked: Asked, name: string, answer: (said: Said) => T | undefined): Promise<T> =>
    ask(child, asked, name, { station: folder, hangsAfter }, answer);
  return {
    isAlive: () => child.connected,
    warm: (what) => void child.send({ warm: what } satisfies Asked, () => undefined),
    make: (job, progress) =>
      asking({ job }, job.name, (said) => {
        if ("done" in said) progress(said.done);
        return "made" in said ? said.made : undefined;
      }),
    set: (set) => asking({ set }, "the pages that all years share", (said) => ("set" in said ? said.set : undefined)),
    end: () => void (child.connected && child.disconnect()),
  };
}

function ask<T>(
  child: ChildProcess,
  asked: Asked,
  name: string,
  { station, hangsAfter }: { readonly station: string; readonly hangsAfter: number },
  answer: (said: Said) => T | undefined,
): Promise<T> {
  return new Promise((resolve, reject) => {
    let timer: NodeJS.Timeout | undefined;
    let atWork: string | null = null;
    const end = (): void => {
      clearTimeout(timer);
      child.off("message", hear).off("exit", gone).off("error", failed);
    };
    const blame = (fault: Finding): void => {
      end();
      child.kill("SIGKILL");
      reject(new StationFault(fault));
    };
    const hear = (said: Said): void => {
      if ("at" in said) {
        const { at } = said;
        clearTimeout(timer);
        atWork = at;
        if (at !== null) timer = setTimeout(() => blame(hanging(join(station, at), hangsAfter)), hangsAfter);
        return;
      }
      if ("fault" in said) {
        blame(said.fault);
        return;
      }
      const found = answer(said);
      if (found !== undefined) {
        end();
        resolve(found);
      } else if ("failed" in said) {
        end();
        const { failed, isTold, ...system } = said;
        reject(isTold === true ? new WriteFault(failed) : Object.assign(new Error(failed), system));
      }
    };
    const gone = (code: number | null, signal: string | null): void => {
      end();
      const isTheirs = signal === null && station !== "" && atWork !== null;
      const early = new Error(`A process that built ${name} ended early (${signal ?? code}).`);
      reject(isTheirs ? new StationFault(ending(join(station, atWork ?? ""))) : early);
    };
    const failed = (error: Error): void => {
      end();
      reject(error);
    };
    child.on("message", hear).on("exit", gone).on("error", failed);
    child.send(asked, (error) => error !== null && gone(child.exitCode, child.signalCode));
  });
}

const faultOf = (file: string, says: string, mend: string): Finding => ({
  rule: "station-template",
  level: "blocks",
  at: { file, line: 1, column: 1 },
  seconds: null,
  says,
  mend,
});
const hanging = (file: string, hangsAfter: number): Finding =>
  faultOf(
    file,
    `This took longer than ${hangsAfter / 1000} seconds.`,
    "Look for a loop that does not end in it, or in what is around it.",
  );
const ending = (file: string): Finding =>
  faultOf(file, "This ended the process that sets pages.", "Take what ends it out of it, or out of what it imports.");
