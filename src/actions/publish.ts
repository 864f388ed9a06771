import { siteDay } from "../build/day.ts";
import { type RecordFolder, readRecordFolder, recordFolderOf } from "../build/recordFolder.ts";
import { blocks } from "../model/finding.ts";
import { codeOf, findUnprintable } from "../model/unseen.ts";
import { UsageError } from "../model/usageError.ts";
import { type ProposedThing, proposalsIn } from "../read/proposals.ts";
import type { Digest } from "../record/digest.ts";
import type { ReadRecord } from "../record/entry.ts";
import type { Merge } from "../record/merge.ts";
import { recordFile } from "../record/recordFile.ts";
import { soundFindings } from "../record/sound.ts";
import { type Files, writeFault } from "../write/files.ts";
import { changeRecord, type RecordChange } from "../write/record.ts";
import { takeReplacedAway } from "../write/replaced.ts";
import { editorialChecks } from "./editorial.ts";
import { type Checks, type Due, dueIn, type Entering, entersText, judged } from "./entering.ts";
import { findMerge } from "./merge.ts";
import { type OneFolder, oneFolder } from "./oneFolder.ts";
import { refusalOf } from "./refusal.ts";
import { takeRenamedAway } from "./renaming.ts";
import { digestOfTexts } from "./texts.ts";

/** What an action on the record needs of the world. */
export interface RecordWorld {
  /** The moment it is, for entries made after a wait. */
  clock(): Date;
  /** By which the record is written. */
  readonly files: Files;
}

export interface PublishOptions extends Omit<Entering, "checks"> {
  /** What the text is judged by; left out: the editorial checks. */
  readonly checks?: Checks;
  /** Make one of this record and another copy's: that of a file, or null for what version control has of both. */
  readonly merge?: { readonly record: string | null };
  readonly dryRun: boolean;
}

/** What publishing came to. */
export interface Published extends Omit<Due, "files"> {
  /**
   * `unread`: the episode or its programme can't be read. `blocked`: findings stand in the way. `refused`: see there.
   * `nothing`: all is entered already. `trial`: it would be entered. `entered`: it is; where `refused` says something
   * all the same, only what `retime` replaced is still there.
   */
  readonly state: "unread" | "blocked" | "refused" | "nothing" | "trial" | "entered";
}

/** Nothing of an episode was looked at yet. */
export const NOTHING_DUE: Due = { findings: [], repair: null, entries: null, refused: null, files: [] };

/** What somebody must say to be right before an episode can be published. */
export interface ToConfirm {
  readonly proposals: readonly ProposedThing[];
  /** Of the texts that they stand in, for `confirmed` of what is published then. */
  readonly digest: Digest;
}

/**
 * What must be confirmed before an episode can be published; null where nothing must, or where something else stands in
 * the way: it is no use to ask before. Changes nothing, and takes no lock: people think.
 */
export async function proposalsToConfirm(options: PublishOptions, world: RecordWorld): Promise<ToConfirm | null> {
  const { folder, zone } = opened(options);
  if (folder === null || options.proposalsAreRight === true) return null;
  const checks = await checksOf(options, world);
  const read = await readRecordFolder(options.content, folder, zone, world.clock());
  if (!entersText(read, options) || judged(read, { ...options, checks }).findings.some(blocks)) return null;
  const proposals = proposalsIn(read.sources);
  return proposals.length === 0 ? null : { proposals, digest: digestOfTexts(read.sources) };
}

/** Enters an episode, or what is pending, in its record. Entering twice enters once. */
export async function publishEpisode(options: PublishOptions, world: RecordWorld): Promise<Published> {
  const { folder, zone, place, findings } = opened(options);
  if (folder === null) return { ...NOTHING_DUE, findings, state: "unread" };
  const editorial = await checksOf(options, world);
  let due = NOTHING_DUE;
  const change = async (): Promise<RecordChange<null>> => {
    const day = siteDay(null, world.clock(), zone)?.date;
    const sound: Checks = (laid) => (day === undefined ? [] : soundFindings(laid, day));
    const checks: Checks = (laid, published) => [...editorial(laid, published), ...sound(laid, published)];
    // A command that was killed between may have left the file of a correction that has another name by now.
    await takeRenamedAway(place.folder, world.files);
    const found = await readRecordFolder(options.content, folder, zone, world.clock());
    const { merge: asked } = options;
    const merge: Merge | null = asked === undefined ? null : await findMerge(options.content, found, asked.record);
    due = await dueIn(merge === null ? found : withRecord(found, merge.record), { ...options, checks }, merge);
    return { files: options.dryRun || due.refused !== null ? [] : due.files, answer: null };
  };
  const refused = await changeRecord(place, change, world.files).catch(refusalOf);
  const told = publishedOf(due, refused, options.dryRun);
  if (told.state !== "entered" && (told.state !== "nothing" || options.dryRun)) return told;
  await takeRenamedAway(place.folder, world.files);
  // What `retime` replaced is kept until then: from now on nothing of it can be put back.
  const left = "All is entered; only the texts that `retime` replaced are still there.";
  const takenAway = takeReplacedAway(place.folder, world.files).then(() => null);
  const stayed = await takenAway.catch((error) => refusalOf(writeFault(error, place.folder, left)));
  return { ...told, refused: stayed };
}

/** What has become of what was due. @param refused why it could not be written; null: it could. */
export function publishedOf({ files, ...due }: Due, refused: string | null, dryRun: boolean): Published {
  if (refused !== null || due.refused !== null) return { ...due, refused: refused ?? due.refused, state: "refused" };
  if (due.entries === null) return { ...due, state: "blocked" };
  if (files.length === 0) return { ...due, state: "nothing" };
  return { ...due, state: dryRun ? "trial" : "entered" };
}

const checksOf = async ({ checks, content }: PublishOptions, world: RecordWorld): Promise<Checks> =>
  checks ?? editorialChecks(content, world.clock());

/** The folder, unless what is asked for makes no sense. */
function opened({ content, episode, reissue }: PublishOptions): OneFolder {
  const one = oneFolder(content, episode);
  if (one.folder !== null && reissue !== null) refuseReason(reissue.reason);
  return one;
}

/** The folder with another record in the place of its own. */
function withRecord({ sources, zone, input }: RecordFolder, { lines }: ReadRecord): RecordFolder {
  const bytes = Buffer.from(lines.map(({ text }) => `${text}\n`).join(""));
  const record = { file: recordFile(sources.folder), bytes };
  return recordFolderOf({ ...sources, record }, zone, new Date(input.now));
}

function refuseReason(reason: string): void {
  if (reason.trim() === "") throw new UsageError("--reason must say why, in words the public can read.");
  const unseen = findUnprintable(reason);
  if (unseen !== null)
    throw new UsageError(`--reason holds the invisible character ${codeOf(unseen.character)}: write it without.`);
}
