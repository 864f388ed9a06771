import { join } from "node:path";
import type { Change } from "../derive/align/changes.ts";
import { type Retimed, retime } from "../derive/align/retime.ts";
import type { WordErrors } from "../derive/align/wordErrors.ts";
import { cutCues } from "../derive/cutting/cut.ts";
import { type HeardSound, placeSounds } from "../derive/cutting/sounds.ts";
import { PROPOSED_NOTE, transcriptText } from "../derive/cutting/transcriptText.ts";
import { timeWords } from "../derive/cutting/wordTimes.ts";
import { edgesOf, fitToCuts } from "../derive/found/cutEdges.ts";
import { type FoundSegment, findSegments } from "../derive/found/segments.ts";
import { castOf } from "../derive/found/speakers.ts";
import { programmeEnd } from "../derive/timeMap.ts";
import { soundIn } from "../derive/turns.ts";
import { CAPTION_FIGURES } from "../model/captions.ts";
import { formatClock } from "../model/clock.ts";
import type { TranscriptCue } from "../model/episode.ts";
import { blocks, type Finding } from "../model/finding.ts";
import type { Programme } from "../model/programme.ts";
import type { Lump, SpokenWord } from "../model/spoken.ts";
import { blocking, findingAt } from "../read/findings.ts";
import {
  type EpisodeSources,
  listEpisodes,
  parseEpisode,
  parseProgramme,
  parseTranscript,
  readEpisodeSources,
  readProgrammeSources,
} from "../read/index.ts";
import { type EditedText, parseEdited } from "../read/raw/edited.ts";
import { parseRawTranscript } from "../read/raw/transcript.ts";
import { decodeVtt, parseVtt } from "../webvtt/index.ts";
import { withInPoints } from "../write/episodeText.ts";
import { replaceText } from "../write/scaffold.ts";
import { UsageError } from "./io.ts";
import { sourceOf } from "./new.ts";

export interface RetimeOptions {
  readonly content: string;
  readonly id: string;
  /** The editor's words. */
  readonly text: string;
  /** A raw transcript to take the times from; without it the episode's own. */
  readonly times?: string;
  /** Write better in points, where those of episode.md are proposals. */
  readonly inPoints: boolean;
  /** Only tell what would change. */
  readonly dryRun: boolean;
}

export interface RetimedEpisode {
  readonly findings: readonly Finding[];
  /** Null where nothing could be written. */
  readonly made: (Pick<Retimed, "changes" | "errors" | "words"> & Written) | null;
}

interface Written {
  /** The transcript, relative to the content folder. */
  readonly file: string;
  readonly cues: number;
  /** In points that the new words speak for; null where episode.md can't be read. */
  readonly points: Points | null;
}
type Points = ReadonlyMap<string, FoundSegment & { readonly was: number }>;

/** `afterair retime`: the words as an editor corrected them, with the times of the transcript that is there. */
export async function retimeEpisode(options: RetimeOptions): Promise<RetimedEpisode> {
  const { sources, programme, findings: ofContent } = readContent(options);
  const { transcript } = sources;
  if (programme === null || transcript === null) return { findings: ofContent, made: null };
  const old = parseTranscript(transcript);
  const raw = options.times === undefined ? null : parseRawTranscript(await sourceOf(options.times));
  const cues = old.ok ? old.value : [];
  const known = [...programme.names.map(({ name }) => name), ...voicesOf(cues)];
  const edited = parseEdited(await sourceOf(options.text), known);
  const findings = [...ofContent, ...old.findings.filter(blocks), ...(raw?.findings ?? []), ...edited.findings];
  if (findings.some(blocks)) return { findings, made: null };
  const timed = raw === null ? timeWords(lumpsOf(cues), { end: null }) : timeWords(raw.lumps, { end: null });
  const retimed = retime(timed, edited.words);
  const { words, points, edges } = placed(sources, programme, retimed.words);
  const { text, count, unplaced } = composed({
    words,
    edges,
    edited,
    cues,
    programme,
    notes: notesOf(transcript.bytes),
  });
  if (!options.dryRun) await replaceText(join(options.content, transcript.file), text);
  if (options.inPoints && !options.dryRun && points !== null && sources.episode !== null) {
    const before = new TextDecoder().decode(sources.episode.bytes);
    await replaceText(join(options.content, sources.episode.file), withInPoints(before, points));
  }
  const told = [
    ...unplaced.map((sound) => soundFinding(sound, transcript.file)),
    ...(retimed.isLeast ? [] : [unsure(transcript.file)]),
  ];
  const { changes, errors } = retimed;
  return {
    findings: [...findings, ...told],
    made: { file: transcript.file, changes, errors, words, cues: count, points },
  };
}

function readContent({ content, id }: RetimeOptions): {
  readonly sources: EpisodeSources;
  readonly programme: Programme | null;
  readonly findings: readonly Finding[];
} {
  const { episodes } = listEpisodes(content);
  const own = readProgrammeSources(content);
  const folder = episodes.find((episode) => episode.id === id);
  if (folder === undefined) throw new UsageError(`There is no episode ${id} below ${content}.`);
  const { sources, findings: ofFiles } = readEpisodeSources(content, folder);
  const { programme, findings } = parseProgramme(own.sources);
  const at = { file: `${folder.folder}/transcript.vtt`, line: 1, column: 1 };
  const { transcript, record } = sources;
  const stands: Finding[] = [];
  if (transcript === null) {
    stands.push(blocking("transcript-missing", at, "This episode has no transcript.", "Make one with `afterair new`."));
  }
  if (record !== null && record.bytes.length > 0) {
    const says = "This transcript is published: it is never edited.";
    stands.push(blocking("transcript-published", at, says, "Correct it with `afterair correct`."));
  }
  return { sources, programme, findings: [...ofFiles, ...findings.filter(blocks), ...stands] };
}

interface Placed {
  readonly words: readonly SpokenWord[];
  readonly points: Points | null;
  /** Where the recording is cut. */
  readonly edges: readonly number[];
}

/** The segments of episode.md found again in the new words, and both fitted to its cuts. */
function placed(sources: EpisodeSources, programme: Programme, words: readonly SpokenWord[]): Placed {
  const read = parseEpisode(sources, programme.timezone);
  if (!read.ok) return { words, points: null, edges: [] };
  const { segments, cuts, clock } = read.value;
  const { echoes } = castOf(words, programme.names);
  const order = segments.map((segment) => ({ ...segment, in: null }));
  const found = findSegments({ words, order, echoes, end: programmeEnd(read.value) });
  const missing = clock === "aired" ? cuts : [];
  const fitted = fitToCuts(words, found, missing);
  const points = segments.flatMap(({ slug, in: was }, k) => {
    const here = fitted.found[k];
    return here === undefined || k === 0 ? [] : [[slug, { ...here, was }] as const];
  });
  return { words: fitted.words, points: new Map(points), edges: edgesOf(missing) };
}

const voicesOf = (cues: readonly TranscriptCue[]): readonly string[] => [
  ...new Set(cues.flatMap(({ parts }) => parts.flatMap(({ voice }) => (voice === null ? [] : [voice])))),
];

/** Cues of speech as lumps. They stand longer than their words, so that their ends are left open. */
function lumpsOf(cues: readonly TranscriptCue[]): readonly Lump[] {
  return cues.flatMap((cue) => {
    if (soundIn(cue) !== null) return [];
    const spoken = cue.parts.filter(({ words }) => words.trim() !== "");
    return spoken.map(({ voice, words }, n) => ({
      start: n === 0 ? cue.start : null,
      end: null,
      voice,
      text: words.replace(/\s+/g, " ").trim(),
      at: cue.at,
    }));
  });
}

/** Notes of the old transcript that still hold. */
const notesOf = (bytes: Uint8Array): readonly string[] =>
  parseVtt(decodeVtt(bytes).text).blocks.flatMap((block) =>
    block.kind === "note" && block.words !== PROPOSED_NOTE ? [block.words] : [],
  );

interface ToCompose extends Pick<Placed, "words" | "edges"> {
  readonly edited: EditedText;
  readonly cues: readonly TranscriptCue[];
  readonly programme: Programme;
  readonly notes: readonly string[];
}

function composed({ words, edges, edited, cues, programme, notes }: ToCompose) {
  const figures = programme.captions ?? CAPTION_FIGURES;
  const spoken = cutCues(words, { figures, edges, names: programme.names.map(({ name }) => name) });
  const kept = cues.flatMap((cue): HeardSound[] => {
    const text = soundIn(cue);
    return text === null || edited.sounds.some((sound) => sound.text === text)
      ? []
      : [{ text, from: cue.start, to: cue.end }];
  });
  const put = edited.sounds.map(({ text, before }): HeardSound => {
    const from = words[before - 1]?.end ?? 0;
    return { text, from, to: words[before]?.start ?? from + figures.longest };
  });
  const { cues: all, unplaced } = placeSounds(spoken, [...put, ...kept], figures);
  const lost = unplaced.map(({ text, from }) => `No room for a sound at ${formatClock(from)}: [${text}]`);
  return { text: transcriptText(all, [...notes, ...lost], false), count: all.length, unplaced };
}

function soundFinding({ text, from }: HeardSound, file: string): Finding {
  const says = `There is no room between the words for [${text}].`;
  const mend = "It is kept in a note: put it in by hand.";
  return findingAt({ file, line: 1, column: 1 }, "warns", "sound-unplaced", says, mend, from / 1000);
}

function unsure(file: string): Finding {
  const says = "The two texts are too long to be sure that no better alignment of them exists.";
  const mend = "Look at a few captions towards the end; where they drift, retime the text in parts.";
  return findingAt({ file, line: 1, column: 1 }, "warns", "alignment-unsure", says, mend);
}

/** Runs of this many words are told one by one. */
const A_LINE = 4;

/** What was made, for people. */
export function retimedText(made: NonNullable<RetimedEpisode["made"]>, dryRun: boolean): string {
  const { file, changes, errors, words, cues, points } = made;
  const told = changes.filter((change) => change.words >= A_LINE);
  const few = changes.length - told.length;
  return [
    `${file}: ${words.length} words in ${cues} cues${dryRun ? " (not written)" : ""}.`,
    errorsText(errors),
    ...told.map(changeText),
    ...pointTexts(points),
    ...(few > 0 ? [`${few} shorter runs of words were put in or left out.`] : []),
  ].join("\n");
}

function errorsText({ words, substitutions, deletions, insertions, rate }: WordErrors): string {
  if (rate === null) return "There is no word error rate: the new text has no words.";
  return (
    `Word error rate of the old words: ${(rate * 100).toFixed(1)} % of ${words} (${substitutions} wrong, ` +
    `${deletions} missing, ${insertions} too many; small letters, no punctuation, numerals as words).`
  );
}

/** In points that moved by more than this are told: milliseconds. */
const MOVED = 500;

const pointTexts = (points: Points | null): readonly string[] =>
  [...(points ?? [])]
    .filter(([, { in: start, was }]) => Math.abs(start - was) > MOVED)
    .map(
      ([slug, { in: start, was, confidence }]) =>
        `In point of ${slug}: ${formatClock(was)}, but the new words speak for ${formatClock(start)} (${Math.round(confidence * 100)} % sure).`,
    );

const SAYS: Readonly<Record<Change["kind"], string>> = { deleted: "left out", inserted: "put in", moved: "moved" };

function changeText({ kind, text, words, at }: Change): string {
  const shown = text.length > 70 ? `${text.slice(0, 69)}…` : text;
  return `${formatClock(at).padStart(8)}  ${SAYS[kind]}, ${words} words: ${shown}`;
}
