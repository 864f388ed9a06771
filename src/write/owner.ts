import { execFile } from "node:child_process";
import { readFileSync, readlinkSync } from "node:fs";
import { hostname, platform } from "node:os";
import { promisify } from "node:util";
import { codeOf } from "./files.ts";

/** Who holds a lock: a process, told apart from another one that gets its number later. */
export interface Owner {
  readonly pid: number;
  /** Where that number means this process: the machine, and on Linux the namespace of its processes. */
  readonly place: string;
  /** When it began, as its system says it; "" where it says nothing. */
  readonly born: string;
}

export async function ownerHere(): Promise<Owner> {
  return { pid: process.pid, place: here(), born: (await bornOf(process.pid)) ?? "" };
}

/** The text of an owner, and back; null where it is none. */
export const ownerText = (owner: Owner): string => `${JSON.stringify(owner)}\n`;
export function readOwner(bytes: Uint8Array | null): Owner | null {
  if (bytes === null) return null;
  try {
    const read = JSON.parse(Buffer.from(bytes).toString("utf8")) as Partial<Record<keyof Owner, unknown>>;
    const { pid, place, born } = read;
    return typeof pid === "number" && typeof place === "string" && typeof born === "string"
      ? { pid, place, born }
      : null;
  } catch {
    return null;
  }
}

/** Whether a process is gone for sure. One of another machine is never: nobody can see that from here. */
export async function isGone({ pid, place, born }: Owner): Promise<boolean> {
  if (place !== here()) return false;
  if (!isAlive(pid)) return true;
  const now = await bornOf(pid);
  return born !== "" && now !== null && now !== born;
}

/** `harbour` or, in a container on it, `harbour pid:[4026531836]`. */
function here(): string {
  try {
    return `${hostname()} ${readlinkSync("/proc/self/ns/pid")}`;
  } catch {
    return hostname();
  }
}

/**
 * When a process began; null where nobody says. On Linux the boot, and field 22 of its `stat` (proc(5): starttime, in
 * clock ticks since the boot), which stands after its name in brackets; elsewhere what POSIX `ps` prints.
 */
async function bornOf(pid: number): Promise<string | null> {
  if (platform() === "win32") return null;
  if (platform() !== "linux") {
    const started = await promisify(execFile)("ps", ["-o", "lstart=", "-p", String(pid)]).catch(() => null);
    return started?.stdout.trim() || null;
  }
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    const ticks = stat.slice(stat.lastIndexOf(")") + 2).split(" ")[19] ?? "";
    return `${readFileSync("/proc/sys/kernel/random/boot_id", "utf8").trim()} ${ticks}`;
  } catch {
    return null;
  }
}

function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch (error) {
    // Another user's process may not be signalled, but it is there.
    return codeOf(error) === "EPERM";
  }
}
