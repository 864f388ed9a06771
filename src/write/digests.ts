import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { readdir } from "node:fs/promises";
import { join, relative, sep } from "node:path";
import { pipeline } from "node:stream/promises";

/** Every file below a folder, with forward slashes, and the SHA-256 of its bytes. Files are streamed, one after another. */
export async function digestsBelow(
  folder: string,
): Promise<readonly { readonly path: string; readonly digest: string }[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const digests: { path: string; digest: string }[] = [];
  for (const entry of entries) {
    if (!entry.isFile()) continue;
    const file = join(entry.parentPath, entry.name);
    const hash = createHash("sha256");
    await pipeline(createReadStream(file), hash);
    digests.push({ path: relative(folder, file).split(sep).join("/"), digest: hash.digest("hex") });
  }
  return digests;
}
