import { spawn } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";

/** What a command took. */
export interface Measured {
  /** From its beginning to its end, with the beginning of Node. */
  readonly seconds: number;
  /** What it printed. */
  readonly printed: string;
  /** The most memory that one of its processes had, and all of them together, in MB; null where there is no /proc. */
  readonly largestMb: number | null;
  readonly togetherMb: number | null;
}

/** How often memory is looked at, in milliseconds. */
const LOOK_MS = 50;

/** Runs a command to its end. @throws where it fails. */
export function measure(command: string, args: readonly string[]): Promise<Measured> {
  const start = performance.now();
  const child = spawn(command, args, { stdio: ["ignore", "pipe", "inherit"] });
  let printed = "";
  let [largest, together] = [0, 0];
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    printed += text;
  });
  const look = setInterval(() => {
    const sizes = memoryBelow(child.pid ?? 0);
    largest = Math.max(largest, ...sizes);
    together = Math.max(
      together,
      sizes.reduce((sum, size) => sum + size, 0),
    );
  }, LOOK_MS);
  return new Promise((resolve, reject) => {
    child.on("close", (code) => {
      clearInterval(look);
      if (code !== 0) return reject(new Error(`${command} ${args.join(" ")} ended with ${code}`));
      const seconds = (performance.now() - start) / 1000;
      const known = together > 0;
      resolve({ seconds, printed, largestMb: known ? largest : null, togetherMb: known ? together : null });
    });
  });
}

/** Resident memory of a process and those it began, in MB each. Pages that they share are counted with each. */
function memoryBelow(root: number): readonly number[] {
  const parents = new Map<number, number>();
  const sizes = new Map<number, number>();
  for (const name of listProcesses()) {
    const status = readStatus(name);
    const field = (key: string) => Number(new RegExp(`^${key}:\\s*(\\d+)`, "m").exec(status)?.[1] ?? 0);
    parents.set(Number(name), field("PPid"));
    sizes.set(Number(name), field("VmRSS") / 1024);
  }
  const isBelow = (pid: number): boolean => pid === root || (pid > 1 && isBelow(parents.get(pid) ?? 0));
  return [...sizes].flatMap(([pid, size]) => (isBelow(pid) ? [size] : []));
}

function listProcesses(): readonly string[] {
  try {
    return readdirSync("/proc").filter((name) => /^\d+$/.test(name));
  } catch {
    return []; // another system
  }
}

function readStatus(pid: string): string {
  try {
    return readFileSync(`/proc/${pid}/status`, "utf8");
  } catch {
    return ""; // it has ended
  }
}
