import { readFile, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import { DateTime } from "luxon";
import type { HeardSound } from "../derive/captioning/sounds.ts";
import { type Drafted, draftEpisode } from "../derive/propose/draft.ts";
import type { Recording } from "../derive/propose/recording.ts";
import { editionOf } from "../derive/slots.ts";
import { soundFaults } from "../listen/hear.ts";
import { heardBlocks } from "../listen/heardSpans.ts";
import { breaksAgainst } from "../listen/heldAgainst.ts";
import type { Division } from "../listen/kinds.ts";
import { recordingHeard } from "../listen/recordingHeard.ts";
import { CAPTION_FIGURES } from "../model/captions.ts";
import { formatClock, parseClock } from "../model/clock.ts";
import type { EpisodeDraft } from "../model/draft.ts";
import { blocks, type Finding, type Place } from "../model/finding.ts";
import { MOST_BYTES, MOST_RAW_BYTES } from "../model/limits.ts";
import type { Programme } from "../model/programme.ts";
import { type PlannedSegment, type RawBlock, soundOf } from "../model/spoken.ts";
import { type Clock, clockMs } from "../model/units.ts";
import { UsageError } from "../model/usageError.ts";
import { isDay } from "../read/dates.ts";
import { findingAt } from "../read/findings.ts";
import { isEncoding } from "../read/incoming/decode.ts";
import { type ProbedMedia, readMedia } from "../read/incoming/media.ts";
import { notTextFault } from "../read/incoming/notText.ts";
import { parseRunningOrder } from "../read/incoming/runningOrder.ts";
import { holdsCaptions, parseRawTranscript, type Recognised } from "../read/incoming/transcript.ts";
import { openProgramme } from "../read/index.ts";
import { episodeText } from "../write/episodeText.ts";
import { writeNewFolder } from "../write/scaffold.ts";
import { type ListenOptions, listenedText, openListening } from "./listen.ts";
import { type Begins, beginsAt, dayFindings, placeOfNew, strangeHosts } from "./newDay.ts";
import { againstFindings } from "./retimeFindings.ts";

export interface NewOptions {
  readonly content: string;
  /** `2026-10-05`, or `2026-10-05-late` for a second edition. */
  readonly id: string;
  readonly transcript: string;
  readonly runningOrder?: string;
  /** Files or addresses, best first. */
  readonly media: readonly string[];
  readonly duration?: string;
  /** `13:20-15:05` or `13:20-15:05=break`. */
  readonly cut: readonly string[];
  readonly clock: Clock;
  readonly title?: string;
  /** Local time of day at which it went to air, `18:30`; left out: as the slot of its edition says. */
  readonly at?: string;
  /** The moment the command was given. */
  readonly now: Date;
  /** What the transcript was saved as, such as windows-1252; found out unless given. */
  readonly encoding?: string;
  /** Captions that people made stay as they are: their times, words and lines. */
  readonly keepCues?: boolean;
  /** How to listen to the recording; without it nobody does. */
  readonly listen?: ListenOptions | null;
  /** Told what the transcript was taken for, as soon as it is read. */
  readonly recognised?: (what: Recognised) => void;
  /** Told what is worked at, before work that may take seconds; "" when it is done. */
  readonly progress?: (doing: string) => void;
}

export interface NewEpisode {
  readonly findings: readonly Finding[];
  /** Null where nothing was written. */
  readonly made:
    | (Pick<Drafted, "draft" | "cues"> & {
        readonly folder: string;
        /** Where the times come from, as a sentence; null where nobody was asked to listen. */
        readonly listened: string | null;
      })
    | null;
}

/** `afterair new`: an episode's folder from a raw transcript, a running order and a recording. */
export async function newEpisode(options: NewOptions): Promise<NewEpisode> {
  const { id, content } = options;
  const [, year] = /^(\d{4})-\d\d-\d\d(-[a-z0-9]+(?:-[a-z0-9]+)*)?$/.exec(id) ?? [];
  if (year === undefined || !isDay(id.slice(0, 10))) {
    throw new UsageError(`${id} names no day: write it like 2026-10-05, or 2026-10-05-late for a second edition.`);
  }
  const { programme, findings: ofProgramme } = openProgramme(content);
  if (programme === null) return { findings: ofProgramme, made: null };
  const begins = beginsAt(options, programme);
  const cuts = cutsOf(options.cut);
  const encoding = encodingFrom(options);
  options.progress?.(`Reading ${options.transcript}`);
  const raw = parseRawTranscript(await sourceOf(options.transcript, { most: MOST_RAW_BYTES, encoding }), {
    names: programme.names.map(({ name }) => name),
    frameRate: programme.frameRate,
    encoding,
  });
  options.progress?.("");
  options.recognised?.(raw);
  if (options.keepCues === true) refuseToKeep(raw, options.transcript);
  const order = await orderFrom(options, programme, begins.at);
  const media = await Promise.all(options.media.map(readMedia));
  const findings = [
    ...order.findings,
    ...media.flatMap((one) => one.findings),
    ...strangeHosts(options.media, programme),
    ...raw.findings,
  ];
  if (findings.some(blocks)) return { findings, made: null };
  const recordings = media.flatMap((one) => (one.ok ? [one.value] : []));
  const duration = durationOf(options, recordings);
  const saidBlocks = raw.rawBlocks.filter(({ text }) => soundOf(text) === null);
  const {
    blocks: rawBlocks,
    listened,
    faults,
    division,
    recording,
  } = await heardIn(saidBlocks, recordings, {
    ...options,
    cuts,
    duration,
    // Without a running order no segments are looked for, and nobody is named.
    names: order.segments.length === 0 ? [] : peopleIn(programme.names),
  });
  options.progress?.(`Looking for segments and making captions of ${raw.words} words`);
  const drafted = draftEpisode({
    title: options.title ?? titleFor(programme, id, begins.at),
    aired: `${id.slice(0, 10)}T${begins.at}:00`,
    rawBlocks,
    sounds: soundsIn(raw.rawBlocks),
    kept: options.keepCues === true ? raw.rawBlocks : null,
    unplaced: raw.unplaced,
    at: { file: basename(options.transcript), line: 1, column: 1 },
    order: order.segments,
    media: recordings.map(({ src, type, bytes }) => ({ src, type, bytes })),
    duration,
    clock: options.clock,
    cuts,
    programme,
    recording,
  });
  options.progress?.("");
  const assumed = [...assumptions(options, begins), ...dayFindings(options, programme, begins)];
  const folder = join(content, "episodes", year, id);
  const isNew = await writeNewFolder(folder, [
    { name: "episode.md", text: episodeText(drafted.draft) },
    { name: "transcript.vtt", text: drafted.transcript },
    ...recordings.flatMap(({ path, src }) => (path === null ? [] : [{ name: src, from: path }])),
  ]);
  if (!isNew)
    throw new UsageError(
      `${folder} is there already, and was left as it is. Choose another edition's name, like ${id.slice(0, 10)}-late.`,
    );
  return {
    findings: [...findings, ...faults, ...drafted.findings, ...breakFindings(drafted.draft, division), ...assumed],
    made: { folder, draft: drafted.draft, cues: drafted.cues, listened },
  };
}

/** What is heard and not said, from its own beginning, or the end of the block before it, up to the next one's. */
function soundsIn(rawBlocks: readonly RawBlock[]): readonly HeardSound[] {
  return rawBlocks.flatMap(({ text, start, end }, n) => {
    const sound = soundOf(text);
    const from = start ?? rawBlocks[n - 1]?.end ?? null;
    if (sound === null || from === null) return [];
    return [{ text: sound, from, to: end ?? rawBlocks[n + 1]?.start ?? from + CAPTION_FIGURES.longest }];
  });
}

/** What can't be kept as it is. */
function refuseToKeep({ format, joined }: Recognised, file: string): void {
  const why = !holdsCaptions(format)
    ? `${file} holds no captions`
    : joined > 0
      ? `the captions of ${file} roll, and say most words twice`
      : null;
  if (why !== null) throw new UsageError(`--keep-cues keeps captions as they are, and ${why}. Leave --keep-cues out.`);
}

/** The raw transcript with the times of its words from the recording, where somebody may listen and can. */
async function heardIn(
  blocks: readonly RawBlock[],
  recordings: readonly ProbedMedia[],
  {
    listen = null,
    clock,
    cuts,
    duration,
    names,
  }: Pick<NewOptions, "listen" | "clock"> &
    Pick<EpisodeDraft, "cuts"> & { readonly duration: number | null; readonly names: readonly string[] },
): Promise<{
  readonly blocks: readonly RawBlock[];
  readonly listened: string | null;
  readonly faults: readonly Finding[];
  readonly division: Division | null;
  readonly recording: Recording | null;
}> {
  if (listen === null || recordings.length === 0)
    return { blocks, listened: null, faults: [], division: null, recording: null };
  const timed = { clock, cuts };
  const files = recordings.flatMap(({ path }) => (path === null ? [] : [path]));
  const opened = await openListening(files, { ...listen, names });
  const missing = clock === "aired" ? cuts.reduce((sum, { from, to }) => sum + (to - from), 0) : 0;
  const end = duration === null ? null : duration + missing;
  const heard = opened.ok ? await heardBlocks(blocks, timed, end, opened.listening) : null;
  const sound = opened.ok ? opened.sound : null;
  const at = { file: basename(files[0] ?? ""), line: 1, column: 1 };
  const faults = sound === null ? [] : soundFaults({ ...sound, wanted: duration });
  const recording =
    opened.ok && heard !== null
      ? recordingHeard(opened.tellApart, opened.listening.division, timed, heard.heard.names)
      : null;
  // Words without times are looked for from the first one on.
  const placeAt = (ms: number): Place =>
    (blocks.findLast(({ start }) => start !== null && start <= ms) ?? blocks[0])?.at ?? at;
  return {
    blocks: heard?.blocks ?? blocks,
    listened: listenedText(opened, heard?.heard ?? null),
    faults: [
      ...faults.map(({ rule, says, mend }) => findingAt(at, "warns", rule, says, mend)),
      ...againstFindings(heard?.heard.against ?? [], placeAt),
    ],
    division: opened.ok ? opened.listening.division : null,
    recording,
  };
}

const peopleIn = (names: Programme["names"]): readonly string[] =>
  names.flatMap(({ kind, name }) => (kind === "person" ? [name] : []));

/** Breaks that the recording has elsewhere than they were proposed. */
function breakFindings(draft: EpisodeDraft, division: Division | null): readonly Finding[] {
  if (division === null) return [];
  const { segments } = draft;
  const breaks = segments.flatMap(({ kind, slug, in: start }, n) => {
    const end = segments[n + 1]?.in;
    return kind === "break" && end !== undefined ? [{ slug, start, end }] : [];
  });
  return againstFindings(breaksAgainst(breaks, division, draft), () => ({ file: "episode.md", line: 1, column: 1 }));
}

/** How a file that the call names is read. */
export interface Sourcing {
  /** The most bytes that it may have. */
  readonly most?: number;
  /** What somebody said that it was saved as; null: nobody did. */
  readonly encoding?: string | null;
}

/** A text that the call names; not being there is a fault of the call, and so is what is no text, or larger than any. */
export async function sourceOf(
  path: string,
  { most = MOST_BYTES, encoding = null }: Sourcing = {},
): Promise<{ readonly file: string; readonly bytes: Uint8Array }> {
  const size = await stat(path).then(
    (found) => found.size,
    () => 0,
  );
  if (size > most)
    throw new UsageError(`${path} has ${size} bytes; ${most} are the most. Check that it is the right file.`);
  const bytes = await readFile(path).catch((error: unknown) => {
    throw new UsageError(`${path} can't be read: ${error instanceof Error ? error.message : String(error)}`);
  });
  const fault = await notTextFault(bytes, encoding !== null);
  if (fault !== null) throw new UsageError(`${path}: ${fault}`);
  return { file: basename(path), bytes: new Uint8Array(bytes) };
}

/** The encoding that the call names, if it names one. */
export function encodingFrom({ encoding }: Pick<NewOptions, "encoding">): string | null {
  if (encoding === undefined) return null;
  if (!isEncoding(encoding))
    throw new UsageError(
      `--encoding ${encoding} is no encoding that is known. Known are such as utf-8, utf-16le, windows-1252, iso-8859-15, koi8-r.`,
    );
  return encoding;
}

async function orderFrom(
  { runningOrder }: NewOptions,
  { frameRate }: Programme,
  slotAt: string,
): Promise<{ readonly segments: readonly PlannedSegment[]; readonly findings: readonly Finding[] }> {
  if (runningOrder === undefined) return { segments: [], findings: [] };
  const read = parseRunningOrder(await sourceOf(runningOrder), { frameRate, slotAt });
  return { segments: read.ok ? read.value : [], findings: read.findings };
}

function durationOf({ duration }: NewOptions, media: readonly ProbedMedia[]): number | null {
  if (duration === undefined) return media.find((one) => one.duration !== null)?.duration ?? null;
  const ms = parseClock(duration);
  if (ms === null || ms === 0) throw new UsageError(`--duration ${duration} is no length: write it like 27:52.`);
  return ms;
}

/** The cuts in the order of their times. */
function cutsOf(written: readonly string[]): EpisodeDraft["cuts"] {
  const cuts = written.map(cutOf).sort((a, b) => a.from - b.from);
  cuts.forEach(({ from, to }, n) => {
    const next = cuts[n + 1];
    if (next === undefined || next.from >= to) return;
    const [one, other] = [
      `${formatClock(from)}-${formatClock(to)}`,
      `${formatClock(next.from)}-${formatClock(next.to)}`,
    ];
    throw new UsageError(`--cut ${one} and --cut ${other} overlap: make one cut of the two, or correct their times.`);
  });
  return cuts;
}

function cutOf(written: string): EpisodeDraft["cuts"][number] {
  const [span = "", why = "cut"] = written.split("=", 2);
  const [from = null, to = null] = span.split("-", 2).map((at) => parseClock(at.trim()));
  if (from === null || to === null || to <= from) {
    throw new UsageError(`--cut ${written} is no cut: write it like 13:20-15:05=break, in aired time.`);
  }
  return { from: clockMs(from), to: clockMs(to), why };
}

/** The programme's name and the day; of a second edition the time too, so that the two are told apart. */
function titleFor({ title, language }: Programme, id: string, at: string): string {
  const day = DateTime.fromISO(id.slice(0, 10)).setLocale(language).toLocaleString(DateTime.DATE_FULL);
  return [title, day, ...(editionOf(id) === null ? [] : [at])].join(", ");
}

function assumptions(options: NewOptions, { at: airedAt, isOfAnother }: Begins): readonly Finding[] {
  const at = placeOfNew(options.id);
  const assumed: Finding[] = [];
  if (options.title === undefined) {
    const says = "The title is the programme's and the date.";
    assumed.push(findingAt(at, "warns", "title-assumed", says, "Write one that says what was in it."));
  }
  if (isOfAnother) {
    const says = `It is a second edition: ${airedAt} is when the first went out.`;
    assumed.push(
      findingAt(
        at,
        "warns",
        "aired-assumed",
        says,
        "Correct `aired` in episode.md, or give --at, or name the edition in `slot` of programme.md.",
      ),
    );
  }
  return assumed;
}
