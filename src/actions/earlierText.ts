import { join } from "node:path";
import { fieldsOf, type RecordFolder } from "../build/recordFolder.ts";
import { UsageError } from "../model/usageError.ts";
import type { Source } from "../read/index.ts";
import { type Digest, digestOf } from "../record/digest.ts";
import { entriesOf, type ReadRecord } from "../record/entry.ts";
import { textSeq } from "../record/judgeContent.ts";
import { type NewFile, nodeFiles } from "../write/record.ts";
import { earlierVersions } from "./git.ts";

/**
 * The files by which a text that is replaced stays reachable as it was published: `as-published/<seq>/`, seq being the
 * entry that published it, with the public reason. The earlier files are looked for by their digests: where they lie
 * now, in a folder given, in version control. Nothing is kept of a text that has something withdrawn in it.
 */
export async function keepEarlier(
  read: RecordFolder,
  record: ReadRecord,
  reason: string,
  { reissue, content }: { readonly content: string; readonly reissue: { readonly earlier: string | null } | null },
): Promise<readonly NewFile[]> {
  const entries = entriesOf(record);
  const last = entries.at(-1);
  if (last === undefined) return [];
  const into = `as-published/${textSeq(entries)}`;
  const kept: NewFile[] = [{ path: `${into}/reason.md`, bytes: Buffer.from(reason) }];
  if (last.withdrawn.length > 0) return kept;
  const candidates = (name: string) => candidatesFor(name, read, content, reissue?.earlier ?? null);
  const transcripts = [["transcript.vtt", last.transcript], ...Object.entries(last.translations)] as const;
  for (const [name, digest] of transcripts) {
    const bytes = (await candidates(name)).find((own) => digestOf(own) === digest);
    kept.push({ path: `${into}/${name}`, bytes: bytes ?? refuse(name, digest) });
  }
  const transcript = kept.find(({ path }) => path === `${into}/transcript.vtt`);
  const source = (name: string, bytes: Uint8Array): Source => ({ file: `${read.sources.folder}/${name}`, bytes });
  const episode = (await candidates("episode.md")).find((bytes) => {
    const beside = transcript === undefined ? null : source("transcript.vtt", transcript.bytes);
    return fieldsOf(read.sources, source("episode.md", bytes), beside, read.zone)?.digest === last.fields;
  });
  return [...kept, { path: `${into}/episode.md`, bytes: episode ?? refuse("episode.md", last.fields) }];
}

async function candidatesFor(
  name: string,
  { sources }: RecordFolder,
  content: string,
  earlier: string | null,
): Promise<readonly Uint8Array[]> {
  const file = `${sources.folder}/${name}`;
  const [here, given] = await Promise.all([
    nodeFiles.read(join(content, file)),
    earlier === null ? null : nodeFiles.read(join(earlier, name)),
  ]);
  return [
    ...(here === null ? [] : [here]),
    ...(given === null ? [] : [given]),
    ...(await earlierVersions(content, file)),
  ];
}

function refuse(name: string, digest: Digest): never {
  throw new UsageError(
    `${name} as it was published (${digest.slice(0, 12)}) is nowhere to be found, and an earlier text is never lost by a reissue. Put it into a folder and give that with --earlier.`,
  );
}
