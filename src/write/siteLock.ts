import { setTimeout as pause } from "node:timers/promises";
import { nodeFiles, WriteFault } from "./files.ts";
import { nameOf, type Release, takeLock } from "./lock.ts";

const PAUSE_MS = 100;

/**
 * Takes the lock of an output folder, after waiting for a build that has it.
 * @param waiting is told once who is waited for, and where the lock is.
 */
export async function lockSite(path: string, waiting: (owner: string, lock: string) => void): Promise<Release> {
  let told = false;
  const release = await takeLock(path, nodeFiles, async (owner) => {
    if (!told && owner !== null) waiting(nameOf(owner), path);
    told ||= owner !== null;
    await pause(PAUSE_MS);
    return true;
  });
  if (release === null) throw new WriteFault(`${path} can't be taken.`);
  return release;
}
