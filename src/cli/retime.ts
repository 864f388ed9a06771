import { join } from "node:path";
import { sourceOf } from "../actions/new.ts";
import { type RetimedText, retimed, type ToRetime } from "../actions/retimed.ts";
import { possiblePoints } from "../derive/found/again.ts";
import { soundIn } from "../derive/turns.ts";
import { formatClock } from "../model/clock.ts";
import type { Episode, Segment, TranscriptCue } from "../model/episode.ts";
import { blocks, type Finding, type Place } from "../model/finding.ts";
import type { Programme } from "../model/programme.ts";
import { UsageError } from "../model/usageError.ts";
import { blocking, findingAt } from "../read/findings.ts";
import {
  type EpisodeSources,
  listEpisodes,
  parseEpisode,
  parseProgramme,
  parseTranscript,
  readEpisodeSources,
  readProgrammeSources,
  type Source,
} from "../read/index.ts";
import { findNearest, listed } from "../read/nearest.ts";
import { parseEdited } from "../read/raw/edited.ts";
import { parseRawTranscript } from "../read/raw/transcript.ts";
import { isPublished } from "../record/entry.ts";
import { parseVtt, wholeMs } from "../webvtt/index.ts";
import { withInPoints } from "../write/episodeText.ts";
import { changeRecord, type NewFile, nodeFiles } from "../write/record.ts";
import { keptTexts, replacedTexts } from "../write/replaced.ts";
import { type Ask, asUsage } from "./recordIo.ts";
import { changeText, type Made } from "./retimeText.ts";

export { retimedText } from "./retimeText.ts";

export interface RetimeOptions {
  readonly content: string;
  readonly id: string;
  /** The editor's words. */
  readonly text: string;
  /** A raw transcript to take the times from; without it the episode's own. */
  readonly times?: string;
  /** The slug of the one segment that the words are for; without it, they are the whole programme's. */
  readonly segment?: string;
  /** Write better in points, where those of episode.md are proposals. */
  readonly inPoints: boolean;
  /** Only tell what would change. */
  readonly dryRun: boolean;
  /** Don't ask where much of what is there would go. */
  readonly yes?: boolean;
}

export interface RetimedEpisode {
  readonly findings: readonly Finding[];
  /** Null where nothing could be written. */
  readonly made: Made | null;
}

/**
 * `afterair retime`: the words as an editor corrected them, with the times of the transcript that is there. What it
 * replaces is kept until the episode is published. @param ask null where nobody can be asked.
 */
export async function retimeEpisode(options: RetimeOptions, ask: Ask | null = null): Promise<RetimedEpisode> {
  const { sources, programme, episode, findings: ofContent } = readContent(options);
  const { transcript } = sources;
  if (programme === null || transcript === null) return { findings: ofContent, made: null };
  const old = parseTranscript(transcript);
  const raw = options.times === undefined ? null : parseRawTranscript(await sourceOf(options.times));
  const cues = old.ok ? old.value : [];
  const known = [...programme.names.map(({ name }) => name), ...voicesOf(cues)];
  const edited = parseEdited(await sourceOf(options.text), known);
  const scope = options.segment === undefined ? null : partOf(options.segment, { episode, cues, sources });
  const findings = [
    ...ofContent,
    ...old.findings.filter(blocks),
    ...(raw?.findings ?? []),
    ...edited.findings,
    ...(scope?.findings ?? []),
  ];
  if (findings.some(blocks)) return { findings, made: null };
  const { inPoints } = options;
  const part = scope?.part ?? null;
  const work = { bytes: transcript.bytes, cues, episode, programme, edited, raw: raw?.lumps ?? null, part, inPoints };
  const done = retimed(work);
  if (done === null) return { findings: [...findings, noRoom(options, transcript.file)], made: null };
  const refused = await refusal(done, options, transcript.file, ask);
  if (refused !== null) findings.push(refused);
  if (findings.some(blocks)) return { findings, made: null };
  const written = await write(done, options, { sources, transcript, episode });
  return {
    findings: [...findings, ...told(done, transcript.file)],
    made: { ...done, ...written, file: transcript.file },
  };
}

interface Content {
  readonly sources: EpisodeSources;
  readonly programme: Programme | null;
  readonly episode: Episode | null;
  readonly findings: readonly Finding[];
}

function readContent({ content, id }: Pick<RetimeOptions, "content" | "id">): Content {
  const { episodes } = listEpisodes(content);
  const own = readProgrammeSources(content);
  const folder = episodes.find((episode) => episode.id === id);
  if (folder === undefined) throw new UsageError(`There is no episode ${id} below ${content}.`);
  const { sources, findings: ofFiles } = readEpisodeSources(content, folder);
  const { programme, findings } = parseProgramme(own.sources);
  const read = programme === null ? null : parseEpisode(sources, programme.timezone);
  const at = { file: `${folder.folder}/transcript.vtt`, line: 1, column: 1 };
  const { transcript, record } = sources;
  const stands: Finding[] = [];
  if (transcript === null) {
    stands.push(blocking("transcript-missing", at, "This episode has no transcript.", "Make one with `afterair new`."));
  }
  if (isPublished(record?.bytes ?? null)) {
    const says = "This transcript is published: it is never edited.";
    stands.push(blocking("transcript-published", at, says, "Correct it with `afterair correct`."));
  }
  return {
    sources,
    programme,
    episode: read?.ok ? read.value : null,
    findings: [...ofFiles, ...findings.filter(blocks), ...stands],
  };
}

const voicesOf = (cues: readonly TranscriptCue[]): readonly string[] => [
  ...new Set(cues.flatMap(({ parts }) => parts.flatMap(({ voice }) => (voice === null ? [] : [voice])))),
];

/** The cues and the time of one segment; a segment that is not there, or is a break, is told. */
function partOf(
  slug: string,
  { episode, cues, sources }: Pick<Content, "episode" | "sources"> & { readonly cues: readonly TranscriptCue[] },
): { readonly part: ToRetime["part"]; readonly findings: readonly Finding[] } {
  const at = { file: `${sources.folder}/episode.md`, line: 1, column: 1 };
  const refuse = (rule: string, place: Place, says: string, mend: string) => {
    return { part: null, findings: [blocking(rule, place, says, mend)] };
  };
  if (episode === null) {
    const says = "This episode.md can't be read, so that nobody knows where the segment is.";
    return refuse("segment-unknown", at, says, "Run `afterair check` and mend it, or leave --segment out.");
  }
  const slugs = episode.segments.map((segment) => segment.slug);
  const segment = episode.segments.find((one) => one.slug === slug);
  if (segment === undefined) {
    const near = findNearest(slug, slugs);
    const mend = near === undefined ? `There are ${listed(slugs)}.` : `Did you mean ${near}?`;
    return refuse("segment-unknown", at, `No segment of this episode is called ${slug}.`, mend);
  }
  if (segment.kind === "break") {
    const says = `${slug} is a break: nobody speaks there.`;
    return refuse("segment-is-break", segment.at, says, "Give its words to a segment, or correct the break's points.");
  }
  const speech = cues.map((cue, n) => ({ cue, n })).filter(({ cue }) => soundIn(cue) === null);
  const own = speech.filter(({ cue }) => homeOf(cue, episode.segments) === segment);
  const numbers = new Set(own.map(({ n }) => n));
  const others = speech.filter(({ n }) => !numbers.has(n)).map(({ cue }) => cue);
  const middle = own[0]?.cue.start ?? segment.in;
  const before = others.filter(({ start }) => start < middle).map(({ end }) => end);
  const after = others.filter(({ start }) => start >= middle).map(({ start }) => start);
  const start = Math.max(segment.in, ...before);
  const end = Math.min(segment.out, ...after);
  return { part: { cues: numbers, whole: { start, end: Math.max(start, end) } }, findings: [] };
}

/** The segment that most of a cue lies in, as the pages have it. */
function homeOf({ start, end }: TranscriptCue, segments: readonly Segment[]): Segment | undefined {
  const shared = segments.map((segment) => Math.min(end, segment.out) - Math.max(start, segment.in));
  const most = Math.max(...shared);
  return most > 0 ? segments[shared.indexOf(most)] : segments.findLast((segment) => segment.in <= start);
}

/** More of the words that are there than this may not go without a question. */
const MUCH = 0.2;
/** So many of the passages that would go are shown. */
const SHOWN = 5;

/** So much of what is there would go that somebody must say that it is right. A trial only tells it. */
async function refusal(
  { gone, present, changes }: RetimedText,
  { yes = false, dryRun }: RetimeOptions,
  file: string,
  ask: Ask | null,
): Promise<Finding | null> {
  if (gone <= present * MUCH || yes) return null;
  const longest = changes
    .filter(({ kind }) => kind === "deleted")
    .toSorted((a, b) => b.words - a.words)
    .slice(0, SHOWN);
  const says = `${gone} of the ${present} words that are there would go. The longest passages:\n${longest.map(changeText).join("\n")}`;
  if (!dryRun && ask !== null && (await ask.confirm(`${says}\nPut the new text in all the same?`)) === true)
    return null;
  const at = { file, line: 1, column: 1 };
  const mend = "Give the whole text, or --segment for a part of it. Where it is right that they go: --yes.";
  return findingAt(
    at,
    dryRun ? "warns" : "blocks",
    "words-would-go",
    says,
    mend,
    longest[0] ? longest[0].at / 1000 : null,
  );
}

function noRoom({ segment }: RetimeOptions, file: string): Finding {
  const says = `These words can't be spoken in the time of ${segment ?? "the episode"}: nothing was changed.`;
  const times = segment === undefined ? "`duration` and `cuts` in episode.md" : "its in and out points";
  return blocking("words-without-room", { file, line: 1, column: 1 }, says, `Correct ${times}, or the text.`);
}

/** Puts the texts in the place of those that are there, and keeps those. Nothing is written where nothing changed. */
async function write(
  { text, points }: RetimedText,
  { content, id, inPoints, dryRun }: RetimeOptions,
  { sources, transcript, episode }: Pick<Content, "sources" | "episode"> & { readonly transcript: Source },
): Promise<Pick<Made, "kept" | "changed">> {
  const made: { readonly was: Source; readonly now: string }[] = [{ was: transcript, now: text }];
  if (inPoints && points !== null && sources.episode !== null && episode !== null) {
    made.push({ was: sources.episode, now: withInPoints(textOf(sources.episode), possiblePoints(points, episode)) });
  }
  const replaced = made.filter(({ was, now }) => now !== textOf(was));
  const [first] = replaced;
  if (first === undefined || dryRun) return { kept: null, changed: first !== undefined };
  const folder = join(content, sources.folder);
  const kept = await keptTexts(
    folder,
    replaced.map(({ was }) => ({ path: nameOf(was, sources), bytes: was.bytes })),
  );
  await replaceAll({ content, id, sources }, [
    ...kept,
    ...replaced.map(({ was, now }) => ({ path: nameOf(was, sources), bytes: Buffer.from(now) })),
  ]);
  return { kept: kept.map(({ path }) => `${sources.folder}/${path}`).join(" and "), changed: true };
}

const textOf = ({ bytes }: Source): string => new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes);
const nameOf = ({ file }: Source, { folder }: EpisodeSources): string => file.slice(folder.length + 1);

/** Writes all files or none, unless somebody else changed the episode since it was read. */
async function replaceAll(
  { content, id, sources }: { readonly content: string; readonly id: string; readonly sources: EpisodeSources },
  files: readonly NewFile[],
): Promise<void> {
  const isSame = (one: Source | null, other: Source | null) =>
    one === other || (one !== null && other !== null && Buffer.compare(one.bytes, other.bytes) === 0);
  const change = async () => {
    const { sources: now } = readContent({ content, id });
    const stands =
      isSame(now.transcript, sources.transcript) &&
      isSame(now.episode, sources.episode) &&
      !isPublished(now.record?.bytes ?? null);
    if (!stands) throw new UsageError(`${id} was changed meanwhile, and left as it is now. Run the command again.`);
    return { files, answer: null };
  };
  await changeRecord({ folder: join(content, sources.folder), content }, change, nodeFiles).catch(asUsage);
}

/** What a person should look at in the new transcript. */
function told({ text, unplaced, isLeast, crowded }: RetimedText, file: string): readonly Finding[] {
  const at = { file, line: 1, column: 1 };
  const sounds = unplaced.map(({ text: sound, from }) => {
    const says = `There is no room between the words for [${sound}].`;
    return findingAt(at, "warns", "sound-unplaced", says, "It is kept in a note: put it in by hand.", from / 1000);
  });
  const unsure = "The two texts are too long to be sure that no better alignment of them exists.";
  const drift = "Look at a few captions towards the end; where they drift, retime the text in parts.";
  return [
    ...sounds,
    ...(isLeast ? [] : [findingAt(at, "warns", "alignment-unsure", unsure, drift)]),
    ...(crowded === null ? [] : [crowdedFinding(crowded, text, file)]),
  ];
}

function crowdedFinding({ start, parts }: NonNullable<RetimedText["crowded"]>, text: string, file: string): Finding {
  const words = parts.map((part) => part.words.replace(/\s+/g, " ")).join(" ");
  const says = `The words have no room outside the break: “${words}” stands in it, at ${formatClock(start)}.`;
  const mend = "Correct the points of the break, or `cuts`, in episode.md; then retime again.";
  const cue = parseVtt(text).cues.find(({ startTime }) => wholeMs(startTime) === start);
  const at = { file, line: cue === undefined ? 1 : cue.line + 1, column: 1 };
  return findingAt(at, "blocks", "words-in-break", says, mend, start / 1000);
}

/**
 * `afterair retime --undo`: puts the texts back that were replaced last, and keeps those that are there in their stead,
 * so that it can be undone too.
 * @returns what was put back, relative to the content folder.
 */
export async function undoRetime(options: Pick<RetimeOptions, "content" | "id">): Promise<{
  readonly findings: readonly Finding[];
  readonly back: readonly string[];
}> {
  const { sources, findings } = readContent(options);
  if (findings.some(blocks)) return { findings, back: [] };
  const folder = join(options.content, sources.folder);
  const all = await replacedTexts(folder);
  const last = all.filter(({ number }) => number === all[0]?.number);
  if (last.length === 0) throw new UsageError(`Nothing of ${options.id} was replaced: there is nothing to put back.`);
  const swapped = last.flatMap(({ path, of, bytes }): readonly NewFile[] => {
    const now = [sources.transcript, sources.episode].find((own) => own !== null && nameOf(own, sources) === of);
    return [...(now === undefined || now === null ? [] : [{ path, bytes: now.bytes }]), { path: of, bytes }];
  });
  await replaceAll({ ...options, sources }, swapped);
  return { findings, back: last.map(({ of }) => `${sources.folder}/${of}`) };
}
