import { join } from "node:path";
import { keepEarlier } from "../actions/earlierText.ts";
import { findMerge, keptOther } from "../actions/merge.ts";
import { isSoundEnd, repaired } from "../actions/repair.ts";
import { siteDay } from "../build/day.ts";
import { lostRecord } from "../build/lostRecord.ts";
import { findEpisodes, type RecordFolder, readRecordFolder, recordFolderOf } from "../build/recordFolder.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { codeOf, findUnprintable } from "../model/unseen.ts";
import { UsageError } from "../model/usageError.ts";
import { auditEpisode } from "../record/audit.ts";
import { digestOf } from "../record/digest.ts";
import { entriesDue, type Recorded, recordedIn } from "../record/enter.ts";
import { type Entry, entriesOf, entryLine, type ReadRecord, timesOf } from "../record/entry.ts";
import { holds } from "../record/judgeContent.ts";
import { judgeDates } from "../record/judgeCorrections.ts";
import type { LaidEpisode } from "../record/laid.ts";
import { layCorrections } from "../record/lay.ts";
import { type Merge, mergedPath } from "../record/merge.ts";
import { recordFile } from "../record/recordFile.ts";
import { soundFindings } from "../record/sound.ts";
import { writeFault } from "../write/files.ts";
import { changeRecord, type NewFile, type RecordChange } from "../write/record.ts";
import { takeReplacedAway } from "../write/replaced.ts";
import { askProposals, type Settled, settleProposals } from "./proposals.ts";
import { asUsage, type RecordIo, stands } from "./recordIo.ts";

/** Further findings about an episode as it would be published. @param published its text is, and stays as it is. */
export type Checks = (laid: LaidEpisode, published: boolean) => readonly Finding[];

export interface PublishOptions {
  readonly content: string;
  readonly episode: string;
  /** Replace the frozen text by the one that lies there now, and say why. */
  readonly reissue: { readonly reason: string; readonly earlier: string | null } | null;
  /** Take a torn last line off the record, or end it where it is whole. */
  readonly repair: boolean;
  /** Say in the record that entries were made by a clock that ran ahead. */
  readonly setsClock?: boolean;
  /** Make one of this record and another copy's: that of a file, or null for what version control has of both. */
  readonly merge?: { readonly record: string | null };
  readonly dryRun: boolean;
  /** Somebody has checked all that is marked as proposed. */
  readonly proposalsAreRight?: boolean;
  readonly checks: Checks;
}

/**
 * `afterair publish`: enters an episode, or what is pending, in its record, and shows what it enters. Entering twice
 * enters once.
 * @returns what was found; where anything of it blocks, nothing was entered.
 */
export async function publish(options: PublishOptions, io: RecordIo): Promise<readonly Finding[]> {
  const { episodes, zone, findings } = findEpisodes(options.content, [options.episode]);
  const [folder] = episodes;
  if (folder === undefined || stands(findings.filter(blocks), options.content, io)) return findings;
  if (options.reissue !== null) refuseReason(options.reissue.reason);
  const place = { folder: join(options.content, folder.folder), content: options.content };
  const read = () => readRecordFolder(options.content, folder, zone, io.clock());
  const confirmed = options.dryRun ? null : await confirmedIn(await read(), options, io);
  const change = async (): Promise<RecordChange<Change>> => {
    const day = siteDay(null, io.clock(), zone)?.date;
    const sound: Checks = (laid) => (day === undefined ? [] : soundFindings(laid, day));
    const checks: Checks = (laid, published) => [...options.checks(laid, published), ...sound(laid, published)];
    const found = await read();
    const { merge: asked } = options;
    const merge = asked === undefined ? null : await findMerge(options.content, found, asked.record);
    const now = merge === null ? found : withRecord(found, merge.record);
    const proposalsAreRight = options.proposalsAreRight === true || isSameText(confirmed, now);
    const answer = await changeOf(now, { ...options, checks, proposalsAreRight, forked: merge }, io);
    return { files: options.dryRun ? [] : answer.files, answer };
  };
  const { findings: found, files } = await changeRecord(place, change, io.files).catch(asUsage);
  if (files.length > 0) io.out(options.dryRun ? "Nothing was written: this was a trial." : "Entered.");
  // What `retime` replaced is kept until then: from now on nothing of it can be put back.
  const left = "All is entered; only the texts that `retime` replaced are still there.";
  if (!options.dryRun && !found.some(blocks))
    await takeReplacedAway(place.folder, io.files).catch((error) => asUsage(writeFault(error, place.folder, left)));
  return found;
}

export interface Change {
  readonly findings: readonly Finding[];
  readonly files: readonly NewFile[];
}

/** What is due in an episode's record as it lies there, told to `io`, and the files to write. */
export async function changeOf(
  read: RecordFolder,
  options: PublishOptions & { readonly forked?: Merge | null },
  io: RecordIo,
): Promise<Change> {
  const { forked: merge = null } = options;
  const record = options.repair ? repaired(read.record) : read.record;
  if (options.repair) sayRepair(read.record, io);
  const { findings: own, laid } = judged({ ...read, record }, options);
  const settled = settledText({ ...read, record }, options);
  const findings = [...own, ...settled.findings];
  if (stands(findings, options.content, io) || settled.content === null || laid === null) {
    io.err(`Nothing was entered in the record of ${options.episode}.`);
    return { files: [], findings };
  }
  const reason = options.reissue === null ? null : reasonText(options.reissue.reason);
  if (reason !== null) refuseReissue(record, read, options);
  if (options.setsClock === true && !runsAhead(record, read.input.now))
    throw new UsageError(`No entry of ${options.episode} is dated after now: its clock did not run ahead.`);
  const due = entriesDue({
    record,
    setsClock: options.setsClock === true,
    content: settled.content,
    laid,
    corrections: new Map([...read.input.corrections].map(([id, { digest }]) => [id, digest])),
    reissue: reason === null ? null : digestOf(reason),
    merge,
    now: read.input.now,
  });
  for (const entry of due) io.out(describe(entry, laid));
  if (due.length === 0 && merge === null) io.out(`${options.episode}: all is entered; nothing to do.`);
  const kept = reason === null ? [] : await keepEarlier(read, record, reason, options);
  const text = [...record.lines.map((line) => `${line.text}\n`), ...due.map(entryLine)].join("");
  const changes = due.length > 0 || record !== read.record || merge !== null;
  const others = merge === null ? [] : keptOther(merge);
  const files: NewFile[] = changes
    ? [...kept, ...others, ...settled.files, { path: "record.jsonl", bytes: Buffer.from(text) }]
    : [];
  return { files, findings };
}

/** Whether an entry of the text itself is due, and not only of corrections of it. */
const entersText = ({ record }: Pick<RecordFolder, "record">, { reissue }: PublishOptions): boolean =>
  entriesOf(record).length === 0 || reissue !== null;

/** The episode whose proposals somebody has said to be right; null where nobody was asked, or nothing is due. */
async function confirmedIn(read: RecordFolder, options: PublishOptions, io: RecordIo): Promise<RecordFolder | null> {
  if (io.ask === null || options.proposalsAreRight === true || !entersText(read, options)) return null;
  // What else stands in the way is told first: it is no use to ask before.
  if (judged(read, options).findings.some(blocks)) return null;
  return (await askProposals(read.sources, io)) ? read : null;
}

const isSameText = (before: RecordFolder | null, now: RecordFolder): boolean =>
  before !== null &&
  (["episode", "transcript"] as const).every((name) => {
    const [was, is] = [before.sources[name], now.sources[name]];
    return was !== null && is !== null && Buffer.compare(was.bytes, is.bytes) === 0;
  });

/** The text as it is to be entered: where it is entered at all, without the marks of proposals that are right. */
function settledText(
  read: RecordFolder,
  options: PublishOptions,
): Pick<RecordFolder, "content"> & Pick<Settled, "findings" | "files"> {
  const { content, sources, zone, input } = read;
  if (!entersText(read, options)) return { content, findings: [], files: [] };
  const settled = settleProposals(sources, options.proposalsAreRight === true);
  if (settled.files.length === 0) return { ...settled, content };
  return { ...settled, content: recordFolderOf(settled.sources, zone, new Date(input.now)).content };
}

/** The folder with another record in the place of its own. */
function withRecord({ sources, zone, input }: RecordFolder, { lines }: ReadRecord): RecordFolder {
  const bytes = Buffer.from(lines.map(({ text }) => `${text}\n`).join(""));
  const record = { file: recordFile(sources.folder), bytes };
  return recordFolderOf({ ...sources, record }, zone, new Date(input.now));
}

/** All that is wrong with an episode as it would be entered. */
export function judged(
  read: RecordFolder,
  { reissue, checks, setsClock = false }: Pick<PublishOptions, "reissue" | "checks" | "setsClock">,
): { readonly findings: readonly Finding[]; readonly laid: LaidEpisode | null } {
  const { episode, record, input } = read;
  const text = recordText(record, input.record);
  const audited = auditEpisode({ ...input, record: text }, record).filter(({ rule }) => {
    if (rule === "correction-not-entered" || rule === "cut-not-entered") return false;
    if (setsClock && ["record-in-future", "correction-in-future"].includes(rule)) return false;
    return reissue === null || !["content-changed", "content-missing"].includes(rule);
  });
  const laid = episode === null ? null : layCorrections(episode, input.now, recordedWith(record, reissue !== null));
  const own = laid === null ? [] : [...laid.findings, ...checks(laid, text !== null && reissue === null)];
  // An episode that was never published is not audited; its corrections must be dated soundly all the same.
  const dates = text === null ? judgeDates(input) : [];
  // One that was published and lost its record must get that back: a new one would begin as if nothing had been.
  const lost = text === null ? lostRecord(read.sources) : [];
  return { findings: [...read.findings, ...own, ...dates, ...lost, ...audited], laid };
}

/** A reissue settles all that was entered until then. */
function recordedWith(record: ReadRecord, reissue: boolean): Recorded {
  const recorded = recordedIn(record);
  if (!reissue) return recorded;
  return { ...recorded, settled: new Set(entriesOf(record).flatMap(({ correction }) => correction?.id ?? [])) };
}

/** The text of a record; null where it has not begun, or nothing whole was left of it. An emptied one has begun. */
const recordText = ({ lines, torn }: ReadRecord, written: string | null): string | null =>
  lines.length === 0 && torn === null && written !== ""
    ? null
    : lines.map(({ text }) => `${text}\n`).join("") + (torn ?? "");

const runsAhead = (record: ReadRecord, now: string): boolean =>
  timesOf(entriesOf(record)).some((time) => Date.parse(time) > Date.parse(now));

function refuseReissue(record: ReadRecord, { content }: RecordFolder, { episode }: PublishOptions): void {
  const last = entriesOf(record).at(-1);
  if (last === undefined) throw new UsageError(`${episode} is not published yet: publish it without --reissue.`);
  if (content !== null && holds(content, last))
    throw new UsageError(`Nothing published of ${episode} was replaced: there is nothing to reissue.`);
}

function refuseReason(reason: string): void {
  if (reason.trim() === "") throw new UsageError("--reason must say why, in words the public can read.");
  const unseen = findUnprintable(reason);
  if (unseen !== null)
    throw new UsageError(`--reason holds the invisible character ${codeOf(unseen.character)}: write it without.`);
}

const reasonText = (reason: string): string => `${reason.trim()}\n`;

function describe({ seq, what, correction, transcript, fields, ahead, other }: Entry, laid: LaidEpisode): string {
  const head = `${String(seq).padStart(3)}  ${what.padEnd(9)}`;
  const own = laid.laid.find((one) => one.correction.id === correction?.id)?.correction;
  if (what === "cut") return `${head}  withdrawn words are gone from the files; transcript ${transcript.slice(0, 12)}`;
  if (what === "merged") return `${head}  the record of another copy, kept as ${mergedPath(other ?? "")}`;
  if (what === "clock")
    return `${head}  entries from ${ahead} on were made by a clock that ran ahead, and count from now`;
  if (correction === null || own === undefined)
    return `${head}  "${laid.title}", ${laid.segments.length} segments, ${laid.cues.length} cues; transcript ${transcript.slice(0, 12)}, fields ${fields.slice(0, 12)}`;
  const where = correction.segments.length === 0 ? "the episode" : correction.segments.join(", ");
  return `${head}  ${correction.id}, ${own.kind}, on ${where}, signed ${own.signed}`;
}

function sayRepair({ torn }: ReadRecord, io: RecordIo): void {
  if (torn === null) io.out("The record's last line is whole: nothing to repair.");
  else if (isSoundEnd(torn)) io.out("The record's last line is whole but for its end, which is put back.");
  else io.out(`Taken off the end of the record, where a write was cut short: ${torn}`);
}
