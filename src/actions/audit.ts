import { join } from "node:path";
import { lostRecord } from "../build/lostRecord.ts";
import { fieldsOf, type RecordFolder, readRecordFolder, textOf } from "../build/recordFolder.ts";
import { addAll } from "../model/addAll.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { type EpisodeFolder, openArchive } from "../read/index.ts";
import { type EarlierCopy, missingRecord } from "../record/against.ts";
import { auditEpisode } from "../record/audit.ts";
import { type Digest, digestOf } from "../record/digest.ts";
import { isPublished } from "../record/entry.ts";
import { recordFile } from "../record/recordFile.ts";
import { isUnfinished, nodeFiles } from "../write/record.ts";
import { type EarlierCopies, earlierCopies } from "./earlierCopies.ts";
import { earlierVersions, isLeftAlone } from "./git.ts";

export interface AuditOptions {
  readonly content: string;
  /** None: all. */
  readonly episodes: readonly string[];
  /** An earlier site folder, content folder, or checksum list. */
  readonly against: string | null;
  /** Where the last site may be; it is looked at where it is this programme's. */
  readonly site: string | null;
}

/** What an audit came to. */
export interface Audited {
  readonly findings: readonly Finding[];
  /** Episodes that are published, and those that are not. */
  readonly published: number;
  readonly unpublished: number;
  /** What was compared with besides the copy that `against` names. */
  readonly copies: readonly string[];
}

/**
 * Proves that nothing published changed in silence, or names what did. Writes nothing.
 * @param now nothing that is dated after it may be entered.
 */
export async function auditContent(options: AuditOptions, now: Date): Promise<Audited> {
  const { content } = options;
  const { named, programme, zone, findings: ofProgramme } = openArchive(content);
  const episodes = named(options.episodes);
  const copies = await earlierCopies({ ...options, programme });
  const findings: Finding[] = ofProgramme.filter(blocks);
  let published = 0;
  for (const folder of episodes) {
    const { read, found } = await auditOne(options, folder, zone, copies.of(folder.id), now);
    const { record } = read.input;
    if (isPublished(record)) published += 1;
    const own = [...(await unfinished(content, folder)), ...unreadable(read), ...found];
    const isTold = own.some(blocks) || record !== null;
    findings.push(...own, ...(isTold ? [] : withoutRecord(copies, folder)));
  }
  addAll(findings, options.episodes.length > 0 ? [] : gone(copies, episodes));
  const [any] = episodes.filter(({ id }) => copies.committed.has(id));
  if (any !== undefined && !(await isLeftAlone(content, recordFile(any.folder)))) findings.push(UNGUARDED);
  return { findings, published, unpublished: episodes.length - published, copies: copies.found };
}

/** Times that an episode is read again because somebody wrote to it meanwhile. */
const MOST_READS = 5;

async function auditOne(
  { content }: AuditOptions,
  folder: EpisodeFolder,
  zone: string,
  earlier: readonly EarlierCopy[],
  now: Date,
): Promise<{ readonly read: RecordFolder; readonly found: readonly Finding[] }> {
  const look = () => readRecordFolder(content, folder, zone, now);
  let read = await look();
  for (let count = 1; ; count += 1) {
    // One without a record is told by what is known of it besides.
    const copies = read.input.record === null ? [] : earlier;
    const found = auditEpisode({ ...read.input, earlier: copies });
    if (!found.some(blocks)) return { read, found };
    const again = await look();
    const same = again.input.record === read.input.record || count >= MOST_READS;
    read = again;
    // Only now is it worth looking for what stood there once.
    if (same)
      return { read, found: auditEpisode({ ...read.input, earlier: copies, known: await knownTexts(content, read) }) };
  }
}

/** What could not be read of a published episode, or of what may be one: nothing is proved of it. */
function unreadable({ sources, findings, input }: RecordFolder): readonly Finding[] {
  const blocking = findings.filter(blocks);
  const ofRecord = blocking.filter(({ at }) => at.file.startsWith(recordFile(sources.folder)));
  return [...lostRecord(sources), ...(input.record === null ? ofRecord : blocking)];
}

/** Every earlier text that version control and kept copies hold, by digest. */
async function knownTexts(content: string, read: RecordFolder): Promise<ReadonlyMap<Digest, string>> {
  const { folder } = read.sources;
  const known = new Map<Digest, string>();
  const add = (bytes: Uint8Array): unknown => known.set(digestOf(bytes), textOf({ bytes }));
  const names = [
    "transcript.vtt",
    ...read.input.translations.map(({ name }) => name),
    ...[...read.input.corrections.keys()].map((id) => `corrections/${id}.md`),
  ];
  for (const name of names) for (const bytes of await earlierVersions(content, `${folder}/${name}`)) add(bytes);
  for (const { transcript } of read.input.asPublished.values())
    if (transcript !== null) known.set(transcript.digest, transcript.text);
  for (const bytes of await earlierVersions(content, `${folder}/episode.md`)) {
    const fields = fieldsOf(read.sources, { file: `${folder}/episode.md`, bytes }, null, read.zone);
    if (fields !== null) known.set(fields.digest, fields.text);
  }
  return known;
}

async function unfinished(content: string, { id, folder }: EpisodeFolder): Promise<readonly Finding[]> {
  if (!(await isUnfinished(join(content, folder), nodeFiles))) return [];
  const at = { file: `${folder}/record.jsonl`, line: 1, column: 1 };
  const says = "A write of this record was interrupted after it was decided.";
  const mend = `Run \`afterair publish ${id}\`: it ends it.`;
  return [{ rule: "record-write-unfinished", level: "warns", at, seconds: null, says, mend }];
}

const UNGUARDED: Finding = {
  rule: "records-unguarded",
  level: "warns",
  at: { file: ".gitattributes", line: 1, column: 1 },
  seconds: null,
  says: "Version control may turn the line ends of records and texts, or merge two records line by line.",
  mend: "Write three lines into .gitattributes of the content folder: `* -text`, `record.jsonl -merge` and `transcript*.vtt -merge`.",
};

/** Episodes that somebody else has as published, and whose folder is no longer there. */
function gone({ published }: EarlierCopies, episodes: readonly EpisodeFolder[]): readonly Finding[] {
  const missing = [...published].filter(([id]) => !episodes.some((own) => own.id === id));
  return missing.map(([id, from]) => missingRecord(id, `episodes/${id.slice(0, 4)}/${id}`, from, "its folder is gone"));
}

/** An episode that somebody else has as published, and whose record is not there; its folder is. */
function withoutRecord({ published }: EarlierCopies, { id, folder }: EpisodeFolder): readonly Finding[] {
  const from = published.get(id);
  return from === undefined ? [] : [missingRecord(id, folder, from)];
}
