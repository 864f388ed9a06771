import { join } from "node:path";
import { possiblePoints } from "../derive/propose/again.ts";
import { soundFaults } from "../listen/hear.ts";
import { breaksAgainst } from "../listen/heldAgainst.ts";
import type { Episode, TranscriptCue } from "../model/episode.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { MOST_RAW_BYTES } from "../model/limits.ts";
import { UsageError } from "../model/usageError.ts";
import { findingAt } from "../read/findings.ts";
import { parseEdited } from "../read/incoming/edited.ts";
import { parseRawTranscript, type Recognised } from "../read/incoming/transcript.ts";
import { type EpisodeSources, parseTranscript, type Source } from "../read/index.ts";
import type { Digest } from "../record/digest.ts";
import { withInPoints } from "../write/episodeText.ts";
import type { NewFile } from "../write/record.ts";
import { keptTexts, replacedTexts } from "../write/replaced.ts";
import { type ListenOptions, listenedText, type Opened, openListening } from "./listen.ts";
import { encodingFrom, sourceOf } from "./new.ts";
import { changedMeanwhile, replaceTexts } from "./replaceTexts.ts";
import { type Content, readContent, stretchOf } from "./retimeContent.ts";
import { type RetimedText, retimed } from "./retimed.ts";
import { againstFindings, noRoom, told, wordsWouldGo } from "./retimeFindings.ts";
import { digestOfTexts } from "./texts.ts";

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
  /** What both files were saved as, such as windows-1252; found out unless given. */
  readonly encoding?: string;
  /** How to listen to the recording; without it nobody does. */
  readonly listen?: ListenOptions | null;
  /** Told what the raw transcript was taken for, as soon as it is read. */
  readonly recognised?: (what: Recognised) => void;
  /** Only tell what would change. */
  readonly dryRun: boolean;
  /** Whatever would go, it is right. */
  readonly yes?: boolean;
  /** The digest of the texts of which somebody said that it is right that much would go; others are refused. */
  readonly confirmed?: Digest;
}

/** What a retiming came to. */
export interface Made extends Omit<RetimedText, "text"> {
  /** The transcript, relative to the content folder. */
  readonly file: string;
  /** Where the text that was there is kept, relative to the content folder; null where nothing was replaced. */
  readonly kept: string | null;
  /** Whether anything changed, or would. */
  readonly changed: boolean;
  /** Where the times come from, as a sentence; null where nobody was asked to listen. */
  readonly listened: string | null;
}

export interface RetimedEpisode {
  readonly findings: readonly Finding[];
  /** Null where nothing could be written. */
  readonly made: Made | null;
  /** So much would go that somebody must say that it is right, and nothing else stands in the way; null: no question. */
  readonly toConfirm: { readonly says: string; readonly digest: Digest } | null;
}

/**
 * The words as an editor corrected them, with the times of the transcript that is there. What it replaces is kept until
 * the episode is published. @param read reads the files of `text` and `times`.
 */
export async function retimeEpisode(options: RetimeOptions, read = sourceOf): Promise<RetimedEpisode> {
  const { sources, programme, episode, findings: ofContent } = readContent(options);
  const { transcript } = sources;
  if (programme === null || transcript === null) return { findings: ofContent, made: null, toConfirm: null };
  const old = parseTranscript(transcript);
  const encoding = encodingFrom(options);
  const cues = old.ok ? old.value : [];
  const known = [...programme.names.map(({ name }) => name), ...voicesOf(cues)];
  const times = options.times === undefined ? null : await read(options.times, { most: MOST_RAW_BYTES, encoding });
  const raw =
    times === null ? null : parseRawTranscript(times, { names: known, frameRate: programme.frameRate, encoding });
  if (raw !== null) options.recognised?.(raw);
  const text = await read(options.text, { encoding });
  const edited = parseEdited(text, known, encoding);
  const digest = digestOfTexts(sources, [text.bytes, ...(times === null ? [] : [times.bytes])]);
  if (options.confirmed !== undefined && options.confirmed !== digest) throw changedMeanwhile(options.id);
  const scope = options.segment === undefined ? null : stretchOf(options.segment, { episode, cues, sources });
  const findings = [
    ...ofContent,
    ...old.findings.filter(blocks),
    ...(raw?.findings ?? []),
    ...edited.findings,
    ...(scope?.findings ?? []),
  ];
  if (findings.some(blocks)) return { findings, made: null, toConfirm: null };
  const { inPoints } = options;
  const listen = episode === null || episode.media.length > 0 ? (options.listen ?? null) : null;
  const opened = listen === null ? null : await openListening(recordingsOf(options, sources, episode), listen);
  const stretch = scope?.stretch ?? null;
  const work = {
    bytes: transcript.bytes,
    cues,
    episode,
    programme,
    edited,
    raw: raw?.rawBlocks ?? null,
    stretch,
    inPoints,
    listening: opened?.ok === true ? opened.listening : null,
  };
  const done = await retimed(work);
  if (done === null)
    return { findings: [...findings, noRoom(options.segment, transcript.file)], made: null, toConfirm: null };
  const isRight = options.yes === true || options.confirmed !== undefined;
  const would = isRight ? null : wordsWouldGo(done, options.dryRun, transcript.file);
  if (would !== null) findings.push(would);
  if (would !== null && blocks(would)) return { findings, made: null, toConfirm: { says: would.says, digest } };
  const written = await write(done, options, { sources, transcript, episode });
  return {
    findings: [
      ...findings,
      ...told(done, transcript.file),
      ...(opened === null || episode === null ? [] : soundFindings(opened, episode, sources)),
    ],
    made: {
      ...done,
      ...written,
      file: transcript.file,
      listened: opened === null ? null : listenedText(opened, done.heard),
    },
    toConfirm: null,
  };
}

/** What is wrong with the recording, and breaks that it has elsewhere. Points that are only proposed are for people to set. */
function soundFindings(opened: Opened, episode: Episode, { episode: file }: EpisodeSources): readonly Finding[] {
  if (!opened.ok) return [];
  const at = { file: file?.file ?? "", line: 1, column: 1 };
  const { sound, listening } = opened;
  const faults = sound === null ? [] : soundFaults({ ...sound, wanted: episode.duration });
  const breaks = episode.segments.filter(({ kind, proposed }) => kind === "break" && proposed === undefined);
  const said = breaks.map(({ slug, in: start, out: end }) => ({ slug, start, end }));
  return [
    ...faults.map(({ rule, says, mend }) => findingAt(at, "warns", rule, says, mend)),
    ...againstFindings(breaksAgainst(said, listening.division, episode), () => at),
  ];
}

/** The episode's recordings that are files of this machine. */
const recordingsOf = (
  { content }: RetimeOptions,
  { folder }: EpisodeSources,
  episode: Episode | null,
): readonly string[] =>
  (episode?.media ?? []).flatMap(({ src }) => (/^[a-z][a-z0-9+.-]*:/i.test(src) ? [] : [join(content, folder, src)]));

const voicesOf = (cues: readonly TranscriptCue[]): readonly string[] => [
  ...new Set(cues.flatMap(({ pieces }) => pieces.flatMap(({ voice }) => (voice === null ? [] : [voice])))),
];

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
  await replaceTexts({ content, id, sources }, [
    ...kept,
    ...replaced.map(({ was, now }) => ({ path: nameOf(was, sources), bytes: Buffer.from(now) })),
  ]);
  return { kept: kept.map(({ path }) => `${sources.folder}/${path}`).join(" and "), changed: true };
}

const textOf = ({ bytes }: Source): string => new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes);
const nameOf = ({ file }: Source, { folder }: EpisodeSources): string => file.slice(folder.length + 1);

/**
 * Puts the texts back that were replaced last, and keeps those that are there in their stead,
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
  await replaceTexts({ ...options, sources }, swapped);
  return { findings, back: last.map(({ of }) => `${sources.folder}/${of}`) };
}
