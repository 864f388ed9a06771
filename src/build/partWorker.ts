import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import { WriteFault } from "../write/files.ts";
import type { MadePart, Part } from "./partData.ts";
import type { Said } from "./partProcess.ts";

interface Worker {
  make(part: Part, progress: (episodes: number) => void): Promise<MadePart>;
  end(): void;
}

/** Starts a process that makes parts, one after the other. */
export function startWorker(): Worker {
  const child = fork(fileURLToPath(new URL("partProcess.mjs", import.meta.url)), { execArgv: [] });
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
      else {
        const { failed, isTold, ...system } = said;
        reject(isTold === true ? new WriteFault(failed) : Object.assign(new Error(failed), system));
      }
    };
    const gone = (code: number | null, signal: string | null): void =>
      reject(new Error(`A process that built ${part.name} ended early (${signal ?? code}).`));
    child.on("message", hear).on("exit", gone);
    child.send(part);
  });
}
