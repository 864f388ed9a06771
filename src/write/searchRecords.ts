import { createHash } from "node:crypto";
import { mkdir, rm, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { gunzipSync, gzipSync } from "node:zlib";
import type { IndexPage } from "../search/segment.ts";
import { nodeFiles } from "./files.ts";

/** The search records of an episode, packed. Kept between builds, so that a tier can be indexed without its texts. */
export interface PackedRecords {
  readonly digest: string;
  readonly bytes: Uint8Array;
}

export function packRecords(pages: readonly IndexPage[]): PackedRecords {
  const text = JSON.stringify(pages);
  return { digest: digestOf(text), bytes: gzipSync(text, { level: 1 }) };
}

const recordsFile = (kept: string, id: string): string => join(kept, "records", id.slice(0, 4), `${id}.gz`);

export async function keepRecords(kept: string, id: string, { bytes }: PackedRecords): Promise<void> {
  const file = recordsFile(kept, id);
  await mkdir(dirname(file), { recursive: true });
  await writeFile(file, bytes);
}

export const dropRecords = (kept: string, id: string): Promise<void> => rm(recordsFile(kept, id), { force: true });

/** The records of this digest; null where they are not kept, or not sound. */
export async function readRecords(kept: string, id: string, digest: string): Promise<readonly IndexPage[] | null> {
  const bytes = await nodeFiles.read(recordsFile(kept, id));
  if (bytes === null) return null;
  let text: string;
  try {
    text = gunzipSync(bytes).toString("utf8");
  } catch {
    return null; // cut short
  }
  return digestOf(text) === digest ? (JSON.parse(text) as readonly IndexPage[]) : null;
}

const digestOf = (text: string): string => createHash("sha256").update(text).digest("base64url");
