import { mkdir, readdir, rename, rm } from "node:fs/promises";
import { join } from "node:path";
import { publish } from "../../src/cli/publish.ts";
import type { RecordIo } from "../../src/cli/recordIo.ts";
import { blocks } from "../../src/model/finding.ts";
import { nodeFiles } from "../../src/write/record.ts";
import { readArchive } from "../support/readArchive.ts";

/**
 * Enters the demo in its record anew, as it would have happened: each evening's edition forty minutes after it began, each
 * correction a minute after it is dated.
 */
export async function recordDemo(content: string): Promise<void> {
  const { archive } = readArchive(content);
  for (const { id, aired, folder, corrections } of archive?.episodes ?? []) {
    const [own, aside] = [join(content, folder, "corrections"), join(content, folder, ".corrections")];
    await rm(join(content, folder, "record.jsonl"), { force: true });
    await rename(own, aside);
    await mkdir(own);
    await enter(id, content, new Date(Date.parse(aired) + 2_400_000));
    const dated = corrections.toSorted((a, b) => Date.parse(a.dated) - Date.parse(b.dated));
    for (const correction of dated) {
      await rename(join(aside, `${correction.id}.md`), join(own, `${correction.id}.md`));
      await enter(id, content, new Date(Date.parse(correction.dated) + 60_000));
    }
    if ((await readdir(aside)).length > 0) throw new Error(`${aside} holds corrections that could not be read`);
    await rm(aside, { recursive: true });
  }
}

async function enter(episode: string, content: string, now: Date): Promise<void> {
  const io: RecordIo = { now, clock: () => now, ask: null, files: nodeFiles, out: console.log, err: console.error };
  const options = { content, episode, reissue: null, repair: false, dryRun: false, checks: () => [] };
  if ((await publish(options, io)).some(blocks)) throw new Error(`${episode} could not be entered`);
}
