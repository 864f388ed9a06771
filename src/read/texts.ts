import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { EpisodeFolder } from "./source.ts";

/**
 * The texts of an episode that people write, as they lie there: episode.md, its transcript and its corrections. For
 * looking through thousands of episodes; nothing is judged. Null where one can't be read: who reads it whole tells why.
 */
export function readTexts(root: string, { folder }: EpisodeFolder): readonly string[] | null {
  const corrections = found(() => readdirSync(join(root, folder, "corrections")), []);
  if (corrections === null) return null;
  const names = [
    "transcript.vtt",
    "episode.md",
    ...corrections.filter((name) => name.endsWith(".md")).map((name) => `corrections/${name}`),
  ];
  const texts = names.map((name) => found(() => readFileSync(join(root, folder, name), "utf8"), ""));
  return texts.every((text) => text !== null) ? texts : null;
}

/** What was found; `missing` where nothing is there, null where it can't be read. */
function found<T>(look: () => T, missing: T): T | null {
  try {
    return look();
  } catch (error) {
    if (!(error instanceof Error) || !("code" in error)) throw error;
    return error.code === "ENOENT" ? missing : null;
  }
}
