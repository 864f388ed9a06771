import type { DueEntry, Repair } from "../actions/entering.ts";
import { type Published, type PublishOptions, proposalsToConfirm, publishEpisode } from "../actions/publish.ts";
import type { Finding } from "../model/finding.ts";
import { UsageError } from "../model/usageError.ts";
import { mergedPath } from "../record/merge.ts";
import { proposalsText } from "./proposals.ts";
import { type RecordIo, stands } from "./recordIo.ts";

/**
 * `afterair publish`: enters an episode, or what is pending, in its record, and shows what it enters.
 * @returns what was found; where anything of it blocks, nothing was entered.
 */
export async function publish(options: PublishOptions, io: RecordIo): Promise<readonly Finding[]> {
  const confirmed = options.dryRun ? null : await askProposals(options, io);
  const published = await publishEpisode({ ...options, confirmed }, io);
  const { state, refused, findings } = published;
  if (state === "unread") {
    stands(findings, options.content, io);
    return findings;
  }
  tellDue(published, options, io);
  if (state === "trial") io.out("Nothing was written: this was a trial.");
  if (state === "entered") io.out("Entered.");
  if (refused !== null) throw new UsageError(refused);
  return findings;
}

/** Asks whether what is proposed is right. @returns the digest of the texts that somebody said it of. */
async function askProposals(options: PublishOptions, io: RecordIo): Promise<string | null> {
  const asked = io.ask === null ? null : await proposalsToConfirm(options, io);
  if (asked === null || io.ask === null) return null;
  io.out(proposalsText(asked.proposals));
  return (await io.ask.confirm("Have you checked them, and are they all right?")) === true ? asked.digest : null;
}

/** Tells what is due in a record, or what stands in the way. */
export function tellDue(
  { findings, repair, entries, state }: Published,
  { content, episode, merge }: Pick<PublishOptions, "content" | "episode" | "merge">,
  io: RecordIo,
): void {
  if (repair !== null) io.out(repairText(repair));
  stands(findings, content, io);
  if (state === "blocked") io.err(`Nothing was entered in the record of ${episode}.`);
  for (const entry of entries ?? []) io.out(entryText(entry));
  if (entries?.length === 0 && merge === undefined) io.out(`${episode}: all is entered; nothing to do.`);
}

function entryText({ entry, correction: own, title, segments, cues }: DueEntry): string {
  const { seq, what, correction, transcript, fields, ahead, other } = entry;
  const head = `${String(seq).padStart(3)}  ${what.padEnd(9)}`;
  if (what === "cut") return `${head}  withdrawn words are gone from the files; transcript ${transcript.slice(0, 12)}`;
  if (what === "renamed") return `${head}  ${entry.renames?.from}: from now on ${entry.renames?.to}`;
  if (what === "merged") return `${head}  the record of another copy, kept as ${mergedPath(other ?? "")}`;
  if (what === "clock")
    return `${head}  entries from ${ahead} on were made by a clock that ran ahead, and count from now`;
  if (correction === null || own === null)
    return `${head}  "${title}", ${segments} segments, ${cues} cues; transcript ${transcript.slice(0, 12)}, fields ${fields.slice(0, 12)}`;
  const where = correction.segments.length === 0 ? "the episode" : correction.segments.join(", ");
  return `${head}  ${correction.id}, ${own.kind}, on ${where}, signed ${own.signed}`;
}

function repairText({ torn, isSound }: Repair): string {
  if (torn === null) return "The record's last line is whole: nothing to repair.";
  if (isSound) return "The record's last line is whole but for its end, which is put back.";
  return `Taken off the end of the record, where a write was cut short: ${torn}`;
}
