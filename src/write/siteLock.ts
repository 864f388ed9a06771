import { randomUUID } from "node:crypto";
import { rm, stat, utimes } from "node:fs/promises";
import { hostname } from "node:os";
import { setTimeout as pause } from "node:timers/promises";
import { codeOf, nodeFiles } from "./files.ts";

/** A build touches its lock this often; one that was not touched for longer than `STALE_MS` belongs to nobody. */
const BEAT_MS = 5_000;
const STALE_MS = 60_000;
const PAUSE_MS = 100;

/** Gives a lock back. */
export type Release = () => Promise<void>;

/**
 * Takes the lock of an output folder, after waiting for a build that has it. A lock whose build was killed is broken.
 * @param waiting is told once, when there is somebody to wait for.
 */
export async function lockSite(path: string, waiting: (owner: string) => void): Promise<Release> {
  const own = JSON.stringify({ pid: process.pid, host: hostname(), token: randomUUID() });
  let told = false;
  while (!(await nodeFiles.create(path, own))) {
    const owner = await readLock(path);
    if (owner === null) continue;
    if (await isStale(path, owner)) {
      await breakLock(path, owner);
      continue;
    }
    if (!told) waiting(`process ${ownerOf(owner)?.pid ?? "?"}`);
    told = true;
    await pause(PAUSE_MS);
  }
  const beat = setInterval(() => void utimes(path, new Date(), new Date()).catch(() => undefined), BEAT_MS);
  beat.unref();
  return async () => {
    clearInterval(beat);
    if ((await readLock(path)) === own) await rm(path, { force: true });
  };
}

/** Takes away a lock that is still the stale one: two that wait may both have seen it. */
async function breakLock(path: string, stale: string): Promise<void> {
  const guard = `${path}.break`;
  if (!(await nodeFiles.create(guard, ""))) {
    if ((await ageOf(guard)) > STALE_MS) await rm(guard, { force: true });
    await pause(PAUSE_MS);
    return;
  }
  try {
    if ((await readLock(path)) === stale) await rm(path, { force: true });
  } finally {
    await rm(guard, { force: true });
  }
}

async function readLock(path: string): Promise<string | null> {
  const bytes = await nodeFiles.read(path);
  return bytes === null ? null : new TextDecoder().decode(bytes);
}

async function isStale(path: string, lock: string): Promise<boolean> {
  const age = await ageOf(path);
  const owner = ownerOf(lock);
  // A lock without a readable owner is one that is being written, or whose writer was killed at it.
  if (owner === null) return age > 1000;
  if (owner.host === hostname() && !isAlive(owner.pid)) return true;
  return age > STALE_MS;
}

/** Milliseconds since it was touched; 0 where it is gone. */
async function ageOf(path: string): Promise<number> {
  try {
    return Date.now() - (await stat(path)).mtimeMs;
  } catch (error) {
    if (codeOf(error) === "ENOENT") return 0;
    throw error;
  }
}

function ownerOf(lock: string): { readonly pid: number; readonly host: string } | null {
  const [, pid, host] = /^\{"pid":(\d+),"host":"([^"]*)"/.exec(lock) ?? [];
  return pid === undefined || host === undefined ? null : { pid: Number(pid), host };
}

function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch (error) {
    // Another user's process may not be signalled, but it is there.
    return codeOf(error) === "EPERM";
  }
}
