import { join } from "node:path";
import type { Episode } from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import {
  type EpisodeFolder,
  type EpisodeSources,
  listEpisodes,
  parseEpisode,
  parseProgramme,
  parseTranscript,
  readEpisodeSources,
  readProgrammeSources,
  type Source,
} from "../read/index.ts";
import type { AuditInput, KeptFile, KeptText } from "../record/audited.ts";
import { canonicalJson } from "../record/canonical.ts";
import { type Digest, digestOf } from "../record/digest.ts";
import { entriesOf, type ReadRecord, readRecord } from "../record/entry.ts";
import { type Content, fieldsDigest, frozenFields } from "../record/frozen.ts";
import { nodeFiles } from "../write/record.ts";
import { UsageError } from "./io.ts";

/** An episode as the commands of the record see it. */
export interface RecordFolder {
  readonly sources: EpisodeSources;
  readonly zone: string;
  readonly record: ReadRecord;
  /** Null where the episode can't be read; the findings say why. */
  readonly episode: Episode | null;
  readonly content: Content | null;
  readonly findings: readonly Finding[];
  /** For an audit, without earlier texts and earlier records. */
  readonly input: AuditInput;
}

/** The episodes below a content folder, all or those named; an unknown name is a fault of the call. */
export async function findEpisodes(
  content: string,
  ids: readonly string[],
): Promise<{
  readonly episodes: readonly EpisodeFolder[];
  readonly zone: string;
  readonly findings: readonly Finding[];
}> {
  const [{ episodes }, { sources, findings }] = await Promise.all([
    listEpisodes(content),
    readProgrammeSources(content),
  ]);
  const unknown = ids.filter((id) => !episodes.some((own) => own.id === id));
  if (unknown.length > 0) throw new UsageError(`There is no episode ${unknown.join(", ")} below ${content}.`);
  const read = parseProgramme(sources);
  return {
    episodes: ids.length === 0 ? episodes : episodes.filter(({ id }) => ids.includes(id)),
    zone: read.programme?.timezone ?? "UTC",
    findings: [...findings, ...read.findings],
  };
}

/** Reads an episode's folder for the record. `added`: correction files that are still to be written. */
export async function readRecordFolder(
  content: string,
  folder: EpisodeFolder,
  zone: string,
  now: Date,
  added: readonly Source[] = [],
): Promise<RecordFolder> {
  const { sources: written, findings } = await readEpisodeSources(content, folder);
  const sources = { ...written, corrections: [...written.corrections, ...added] };
  const read = recordFolderOf(sources, zone, now);
  const asPublished = await readAsPublished(content, sources, read.record, zone);
  return { ...read, findings: [...findings, ...read.findings], input: { ...read.input, asPublished } };
}

/** What an episode's files come to, without the earlier texts that were reissued. Pure. */
export function recordFolderOf(sources: EpisodeSources, zone: string, now: Date): RecordFolder {
  const parsed = parseEpisode(sources, zone);
  const episode = parsed.ok ? parsed.value : null;
  const content = contentOf(sources, episode);
  const text = sources.record === null ? null : textOf(sources.record);
  const input: AuditInput = {
    id: sources.id,
    folder: sources.folder,
    record: text,
    content,
    transcript: sources.transcript === null ? null : keptFile(sources.transcript),
    translations: sources.translations.map((source) => ({ ...keptFile(source), name: nameOf(source) })),
    corrections: new Map(sources.corrections.map((source) => [nameOf(source).replace(/\.md$/, ""), keptFile(source)])),
    read: episode?.corrections ?? [],
    asPublished: new Map(),
    known: new Map(),
    earlier: null,
    now: now.toISOString(),
  };
  return { sources, zone, record: readRecord(text ?? ""), episode, content, findings: parsed.findings, input };
}

function contentOf(sources: EpisodeSources, episode: Episode | null): Content | null {
  if (episode === null || sources.transcript === null) return null;
  const translations = sources.translations.map((source) => {
    const parsed = parseTranscript(source);
    return { name: nameOf(source), digest: digestOf(source.bytes), cues: parsed.ok ? parsed.value : [] };
  });
  return { episode, transcript: digestOf(sources.transcript.bytes), translations };
}

const nameOf = ({ file }: Source): string => file.slice(file.lastIndexOf("/") + 1);
export const textOf = ({ bytes }: Pick<Source, "bytes">): string => Buffer.from(bytes).toString("utf8");
const keptFile = (source: Source): KeptFile => ({
  file: source.file,
  text: textOf(source),
  digest: digestOf(source.bytes),
});

/** The earlier texts that the record says were reissued. */
async function readAsPublished(
  content: string,
  sources: EpisodeSources,
  record: ReadRecord,
  zone: string,
): Promise<ReadonlyMap<number, KeptText>> {
  const texts = new Map<number, KeptText>();
  if (!entriesOf(record).some(({ what }) => what === "reissued")) return texts;
  for (const { what, seq } of entriesOf(record)) {
    if (what !== "published" && what !== "reissued") continue;
    const folder = `${sources.folder}/as-published/${seq}`;
    const read = async (name: string): Promise<Source | null> => {
      const bytes = await nodeFiles.read(join(content, folder, name));
      return bytes === null ? null : { file: `${folder}/${name}`, bytes };
    };
    const [transcript, reason, own] = await Promise.all(["transcript.vtt", "reason.md", "episode.md"].map(read));
    const fields = own ? fieldsOf(sources, own, transcript ?? null, zone) : null;
    texts.set(seq, {
      transcript: transcript ? keptFile(transcript) : null,
      reason: reason ? keptFile(reason) : null,
      fields: fields === null ? null : fields.digest,
    });
  }
  return texts;
}

/** The frozen fields of another episode.md of the same episode; null where it can't be read as one. */
export function fieldsOf(
  sources: EpisodeSources,
  episode: Source,
  transcript: Source | null,
  zone: string,
): { readonly digest: Digest; readonly text: string } | null {
  const parsed = parseEpisode(
    { ...sources, episode, transcript: transcript ?? sources.transcript, corrections: [] },
    zone,
  );
  if (!parsed.ok) return null;
  return { digest: fieldsDigest(parsed.value), text: canonicalJson(frozenFields(parsed.value)) };
}
