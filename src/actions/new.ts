import { readFile, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import { DateTime } from "luxon";
import { type Drafted, draftEpisode } from "../derive/propose/draft.ts";
import { soundFaults } from "../listen/hear.ts";
import { heardBlocks } from "../listen/heardSpans.ts";
import { breaksAgainst } from "../listen/heldAgainst.ts";
import type { Division } from "../listen/kinds.ts";
import { parseClock } from "../model/clock.ts";
import type { EpisodeDraft } from "../model/draft.ts";
import { blocks, type Finding, type Place } from "../model/finding.ts";
import { MOST_BYTES, MOST_RAW_BYTES } from "../model/limits.ts";
import type { Programme } from "../model/programme.ts";
import type { PlannedSegment, RawBlock } from "../model/spoken.ts";
import { type Clock, clockMs } from "../model/units.ts";
import { UsageError } from "../model/usageError.ts";
import { isDay } from "../read/dates.ts";
import { findingAt } from "../read/findings.ts";
import { isEncoding } from "../read/incoming/decode.ts";
import { type ProbedMedia, readMedia } from "../read/incoming/media.ts";
import { notTextFault } from "../read/incoming/notText.ts";
import { parseRunningOrder } from "../read/incoming/runningOrder.ts";
import { parseRawTranscript, type Recognised } from "../read/incoming/transcript.ts";
import { openProgramme } from "../read/index.ts";
import { episodeText } from "../write/episodeText.ts";
import { writeNewFolder } from "../write/scaffold.ts";
import { type ListenOptions, listenedText, openListening } from "./listen.ts";
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
  /** What the transcript was saved as, such as windows-1252; found out unless given. */
  readonly encoding?: string;
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
  const [, year, edition = ""] = /^(\d{4})-\d\d-\d\d(-[a-z0-9]+(?:-[a-z0-9]+)*)?$/.exec(id) ?? [];
  if (year === undefined || !isDay(id.slice(0, 10))) {
    throw new UsageError(`${id} names no day: write it like 2026-10-05, or 2026-10-05-late for a second edition.`);
  }
  const { programme, findings: ofProgramme } = openProgramme(content);
  if (programme === null) return { findings: ofProgramme, made: null };
  const encoding = encodingFrom(options);
  options.progress?.(`Reading ${options.transcript}`);
  const raw = parseRawTranscript(await sourceOf(options.transcript, { most: MOST_RAW_BYTES, encoding }), {
    names: programme.names.map(({ name }) => name),
    frameRate: programme.frameRate,
    encoding,
  });
  options.progress?.("");
  options.recognised?.(raw);
  const order = await orderFrom(options, programme);
  const media = await Promise.all(options.media.map(readMedia));
  const findings = [...order.findings, ...media.flatMap((one) => one.findings), ...raw.findings];
  if (findings.some(blocks)) return { findings, made: null };
  const recordings = media.flatMap((one) => (one.ok ? [one.value] : []));
  const cuts = options.cut.map(cutOf);
  const duration = durationOf(options, recordings);
  const {
    blocks: rawBlocks,
    listened,
    faults,
    division,
  } = await heardIn(raw.rawBlocks, recordings, { ...options, cuts, duration });
  options.progress?.(`Looking for segments and making captions of ${raw.words} words`);
  const drafted = draftEpisode({
    title: options.title ?? titleFor(programme, id),
    aired: `${id.slice(0, 10)}T${programme.slot.at}:00`,
    rawBlocks,
    unplaced: raw.unplaced,
    at: { file: basename(options.transcript), line: 1, column: 1 },
    order: order.segments,
    media: recordings.map(({ src, type, bytes }) => ({ src, type, bytes })),
    duration,
    clock: options.clock,
    cuts,
    programme,
  });
  options.progress?.("");
  const assumed = assumptions(options, programme, edition);
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

/** The raw transcript with the times of its words from the recording, where somebody may listen and can. */
async function heardIn(
  blocks: readonly RawBlock[],
  recordings: readonly ProbedMedia[],
  {
    listen = null,
    clock,
    cuts,
    duration,
  }: Pick<NewOptions, "listen" | "clock"> & Pick<EpisodeDraft, "cuts"> & { readonly duration: number | null },
): Promise<{
  readonly blocks: readonly RawBlock[];
  readonly listened: string | null;
  readonly faults: readonly Finding[];
  readonly division: Division | null;
}> {
  if (listen === null) return { blocks, listened: null, faults: [], division: null };
  const files = recordings.flatMap(({ path }) => (path === null ? [] : [path]));
  const opened = await openListening(files, listen);
  const missing = clock === "aired" ? cuts.reduce((sum, { from, to }) => sum + (to - from), 0) : 0;
  const end = duration === null ? null : duration + missing;
  const heard = opened.ok ? await heardBlocks(blocks, { clock, cuts }, end, opened.listening) : null;
  const sound = opened.ok ? opened.sound : null;
  const at = { file: basename(files[0] ?? ""), line: 1, column: 1 };
  const faults = sound === null ? [] : soundFaults({ ...sound, wanted: duration });
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
  };
}

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
  { frameRate, slot }: Programme,
): Promise<{ readonly segments: readonly PlannedSegment[]; readonly findings: readonly Finding[] }> {
  if (runningOrder === undefined) return { segments: [], findings: [] };
  const read = parseRunningOrder(await sourceOf(runningOrder), { frameRate, slotAt: slot.at });
  return { segments: read.ok ? read.value : [], findings: read.findings };
}

function durationOf({ duration }: NewOptions, media: readonly ProbedMedia[]): number | null {
  if (duration === undefined) return media.find((one) => one.duration !== null)?.duration ?? null;
  const ms = parseClock(duration);
  if (ms === null || ms === 0) throw new UsageError(`--duration ${duration} is no length: write it like 27:52.`);
  return ms;
}

function cutOf(written: string): EpisodeDraft["cuts"][number] {
  const [span = "", why = "cut"] = written.split("=", 2);
  const [from = null, to = null] = span.split("-", 2).map((at) => parseClock(at.trim()));
  if (from === null || to === null || to <= from) {
    throw new UsageError(`--cut ${written} is no cut: write it like 13:20-15:05=break, in aired time.`);
  }
  return { from: clockMs(from), to: clockMs(to), why };
}

const titleFor = ({ title, language }: Programme, id: string): string =>
  `${title}, ${DateTime.fromISO(id.slice(0, 10)).setLocale(language).toLocaleString(DateTime.DATE_FULL)}`;

function assumptions(options: NewOptions, { slot }: Programme, edition: string): readonly Finding[] {
  const at = { file: `episodes/${options.id.slice(0, 4)}/${options.id}/episode.md`, line: 1, column: 1 };
  const assumed: Finding[] = [];
  if (options.title === undefined) {
    const says = "The title is the programme's and the date.";
    assumed.push(findingAt(at, "warns", "title-assumed", says, "Write one that says what was in it."));
  }
  if (edition !== "") {
    const says = `It is a second edition: ${slot.at} is when the first went out.`;
    assumed.push(findingAt(at, "warns", "aired-assumed", says, "Correct `aired` in episode.md."));
  }
  return assumed;
}
