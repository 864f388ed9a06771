import type { Episode } from "../model/episode.ts";
import type { Finding, Read } from "../model/finding.ts";
import {
  type EpisodeFolder,
  type EpisodeSources,
  parseEpisode,
  parseTranscript,
  readEpisodeSources,
  type Source,
} from "../read/index.ts";
import type { AuditInput, KeptFile, KeptText } from "../record/audited.ts";
import { canonicalJson } from "../record/canonical.ts";
import { withDatesRight } from "../record/day.ts";
import { type Digest, digestOf } from "../record/digest.ts";
import { entriesOf, publishesText, type ReadRecord, readRecord } from "../record/entry.ts";
import { type Content, fieldsDigest, frozenFields } from "../record/frozen.ts";

/** An episode as the commands of the record see it. */
export interface RecordFolder {
  readonly sources: EpisodeSources;
  readonly zone: string;
  readonly record: ReadRecord;
  /** Null where the episode can't be read; the findings say why. */
  readonly episode: Episode | null;
  readonly content: Content | null;
  readonly findings: readonly Finding[];
  /** For an audit, without what version control and earlier copies know. */
  readonly input: AuditInput;
}

/** Reads an episode's folder for the record. `added`: correction files that are still to be written. */
export async function readRecordFolder(
  content: string,
  folder: EpisodeFolder,
  zone: string,
  now: Date,
  added: readonly Source[] = [],
): Promise<RecordFolder> {
  const { sources: written, findings } = readEpisodeSources(content, folder);
  const sources = { ...written, corrections: [...written.corrections, ...added] };
  const read = recordFolderOf(sources, zone, now);
  return { ...read, findings: [...findings, ...read.findings] };
}

/** What an episode's files come to. Pure. */
export function recordFolderOf(sources: EpisodeSources, zone: string, now: Date): RecordFolder {
  const parsed = parseEpisode(sources, zone);
  return { ...asRecordFolder(sources, parsed, zone, now), findings: parsed.findings };
}

/** The same of an episode that is parsed already. @param now the moment it is. */
export function asRecordFolder(
  sources: EpisodeSources,
  parsed: Read<Episode>,
  zone: string,
  now: Date,
): Omit<RecordFolder, "findings"> {
  const text = sources.record === null ? null : textOf(sources.record);
  const record = readRecord(text ?? "");
  const episode = parsed.ok ? withDatesRight(parsed.value, record) : null;
  const content = contentOf(sources, episode);
  const input: AuditInput = {
    id: sources.id,
    folder: sources.folder,
    record: text,
    content,
    transcript: sources.transcript === null ? null : keptFile(sources.transcript),
    translations: sources.translations.map((source) => ({ ...keptFile(source), name: nameOf(source) })),
    corrections: new Map(sources.corrections.map((source) => [nameOf(source).replace(/\.md$/, ""), keptFile(source)])),
    read: episode?.corrections ?? [],
    asPublished: asPublishedOf(sources, record, zone),
    known: new Map(),
    merged: sources.merged.map(keptFile),
    earlier: [],
    now: now.toISOString(),
  };
  return { sources, zone, record, episode, content, input };
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
function asPublishedOf(sources: EpisodeSources, record: ReadRecord, zone: string): ReadonlyMap<number, KeptText> {
  const entries = entriesOf(record);
  if (!entries.some(({ what }) => what === "reissued")) return new Map();
  const seqs = entries.filter(publishesText).map(({ seq }) => seq);
  return new Map(
    seqs.map((seq) => {
      const kept = sources.asPublished.find((own) => own.seq === seq);
      const { episode = null, transcript = null, reason = null, translations = [] } = kept ?? {};
      const fields = episode === null ? null : fieldsOf(sources, episode, transcript, zone);
      const file = (source: Source | null) => (source === null ? null : keptFile(source));
      const digests = Object.fromEntries(translations.map((source) => [nameOf(source), digestOf(source.bytes)]));
      const files = { transcript: file(transcript), reason: file(reason), translations: digests };
      return [seq, { ...files, fields: fields?.digest ?? null }];
    }),
  );
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
