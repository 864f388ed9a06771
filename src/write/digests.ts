import { createHash } from "node:crypto";
import { createReadStream, readFileSync } from "node:fs";
import { readdir, stat } from "node:fs/promises";
import { join, relative, sep } from "node:path";
import { pipeline } from "node:stream/promises";
import type { Checksum } from "../model/checksums.ts";

/** Files larger than this are streamed, in bytes: a recording may be of any size. */
const LARGE = 2 ** 20;

/** The SHA-256 of a file's bytes, in hex. */
export async function digestOfFile(file: string): Promise<string> {
  const hash = createHash("sha256");
  if ((await stat(file)).size > LARGE) await pipeline(createReadStream(file), hash);
  else hash.update(readFileSync(file));
  return hash.digest("hex");
}

/** Every file below a folder, with forward slashes, and its digest. */
export async function digestsBelow(folder: string): Promise<readonly Checksum[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const digests: Checksum[] = [];
  for (const entry of entries) {
    if (!entry.isFile()) continue;
    const file = join(entry.parentPath, entry.name);
    digests.push({ path: relative(folder, file).split(sep).join("/"), digest: await digestOfFile(file) });
  }
  return digests;
}
