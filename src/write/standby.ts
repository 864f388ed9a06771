import { createHash } from "node:crypto";
import { constants, existsSync, mkdirSync, readFileSync, rmdirSync, rmSync, writeFileSync } from "node:fs";
import { copyFile, open } from "node:fs/promises";
import { dirname, join, resolve, sep } from "node:path";
import type { Checksum } from "../model/checksums.ts";
import { digestOfFile } from "./digests.ts";
import { codeOf } from "./files.ts";

/**
 * The tree that a site is built in, beside the one that serves. Its unchanged files are the very files of the other, by
 * hard links: so nothing in it is ever written over in place. A place (a file, or a folder with all in it) is emptied
 * first, and noted before that as one in which the two trees may differ. Several processes may write at once.
 */
export interface Standby {
  /** For writers that want a folder. */
  readonly path: string;
  /** Empties places, so that they can be written. */
  renew(places: readonly string[]): Promise<void>;
  write(path: string, content: string | Uint8Array): Checksum;
  /** Copies a file in; where the file system can, the copy shares its blocks. */
  copy(path: string, from: string): Promise<Checksum>;
}

/** @param kept the folder of what is kept between builds. @param path the tree, in it. */
export function standbyAt(kept: string, path: string): Standby {
  const inside = insideOf(path);
  // Most files go into a folder that this very process made: to ask the disk for each takes as long as to write it.
  const made = new Set<string>();
  const fullOf = (file: string): string => {
    const full = inside(file);
    const folder = dirname(full);
    if (!made.has(folder)) mkdirSync(folder, { recursive: true });
    made.add(folder);
    return full;
  };
  return {
    path,
    async renew(places) {
      if (places.length === 0) return;
      for (const place of places) inside(place);
      await noteBehind(kept, places);
      made.clear();
      for (const place of places) empty(inside(place), path);
    },
    write(file, content) {
      // Once: to write a string and to digest one would each turn it into bytes.
      const bytes = typeof content === "string" ? Buffer.from(content) : content;
      writeFileSync(fullOf(file), bytes);
      return { path: file, digest: createHash("sha256").update(bytes).digest("hex") };
    },
    async copy(file, from) {
      const full = fullOf(file);
      await copyFile(from, full, constants.COPYFILE_FICLONE);
      return { path: file, digest: await digestOfFile(full) };
    },
  };
}

/** Full paths of what lies in a folder, and of nothing else. */
export function insideOf(folder: string): (path: string) => string {
  return (path) => {
    const full = resolve(folder, path);
    if (!full.startsWith(folder + sep)) throw new Error(`${path} would be written outside the site`);
    return full;
  };
}

/** Takes a place away, and the folders that it leaves empty. */
export function empty(place: string, root: string): void {
  if (!existsSync(place)) return;
  rmSync(place, { recursive: true, force: true });
  for (let folder = dirname(place); folder !== root; folder = dirname(folder)) {
    try {
      rmdirSync(folder);
    } catch (error) {
      if (codeOf(error) === "ENOENT") continue;
      if (codeOf(error) === "ENOTEMPTY") return;
      throw error;
    }
  }
}

const BEHIND = "behind";

/** The places in which the two trees may differ; null: anywhere. */
export function readBehind(kept: string): readonly string[] | null {
  try {
    const lines = readFileSync(join(kept, BEHIND), "utf8").split("\n");
    return [...new Set(lines.filter((line) => line !== "").map((line) => JSON.parse(line) as string))];
  } catch (error) {
    // A line that was cut short by a loss of power: nobody knows what came after it.
    if (error instanceof SyntaxError || codeOf(error) === "ENOENT") return null;
    throw error;
  }
}

/** Adds places, and returns when they are on the disk. Where the trees may differ anywhere, there is nothing to add. */
async function noteBehind(kept: string, places: readonly string[]): Promise<void> {
  const path = join(kept, BEHIND);
  if (!existsSync(path)) return;
  const file = await open(path, "a");
  try {
    await file.writeFile(places.map((place) => `${JSON.stringify(place)}\n`).join(""));
    await file.datasync();
  } finally {
    await file.close();
  }
}

/** From now on the two trees may differ in nothing, or anywhere. */
export function resetBehind(kept: string, differs: "nowhere" | "anywhere"): void {
  if (differs === "nowhere") writeFileSync(join(kept, BEHIND), "");
  else rmSync(join(kept, BEHIND), { force: true });
}
