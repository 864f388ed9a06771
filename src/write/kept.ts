import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { readdir, rename, rm, writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { programDigest } from "./compile.mjs";
import { codeOf, nodeFiles } from "./files.ts";

/**
 * What is kept between builds: JSON behind a line with its digest, so that a file that was cut short or written to by
 * somebody else is as good as none. The program is in that digest: another one may keep things in another shape. Nothing
 * here is worth waiting for the disk: it can all be made again.
 */
export async function writeKept(path: string, value: unknown): Promise<void> {
  const text = Buffer.from(JSON.stringify(value));
  const beside = join(dirname(path), `.${basename(path)}.new`);
  await nodeFiles.makeFolder(dirname(path));
  await writeFile(beside, [Buffer.from(`${digestOf(text)}\n`), text]);
  await rename(beside, path);
}

/** What was kept, as it was given; null where there is nothing sound. Only what this very program wrote has the digest. */
export function readKept<T>(path: string): T | null {
  let whole: Buffer;
  try {
    whole = readFileSync(path);
  } catch (error) {
    if (codeOf(error) === "ENOENT") return null;
    throw error;
  }
  const end = whole.indexOf("\n");
  const text = whole.subarray(end + 1);
  return whole.toString("utf8", 0, Math.max(0, end)) === digestOf(text) ? (JSON.parse(text.toString()) as T) : null;
}

/** Takes away the files of a folder that nobody needs any more. */
export async function dropKept(folder: string, isNeeded: (name: string) => boolean): Promise<void> {
  for (const name of await readdir(folder).catch(() => [])) {
    if (!isNeeded(name)) await rm(join(folder, name), { recursive: true, force: true });
  }
}

let program: string | null = null;

function digestOf(text: Uint8Array): string {
  program ??= programDigest();
  return createHash("sha256").update(program).update(text).digest("base64url");
}
