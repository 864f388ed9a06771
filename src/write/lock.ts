import { randomUUID } from "node:crypto";
import { stat } from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { codeOf, type Files, WriteFault } from "./files.ts";

const LOCK = ".record.lock";
/** Held only while files are written, never while anybody is asked: one older than this was left behind. */
const STALE_MS = 60_000;
const PAUSE_MS = 20;

/** How long to wait for another writer. */
export interface Patience {
  /** Milliseconds. */
  readonly waits: number;
}

/**
 * Does something while no other process writes this episode. The lock is a file that names its owner; one whose owner
 * is gone is broken. Throws a WriteFault where another writer keeps it for longer than `waits`.
 */
export async function withLock<T>(
  folder: string,
  files: Files,
  { waits }: Patience,
  body: () => Promise<T>,
): Promise<T> {
  const path = join(folder, LOCK);
  const own = `${JSON.stringify({ pid: process.pid, host: hostname(), since: new Date().toISOString(), token: randomUUID() })}\n`;
  const until = Date.now() + waits;
  while (!(await files.create(path, own))) {
    if (await breakStale(path, files)) continue;
    if (Date.now() > until) throw new WriteFault(await refusal(path, files));
    await pause(PAUSE_MS);
  }
  try {
    return await body();
  } finally {
    // Ours only: one held for too long may have been broken and taken by another.
    const held = await files.read(path);
    if (held !== null && Buffer.from(held).toString("utf8") === own) await files.remove(path);
  }
}

async function refusal(path: string, files: Files): Promise<string> {
  const owner = ownerOf(await files.read(path));
  const who = owner === null ? "Another process" : `Process ${owner.pid} on ${owner.host}`;
  return `${who} is writing this episode's record. Nothing was changed: run the command again in a moment.`;
}

/**
 * Takes a lock away whose owner is gone. Only one process may break at a time, and it looks again before it does: so a
 * lock that was taken afresh in between is never broken.
 */
async function breakStale(path: string, files: Files): Promise<boolean> {
  if (!(await isStale(path, files))) return false;
  const guard = `${path}.break`;
  if (!(await files.create(guard, ""))) {
    if (await isOlder(guard, STALE_MS)) await files.remove(guard);
    return false;
  }
  try {
    if (await isStale(path, files)) await files.remove(path);
  } finally {
    await files.remove(guard);
  }
  return true;
}

async function isStale(path: string, files: Files): Promise<boolean> {
  const owner = ownerOf(await files.read(path));
  // A lock without a readable owner is one that is being written, or whose writer was killed at it.
  if (owner === null) return isOlder(path, 1000);
  if (owner.host !== hostname()) return isOlder(path, STALE_MS);
  return !isAlive(owner.pid) || isOlder(path, STALE_MS);
}

async function isOlder(path: string, age: number): Promise<boolean> {
  try {
    return Date.now() - (await stat(path)).mtimeMs > age;
  } catch (error) {
    if (codeOf(error) === "ENOENT") return false;
    throw error;
  }
}

function ownerOf(bytes: Uint8Array | null): { readonly pid: number; readonly host: string } | null {
  const found = /^\{"pid":(\d+),"host":"([^"]*)"/.exec(bytes === null ? "" : Buffer.from(bytes).toString("utf8"));
  const [, pid, host] = found ?? [];
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
