import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { parseChecksums } from "../model/checksums.ts";
import { blocks, type Finding } from "../model/finding.ts";
import type { EpisodeFolder } from "../read/index.ts";
import type { EarlierRecord } from "../record/against.ts";
import { auditEpisode } from "../record/audit.ts";
import { type Digest, digestOf } from "../record/digest.ts";
import { isPublished } from "../record/entry.ts";
import { recordFile } from "../record/recordFile.ts";
import { isUnfinished, nodeFiles } from "../write/record.ts";
import { earlierVersions } from "./history.ts";
import { type Io, UsageError } from "./io.ts";
import { lostRecord } from "./lostRecord.ts";
import { fieldsOf, findEpisodes, type RecordFolder, readRecordFolder, textOf } from "./recordFolder.ts";
import { type Format, formatted, sorted } from "./report.ts";

export interface AuditOptions {
  readonly content: string;
  /** None: all. */
  readonly episodes: readonly string[];
  /** An earlier site folder, content folder, or checksum list. */
  readonly against: string | null;
  readonly format: Format;
}

/** `afterair audit`: proves that nothing published changed in silence, or names what did. Writes nothing. */
export async function audit(options: AuditOptions, io: Io): Promise<readonly Finding[]> {
  const { content } = options;
  const { episodes, zone, findings: ofProgramme } = findEpisodes(content, options.episodes);
  const earlier = options.against === null ? null : await readEarlier(options.against);
  const findings: Finding[] = ofProgramme.filter(blocks);
  let published = 0;
  for (const folder of episodes) {
    const { read, found } = await auditOne(options, folder, zone, earlier?.get(folder.id) ?? null, io);
    if (isPublished(read.input.record)) published += 1;
    findings.push(...(await unfinished(content, folder)), ...unreadable(read), ...found);
  }
  findings.push(...(options.episodes.length > 0 ? [] : gone(earlier, episodes)));
  tell(findings, { ...options, published, unpublished: episodes.length - published }, io);
  return findings;
}

/** Times that an episode is read again because somebody wrote to it meanwhile. */
const MOST_READS = 5;

async function auditOne(
  { content }: AuditOptions,
  folder: EpisodeFolder,
  zone: string,
  earlier: EarlierRecord | null,
  io: Io,
): Promise<{ readonly read: RecordFolder; readonly found: readonly Finding[] }> {
  const look = () => readRecordFolder(content, folder, zone, io.now);
  let read = await look();
  for (let count = 1; ; count += 1) {
    const found = auditEpisode({ ...read.input, earlier });
    if (!found.some(blocks)) return { read, found };
    const again = await look();
    const same = again.input.record === read.input.record || count >= MOST_READS;
    read = again;
    // Only now is it worth looking for what stood there once.
    if (same) return { read, found: auditEpisode({ ...read.input, earlier, known: await knownTexts(content, read) }) };
  }
}

/** What could not be read of a published episode, or of what may be one: nothing is proved of it. */
function unreadable({ sources, findings, input }: RecordFolder): readonly Finding[] {
  const standing = findings.filter(blocks);
  const ofRecord = standing.filter(({ at }) => at.file.startsWith(recordFile(sources.folder)));
  return [...lostRecord(sources), ...(input.record === null ? ofRecord : standing)];
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

/** Episodes that an earlier copy has published, and that are no longer there. */
function gone(
  earlier: ReadonlyMap<string, EarlierRecord> | null,
  episodes: readonly EpisodeFolder[],
): readonly Finding[] {
  const missing = [...(earlier?.keys() ?? [])].filter((id) => !episodes.some((own) => own.id === id));
  return missing.map((id) => ({
    rule: "record-missing",
    level: "blocks",
    at: { file: `episodes/${id.slice(0, 4)}/${id}/record.jsonl`, line: 1, column: 1 },
    seconds: null,
    says: `The episode ${id} was published, by the earlier copy, and is gone.`,
    mend: "Bring its folder back. What must not be shown is withdrawn by a correction.",
  }));
}

/** The records of an earlier copy, by episode: a built site, a content folder, or a checksum list of a site. */
async function readEarlier(copy: string): Promise<ReadonlyMap<string, EarlierRecord>> {
  const found = await stat(copy).catch(() => null);
  if (found === null) throw new UsageError(`${copy} is not there, or can't be read.`);
  const records = found.isDirectory() ? await recordsBelow(copy) : listedRecords(await readText(copy));
  if (records.size === 0)
    throw new UsageError(
      `${copy} holds no record: neither files <episode>/record.jsonl nor a checksum list that names them.`,
    );
  return records;
}

const RECORD = /(?:^|\/)([^/]+)\/record\.jsonl$/;

function listedRecords(list: string): ReadonlyMap<string, EarlierRecord> {
  const records = new Map<string, EarlierRecord>();
  for (const [path, digest] of parseChecksums(list)) {
    const id = RECORD.exec(path)?.[1];
    if (id !== undefined) records.set(id, { digest });
  }
  return records;
}

async function recordsBelow(folder: string): Promise<ReadonlyMap<string, EarlierRecord>> {
  const records = new Map<string, EarlierRecord>();
  const isSite = !(await readdir(folder)).includes("episodes");
  const roots = isSite
    ? [folder]
    : (await readdir(join(folder, "episodes"))).map((year) => join(folder, "episodes", year));
  for (const root of roots) {
    for (const entry of await readdir(root, { withFileTypes: true })) {
      const bytes = entry.isDirectory() ? await nodeFiles.read(join(root, entry.name, "record.jsonl")) : null;
      if (bytes !== null) records.set(entry.name, { text: textOf({ bytes }) });
    }
  }
  return records;
}

async function readText(path: string): Promise<string> {
  const bytes = await nodeFiles.read(path);
  if (bytes === null) throw new UsageError(`${path} is not there.`);
  return textOf({ bytes });
}

interface Told extends AuditOptions {
  readonly published: number;
  readonly unpublished: number;
}

function tell(findings: readonly Finding[], told: Told, io: Io): void {
  const { content, format, published, unpublished, against } = told;
  if (format !== "text" || findings.length > 0) io.out(formatted(sorted(findings), format, content));
  if (format !== "text") return;
  const rest = unpublished === 0 ? "" : ` ${unpublished} not published yet.`;
  const scope = against === null ? "" : `, and every record goes on from ${against}`;
  const result = findings.some(blocks)
    ? "Something changed in silence, or can't be proved not to: see above."
    : `Nothing of them changed in silence${scope}.`;
  io.out(`Published: ${published}.${rest} ${result}`);
}
