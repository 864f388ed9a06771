import { join } from "node:path";
import { DateTime } from "luxon";
import { correctionText, type Draft, datedNow, newId } from "../actions/correctionFile.ts";
import { siteDay } from "../build/day.ts";
import { findEpisodes, type RecordFolder, readRecordFolder } from "../build/recordFolder.ts";
import { parseClock } from "../model/clock.ts";
import { kindDoes, replaces } from "../model/correctionKinds.ts";
import { markedIn } from "../model/excerpt.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { clockMs } from "../model/units.ts";
import { UsageError } from "../model/usageError.ts";
import type { EpisodeFolder, Source } from "../read/index.ts";
import { recordedIn } from "../record/enter.ts";
import { entriesOf, isPublished } from "../record/entry.ts";
import type { LaidEpisode } from "../record/laid.ts";
import { layCorrections } from "../record/lay.ts";
import { type FoundWords, findWords, nearestFound } from "../record/search.ts";
import { soundFindings } from "../record/sound.ts";
import { changeRecord, type RecordChange } from "../write/record.ts";
import { askDraft, askWhich } from "./correctionQuestions.ts";
import { type Checks, changeOf, judged } from "./publish.ts";
import { asUsage, type RecordIo, stands } from "./recordIo.ts";
import { showChange } from "./showChange.ts";

export interface CorrectOptions extends Draft {
  readonly content: string;
  readonly episode: string;
  readonly dryRun: boolean;
  /** Don't ask whether it is right. */
  readonly yes: boolean;
}

interface Work {
  readonly folder: EpisodeFolder;
  readonly zone: string;
  readonly options: CorrectOptions;
  readonly io: RecordIo;
}

/**
 * `afterair correct`: appends a dated correction to a published episode and enters it in the record, after showing what
 * it will do. What the flags leave open is asked, where somebody can be asked.
 * @returns what was found; where anything of it blocks, nothing was written.
 */
export async function correct(options: CorrectOptions, io: RecordIo): Promise<readonly Finding[]> {
  const { episodes, zone, findings } = findEpisodes(options.content, [options.episode]);
  const [folder] = episodes;
  if (folder === undefined || stands(findings.filter(blocks), options.content, io)) return findings;
  const work: Work = { folder, zone, options, io };
  const before = await readRecordFolder(options.content, folder, zone, io.clock());
  const laid = publishedNow(before, work);
  if (laid === null) return before.findings;
  const draft = await completed(options, laid, io);
  if (draft === null) return told(io, "Nothing was written.");
  const shown = await preview(draft, work);
  if (shown.some(blocks) || options.dryRun) return shown;
  if (io.ask !== null && !options.yes && (await io.ask.confirm("Publish this correction?")) !== true)
    return told(io, "Nothing was written.");
  return write(draft, work);
}

function told(io: RecordIo, text: string): readonly Finding[] {
  io.out(text);
  return [];
}

/** The episode as published today; null where it can't be read. */
function publishedNow(read: RecordFolder, { options, io }: Work): LaidEpisode | null {
  if (!isPublished(read.input.record)) {
    throw new UsageError(
      `${options.episode} is not published yet: mend its files, then run \`afterair publish ${options.episode}\`.`,
    );
  }
  if (read.episode === null) {
    stands(read.findings, options.content, io);
    return null;
  }
  return layCorrections(read.episode, read.input.now, recordedIn(read.record));
}

/** The draft with everything that its kind needs; null where whoever was asked went away. */
async function completed(options: CorrectOptions, laid: LaidEpisode, io: RecordIo): Promise<Draft | null> {
  const draft = io.ask === null ? options : await askDraft(options, laid, io.ask);
  if (draft === null) return null;
  const missing = missingIn(draft);
  if (missing.length > 0) throw new UsageError(`Missing: ${missing.map((name) => `--${name}`).join(", ")}.`);
  if (draft.at !== null && parseClock(draft.at) === null)
    throw new UsageError(`--at takes a time such as 3:41, not ${draft.at}.`);
  return placed(draft, laid, io);
}

function missingIn({ kind, signed, note, said, now, field, at, every }: Draft): readonly string[] {
  const needed: Readonly<Record<string, string | null>> = {
    kind,
    signed,
    note,
    ...(kind !== null && replaces({ kind }) ? { said, now } : {}),
    ...(kindDoes(kind, "replaces-field") ? { field } : {}),
    ...(kindDoes(kind, "replaces-words") && field === "speaker" && !every ? { at } : {}),
  };
  return Object.entries(needed).flatMap(([name, value]) => (value === null ? [name] : []));
}

/** Writes down the words as they are published and where they stand, asked for where they stand more than once. */
async function placed(draft: Draft, laid: LaidEpisode, io: RecordIo): Promise<Draft | null> {
  const { said, at, segment, every, kind, field } = draft;
  if (said === null || kindDoes(kind, "replaces-field") || field === "speaker" || every) return draft;
  const found = findWords(said, laid.cues, laid.segments, segment);
  // What is not there is told, with what is near, when the correction is laid.
  if (found.length === 0) return draft;
  const moment = at === null ? null : parseClock(at);
  const chosen = moment === null ? await which(said, found, io) : nearestFound(found, clockMs(moment));
  if (chosen === undefined) return null;
  return { ...draft, said: chosen.words, at: at ?? chosen.at, segment: segment ?? chosen.segment };
}

async function which(said: string, found: readonly FoundWords[], io: RecordIo): Promise<FoundWords | undefined> {
  if (found.length === 1) return found[0];
  if (io.ask !== null) return (await askWhich(found, io.ask)) ?? undefined;
  const places = found.map((own) => `  ${own.at.padStart(7)}  ${markedIn(own)}`);
  const says = `"${said}" stands in ${found.length} places: choose one with --at, or --every.`;
  throw new UsageError([says, ...places].join("\n"));
}

/** Shows what the correction does, and what is wrong with it, on what lies there now. */
async function preview(draft: Draft, work: Work): Promise<readonly Finding[]> {
  const { options, io } = work;
  const { made, read, before } = await snapshot(draft, work);
  // Sound that is withheld is the publisher's to settle; what a withdrawal does to the recording is said here.
  const day = siteDay(null, io.clock(), work.zone)?.date ?? "";
  const checks: Checks = (laid) => soundFindings(laid, day).filter((finding) => !blocks(finding));
  const { findings, laid: after } = judged(read, { reissue: null, checks });
  if (stands(findings, options.content, io)) {
    io.err("Nothing was written.");
    return findings;
  }
  io.out(`${made.source.file}\n${made.text}`);
  if (before !== null && after !== null) for (const line of showChange(before, after, made.id)) io.out(line);
  if (kindDoes(draft.kind, "takes-away")) {
    const { elsewhereLines } = await import("./correctElsewhere.ts");
    for (const line of await elsewhereLines({ content: options.content, id: made.id, read }, io)) io.out(line);
  }
  if (options.dryRun) io.out("Nothing was written: this was a trial.");
  return findings;
}

interface Snapshot {
  readonly made: Made;
  readonly read: RecordFolder;
  readonly before: LaidEpisode | null;
}

/** The episode with the correction and without it, read while nobody writes. Nobody is asked meanwhile. */
async function snapshot(draft: Draft, { options, io, folder, zone }: Work): Promise<Snapshot> {
  const place = { folder: join(options.content, folder.folder), content: options.content };
  const look = async (): Promise<RecordChange<Snapshot>> => {
    const now = await readRecordFolder(options.content, folder, zone, io.clock());
    const made = makeFile(draft, now, { options, io, folder, zone });
    const read = await readRecordFolder(options.content, folder, zone, io.clock(), [made.source]);
    const before = now.episode === null ? null : layCorrections(now.episode, now.input.now, recordedIn(now.record));
    return { files: [], answer: { made, read, before } };
  };
  return changeRecord(place, look, io.files).catch(asUsage);
}

interface Made {
  readonly id: string;
  readonly text: string;
  readonly source: Source;
}

function makeFile(draft: Draft, { input, record }: RecordFolder, { io, zone, folder }: Work): Made {
  const dated = datedNow(io.clock(), zone);
  const day = DateTime.fromISO(dated, { setZone: true }).toFormat("yyyy-LL-dd");
  const text = correctionText(draft, dated);
  const entered = new Set(entriesOf(record).map(({ correction }) => correction?.id));
  const id = newId(day, folder.id, draft, io.now, (own) => entered.has(own) || input.corrections.has(own));
  return { id, text, source: { file: `${folder.folder}/corrections/${id}.md`, bytes: Buffer.from(text) } };
}

/** Writes the file and enters it, on what lies there now: another correction may have come in between. */
async function write(draft: Draft, work: Work): Promise<readonly Finding[]> {
  const { options, io, folder, zone } = work;
  const place = { folder: join(options.content, folder.folder), content: options.content };
  const change = async (): Promise<
    RecordChange<{ readonly findings: readonly Finding[]; readonly id: string | null }>
  > => {
    const made = makeFile(draft, await readRecordFolder(options.content, folder, zone, io.clock()), work);
    const read = await readRecordFolder(options.content, folder, zone, io.clock(), [made.source]);
    const { findings, files } = await changeOf(read, publishing(options), io);
    if (files.length === 0) return { files, answer: { findings, id: null } };
    const file = { path: `corrections/${made.id}.md`, bytes: made.source.bytes };
    return { files: [file, ...files], answer: { findings, id: made.id } };
  };
  const { findings, id } = await changeRecord(place, change, io.files).catch(asUsage);
  if (id !== null) io.out(`Entered as ${id}.`);
  return findings;
}

const publishing = ({ content, episode }: CorrectOptions) => ({
  content,
  episode,
  reissue: null,
  repair: false,
  dryRun: false,
  checks: () => [],
});
