import { lostRecord } from "../build/lostRecord.ts";
import { type RecordFolder, recordFolderOf } from "../build/recordFolder.ts";
import type { Correction } from "../model/episode.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { auditEpisode } from "../record/audit.ts";
import { type Digest, digestOf } from "../record/digest.ts";
import { entriesDue, type Recorded, recordedIn } from "../record/enter.ts";
import { type Entry, entriesOf, entryLine, type ReadRecord, timesOf } from "../record/entry.ts";
import { holds } from "../record/judgeContent.ts";
import { judgeDates } from "../record/judgeCorrections.ts";
import type { LaidEpisode } from "../record/laid.ts";
import { layCorrections } from "../record/lay.ts";
import type { Merge } from "../record/merge.ts";
import type { NewFile } from "../write/record.ts";
import { keepEarlier } from "./earlierText.ts";
import { keptOther } from "./merge.ts";
import { confirmProposals, type ProposalOutcome } from "./proposals.ts";
import { refusalOf } from "./refusal.ts";
import { renamed } from "./renaming.ts";
import { isSoundEnd, repaired } from "./repair.ts";
import { digestOfTexts } from "./texts.ts";

/** Further findings about an episode as it would be published. @param published its text is, and stays as it is. */
export type Checks = (laid: LaidEpisode, published: boolean) => readonly Finding[];

/** What is to be entered in the record of an episode. */
export interface Entering {
  readonly content: string;
  readonly episode: string;
  /** Replace the frozen text by the one that lies there now, and say why. */
  readonly reissue: { readonly reason: string; readonly earlier: string | null } | null;
  /** Take a torn last line off the record, or end it where it is whole. */
  readonly repair: boolean;
  /** Say in the record that entries were made by a clock that ran ahead. */
  readonly setsClock?: boolean;
  /** The id of a correction that is to get another one. */
  readonly rename?: string | null;
  /** Somebody has checked all that is marked as proposed, whatever it is. */
  readonly proposalsAreRight?: boolean;
  /** The digest of the texts whose proposals somebody has said to be right; of other texts it says nothing. */
  readonly confirmed?: Digest | null;
  readonly checks: Checks;
}

/** What became of the end of a record that was to be repaired. */
export interface Repair {
  /** The line that a cut write left; null where the last line is whole. */
  readonly torn: string | null;
  /** Whether that line is whole but for its end, and stays. */
  readonly isSound: boolean;
}

/** An entry that is due, and what it is about. */
export interface DueEntry {
  readonly entry: Entry;
  /** Null where it is about no correction of the episode. */
  readonly correction: Correction | null;
  /** The episode as it is with all that is due. */
  readonly title: string;
  readonly segments: number;
  readonly cues: number;
}

/** What is due in the record of an episode. */
export interface Due {
  readonly findings: readonly Finding[];
  /** Null where no repair was asked for. */
  readonly repair: Repair | null;
  /** Null where something stands in the way. */
  readonly entries: readonly DueEntry[] | null;
  /** Why it can't be entered though nothing is wrong with the episode, in a sentence; null: it can. */
  readonly refused: string | null;
  /** To be written together; none where nothing is due. */
  readonly files: readonly NewFile[];
}

/** What is due in an episode's record as it lies there, and the files to write. */
export async function dueIn(read: RecordFolder, options: Entering, merge: Merge | null): Promise<Due> {
  const { reissue, content } = options;
  const record = options.repair ? repaired(read.record) : read.record;
  const { findings: own, laid } = judged({ ...read, record }, options);
  const confirmed = confirmedText({ ...read, record }, options);
  const findings = [...own, ...confirmed.findings];
  const repair = options.repair ? repairOf(read.record) : null;
  const due: Due = { findings, repair, entries: null, refused: null, files: [] };
  if (findings.some(blocks) || confirmed.content === null || laid === null) return due;
  const refused = refusedFor(record, read, options);
  if (refused !== null) return { ...due, refused };
  const naming = options.rename ? renamed(options.rename, record, { input: read.input, laid }) : null;
  if (naming?.ok === false) return { ...due, refused: naming.why };
  const reason = reissue === null ? null : reasonText(reissue.reason);
  const made = entriesDue({
    record,
    setsClock: options.setsClock === true,
    content: confirmed.content,
    laid,
    corrections: new Map([...read.input.corrections].map(([id, { digest }]) => [id, digest])),
    reissue: reason === null ? null : digestOf(reason),
    merge,
    renames: naming?.renames ?? null,
    now: read.input.now,
  });
  const entries = made.map((entry) => dueEntry(entry, laid));
  const kept = reason === null ? [] : await keepEarlier(read, record, reason, { reissue, content }).catch(refusalOf);
  if (typeof kept === "string") return { ...due, entries, refused: kept };
  if (made.length === 0 && record === read.record && merge === null) return { ...due, entries };
  const text = [...record.lines.map((line) => `${line.text}\n`), ...made.map(entryLine)].join("");
  const others = merge === null ? [] : keptOther(merge);
  const moved = naming === null ? [] : [naming.file];
  const files = [...kept, ...others, ...moved, ...confirmed.files, { path: "record.jsonl", bytes: Buffer.from(text) }];
  return { ...due, entries, files };
}

const repairOf = ({ torn }: ReadRecord): Repair => ({ torn, isSound: torn !== null && isSoundEnd(torn) });

function dueEntry(entry: Entry, { laid, title, segments, cues }: LaidEpisode): DueEntry {
  const correction = laid.find((one) => one.correction.id === entry.correction?.id)?.correction ?? null;
  return { entry, correction, title, segments: segments.length, cues: cues.length };
}

/** Whether an entry of the text itself is due, and not only of corrections of it. */
export const entersText = ({ record }: Pick<RecordFolder, "record">, { reissue }: Pick<Entering, "reissue">): boolean =>
  entriesOf(record).length === 0 || reissue !== null;

/** The text as it is to be entered: where it is entered at all, without the marks of proposals that are right. */
function confirmedText(
  read: RecordFolder,
  options: Entering,
): Pick<RecordFolder, "content"> & Pick<ProposalOutcome, "findings" | "files"> {
  const { content, sources, zone, input } = read;
  if (!entersText(read, options)) return { content, findings: [], files: [] };
  const areRight = options.proposalsAreRight === true || options.confirmed === digestOfTexts(sources);
  const confirmed = confirmProposals(sources, areRight);
  if (confirmed.files.length === 0) return { ...confirmed, content };
  return { ...confirmed, content: recordFolderOf(confirmed.sources, zone, new Date(input.now)).content };
}

/** All that is wrong with an episode as it would be entered. */
export function judged(
  read: RecordFolder,
  { reissue, checks, setsClock = false }: Pick<Entering, "reissue" | "checks" | "setsClock">,
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

/** A reissue may take in all that was entered until then. */
function recordedWith(record: ReadRecord, reissue: boolean): Recorded {
  const recorded = recordedIn(record);
  if (!reissue) return recorded;
  return { ...recorded, reissued: new Set(entriesOf(record).flatMap(({ correction }) => correction?.id ?? [])) };
}

/** The text of a record; null where it has not begun, or nothing whole was left of it. An emptied one has begun. */
const recordText = ({ lines, torn }: ReadRecord, written: string | null): string | null =>
  lines.length === 0 && torn === null && written !== ""
    ? null
    : lines.map(({ text }) => `${text}\n`).join("") + (torn ?? "");

const runsAhead = (record: ReadRecord, now: string): boolean =>
  timesOf(entriesOf(record)).some((time) => Date.parse(time) > Date.parse(now));

/** Why what is asked for has no sense for this record; null: it has. */
function refusedFor(record: ReadRecord, read: RecordFolder, { episode, reissue, setsClock }: Entering): string | null {
  const last = entriesOf(record).at(-1);
  if (reissue !== null && last === undefined) return `${episode} is not published yet: publish it without --reissue.`;
  if (reissue !== null && last !== undefined && read.content !== null && holds(read.content, last))
    return `Nothing published of ${episode} was replaced: there is nothing to reissue.`;
  if (setsClock === true && !runsAhead(record, read.input.now))
    return `No entry of ${episode} is dated after now: its clock did not run ahead.`;
  return null;
}

const reasonText = (reason: string): string => `${reason.trim()}\n`;
