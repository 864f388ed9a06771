import { DateTime } from "luxon";
import { siteDay } from "../build/day.ts";
import { type RecordFolder, readRecordFolder } from "../build/recordFolder.ts";
import { parseClock } from "../model/clock.ts";
import type { Draft } from "../model/correctionDraft.ts";
import { kindDoes, replaces } from "../model/correctionKinds.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { clockMs } from "../model/units.ts";
import { UsageError } from "../model/usageError.ts";
import type { EpisodeFolder, Source } from "../read/index.ts";
import type { Digest } from "../record/digest.ts";
import { recordedIn } from "../record/enter.ts";
import { entriesOf, isPublished } from "../record/entry.ts";
import type { LaidEpisode } from "../record/laid.ts";
import { layCorrections } from "../record/lay.ts";
import { type FoundWords, findWords, nearestFound } from "../record/search.ts";
import { soundFindings } from "../record/sound.ts";
import { changeRecord, type RecordChange } from "../write/record.ts";
import { type CorrectionChange, correctionChange } from "./correctionChange.ts";
import { correctionText, datedNow, newId } from "./correctionFile.ts";
import { type Checks, dueIn, judged } from "./entering.ts";
import { oneFolder } from "./oneFolder.ts";
import { NOTHING_DUE, type Published, publishedOf, type RecordWorld } from "./publish.ts";
import { refusalOf } from "./refusal.ts";
import { digestOfTexts } from "./texts.ts";

/** The episode to be corrected. */
export interface Correcting {
  readonly content: string;
  readonly episode: string;
  /** When the correction was begun: it has the same name from its preview to its entry. */
  readonly begun: Date;
}

/** An episode as it is published at the moment. */
export interface PublishedNow {
  readonly findings: readonly Finding[];
  /** Null where it can't be read: the findings say why. */
  readonly laid: LaidEpisode | null;
}

/** What a correction is about to be made of. @throws UsageError where the episode is not published. */
export async function openToCorrect({ content, episode }: Correcting, world: RecordWorld): Promise<PublishedNow> {
  const { folder, zone, findings } = oneFolder(content, episode);
  if (folder === null) return { findings, laid: null };
  const read = await readRecordFolder(content, folder, zone, world.clock());
  if (!isPublished(read.input.record)) {
    throw new UsageError(`${episode} is not published yet: mend its files, then run \`afterair publish ${episode}\`.`);
  }
  return { findings: read.findings, laid: laidOf(read) };
}

const laidOf = ({ episode, input, record }: RecordFolder): LaidEpisode | null =>
  episode === null ? null : layCorrections(episode, input.now, recordedIn(record));

/** What a draft leaves open, or the draft with the words as they are published and where they stand. */
export type FilledDraft =
  | { readonly state: "missing"; readonly names: readonly (keyof Draft)[] }
  | { readonly state: "places"; readonly found: readonly FoundWords[] }
  | { readonly state: "complete"; readonly draft: Draft };

/** Looks whether a draft has all that its kind needs, and its words one place. @throws UsageError where its time is none. */
export function fillDraft(draft: Draft, laid: LaidEpisode): FilledDraft {
  const names = missingIn(draft);
  if (names.length > 0) return { state: "missing", names };
  const { said, at, segment, every, kind, field } = draft;
  const moment = at === null ? null : parseClock(at);
  if (at !== null && moment === null) throw new UsageError(`--at takes a time such as 3:41, not ${at}.`);
  if (said === null || kindDoes(kind, "replaces-field") || field === "speaker" || every)
    return { state: "complete", draft };
  const found = findWords(said, laid.cues, laid.segments, segment);
  const [only, second] = found;
  // What is not there is told, with what is near, when the correction is laid.
  if (only === undefined) return { state: "complete", draft };
  if (moment === null && second !== undefined) return { state: "places", found };
  const chosen = moment === null ? only : (nearestFound(found, clockMs(moment)) ?? only);
  return { state: "complete", draft: placedAt(draft, chosen) };
}

/** The draft with one of the places that its words stand in. */
export const placedAt = (draft: Draft, { words, at, segment }: FoundWords): Draft => ({
  ...draft,
  said: words,
  at: draft.at ?? at,
  segment: draft.segment ?? segment,
});

function missingIn({ kind, signed, note, said, now, field, at, every }: Draft): readonly (keyof Draft)[] {
  const needed: Partial<Draft> = {
    kind,
    signed,
    note,
    ...(kind !== null && replaces({ kind }) ? { said, now } : {}),
    ...(kindDoes(kind, "replaces-field") ? { field } : {}),
    ...(kindDoes(kind, "replaces-words") && field === "speaker" && !every ? { at } : {}),
  };
  return (Object.keys(needed) as (keyof Draft)[]).filter((name) => needed[name] === null);
}

/** What a correction would do, and what is wrong with it. */
export interface Preview {
  readonly findings: readonly Finding[];
  readonly id: string;
  /** Its file, relative to the content folder, and what would stand in it. */
  readonly file: string;
  readonly text: string;
  /** Null where it does nothing that can be shown. */
  readonly change: CorrectionChange | null;
  /** The episode with the correction in it. */
  readonly read: RecordFolder;
  /** Of the texts that it is about, for `confirmed` of what is entered then. */
  readonly digest: Digest;
}

/** What a correction would do to what lies there now. Writes nothing, and is read while nobody else writes. */
export async function previewCorrection(draft: Draft, options: Correcting, world: RecordWorld): Promise<Preview> {
  const { folder, zone, place } = requiredFolder(options);
  const look = async (): Promise<RecordChange<Preview>> => {
    const now = await readRecordFolder(options.content, folder, zone, world.clock());
    const { id, text, source } = makeFile(draft, now, options, world);
    const read = await readRecordFolder(options.content, folder, zone, world.clock(), [source]);
    // Sound that is withheld is the publisher's to decide; what a withdrawal does to the recording is said here.
    const day = siteDay(null, world.clock(), zone)?.date ?? "";
    const checks: Checks = (laid) => soundFindings(laid, day).filter((finding) => !blocks(finding));
    const { findings, laid: after } = judged(read, { reissue: null, checks });
    const before = laidOf(now);
    const change = before === null || after === null ? null : correctionChange(before, after, id);
    const answer = { findings, id, file: source.file, text, change, read, digest: digestOfTexts(read.sources) };
    return { files: [], answer };
  };
  return changeRecord(place, look, world.files);
}

function requiredFolder({
  content,
  episode,
}: Correcting): { folder: EpisodeFolder } & Omit<ReturnType<typeof oneFolder>, "folder"> {
  const { folder, ...rest } = oneFolder(content, episode);
  if (folder === null)
    throw new UsageError(`The content below ${content} can't be read any more: run \`afterair check\`.`);
  return { folder, ...rest };
}

interface Made {
  readonly id: string;
  readonly text: string;
  readonly source: Source;
}

function makeFile(
  draft: Draft,
  { input, record, sources, zone }: RecordFolder,
  { begun }: Correcting,
  world: RecordWorld,
): Made {
  const dated = datedNow(world.clock(), zone);
  const day = DateTime.fromISO(dated, { setZone: true }).toFormat("yyyy-LL-dd");
  const text = correctionText(draft, dated);
  const entered = new Set(entriesOf(record).map(({ correction }) => correction?.id));
  const id = newId(day, sources.id, draft, begun, (own) => entered.has(own) || input.corrections.has(own));
  return { id, text, source: { file: `${sources.folder}/corrections/${id}.md`, bytes: Buffer.from(text) } };
}

/** What entering a correction came to. */
export interface Corrected extends Published {
  /** Its name; null where it was not entered. */
  readonly id: string | null;
}

/**
 * Writes a correction and enters it, on what lies there now: another correction may have come in between.
 * @param confirmed the digest of the texts for which somebody said that it is right: of others it is refused. Null:
 * nobody was asked.
 */
export async function enterCorrection(
  draft: Draft,
  options: Correcting,
  confirmed: Digest | null,
  world: RecordWorld,
): Promise<Corrected> {
  const { content, episode } = options;
  const { folder, zone, place } = requiredFolder(options);
  let [due, id] = [NOTHING_DUE, ""];
  const change = async (): Promise<RecordChange<null>> => {
    const now = await readRecordFolder(content, folder, zone, world.clock());
    if (confirmed !== null && digestOfTexts(now.sources) !== confirmed)
      throw new UsageError(`${episode} was changed meanwhile, and nothing was entered. Run the command again.`);
    const made = makeFile(draft, now, options, world);
    const read = await readRecordFolder(content, folder, zone, world.clock(), [made.source]);
    due = await dueIn(read, { content, episode, reissue: null, repair: false, checks: () => [] }, null);
    id = made.id;
    const file = { path: `corrections/${id}.md`, bytes: made.source.bytes };
    return { files: due.files.length === 0 ? [] : [file, ...due.files], answer: null };
  };
  const refused = await changeRecord(place, change, world.files).catch(refusalOf);
  const published = publishedOf(due, refused, false);
  return { ...published, id: published.state === "entered" ? id : null };
}
