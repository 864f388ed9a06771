import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { join } from "node:path";
import { pipeline } from "node:stream/promises";
import { blocks, type Finding } from "../model/finding.ts";
import type { ArchivedEpisode, Programme } from "../model/programme.ts";
import { archived } from "../read/archive.ts";
import { parseEpisode } from "../read/episode.ts";
import type { EpisodeSources } from "../read/source.ts";
import { auditEpisode } from "../record/audit.ts";
import { type DayEpisode, episodeOn } from "../record/day.ts";
import { recordFile } from "../record/recordFile.ts";
import { type ShownEpisode, showEpisode } from "../record/shown.ts";
import { soundFindings } from "../record/sound.ts";
import type { Span } from "../record/span.ts";
import { spanOf } from "../record/spanOf.ts";
import { type HeldRuns, HOLDS_NOTHING, heldRuns } from "../scan/held.ts";
import type { SiteDay } from "./day.ts";
import { goneSince, lostRecord } from "./lostRecord.ts";
import { asRecordFolder } from "./recordFolder.ts";

/** What decides how an episode is shown, beside its own files. */
export interface ReadContext {
  readonly programme: Programme;
  readonly day: SiteDay;
  /** Also show what is not published. */
  readonly drafts: boolean;
  /** The moment it is, ISO 8601, whatever day is shown: no entry of a record may be dated after it. */
  readonly now: string;
}

/** An episode as it was read; `shown` is null where it is not on the site of the day, or can't be read. */
export interface SeenEpisode {
  readonly shown: ShownEpisode | null;
  /** ISO 8601; null where it can't be told. */
  readonly aired: string | null;
  /** Not published by then: whether it is shown depends on `drafts`. */
  readonly draft: boolean;
  readonly span: Span;
  readonly held: HeldRuns;
  readonly findings: readonly Finding[];
}

const ALWAYS: Span = { came: null, comes: null, lapsed: null, lapses: null };

/**
 * Parses an episode, audits it, and shows it as it stands on the day. Pure. @param found what reading its files found.
 * @param before its record as the last site has it; null: it has none.
 */
export function seeEpisode(
  sources: EpisodeSources,
  found: readonly Finding[],
  { programme, day, drafts, now }: ReadContext,
  before: string | null,
): SeenEpisode {
  const nothing = { shown: null, aired: null, draft: true, span: ALWAYS, held: HOLDS_NOTHING, findings: [] };
  const lost = lostRecord(sources);
  const unread = found.filter(({ at, level }) => level === "blocks" && at.file === recordFile(sources.folder));
  const isTold = lost.length > 0 || unread.length > 0;
  const gone = sources.record !== null || before === null || isTold ? [] : [goneSince(sources)];
  // What nobody has published is nobody's business but its makers'.
  if (sources.record === null && !drafts) return { ...nothing, findings: [...unread, ...lost, ...gone] };
  const parsed = parseEpisode(sources, programme.timezone, programme.mediaHosts);
  const { input, record } = asRecordFolder(sources, parsed, programme.timezone, new Date(now));
  const earlier =
    before === null || sources.record === null ? [] : [{ from: "the last site", record: { text: before } }];
  const audited = auditEpisode({ ...input, earlier }, record);
  const changed = audited.filter((finding) => blocks(finding) || finding.rule === "correction-not-entered");
  const findings = [...found, ...parsed.findings, ...lost, ...gone, ...changed];
  if (!parsed.ok) return { ...nothing, findings };
  const episode = archived(parsed.value, sources, programme.timezone);
  const { aired } = episode;
  const span = spanOf(episode, day.until, day.date, record);
  const out = { shown: null, aired, span, held: HOLDS_NOTHING, findings };
  if (Date.parse(aired) > Date.parse(day.until)) return { ...out, draft: false };
  const then = episodeOn(episode, day.until, drafts ? "written" : "entered", record);
  const shown = showEpisode(then, day.date);
  const { draft } = shown;
  if (draft && !drafts) return { ...out, draft };
  const sound = soundFindings(then.episode, day.date, draft);
  const held = heldRuns(episode, day, programme.language);
  return { shown, aired, draft, span, held, findings: [...findings, ...then.episode.findings, ...sound] };
}

/** An episode as it stands on a day, draft or not; null where it is aired later. */
export const dayTextOf = (episode: ArchivedEpisode, day: SiteDay): DayEpisode | null =>
  Date.parse(episode.aired) > Date.parse(day.until) ? null : episodeOn(episode, day.until);

/** A digest of all that an episode's folder holds. Files that are only listed (recordings) are streamed. */
export async function digestSources(content: string, sources: EpisodeSources): Promise<string> {
  const texts = [
    sources.episode,
    sources.transcript,
    ...sources.translations,
    ...sources.corrections,
    ...sources.merged,
    ...sources.asPublished.flatMap((own) => [own.episode, own.transcript, ...own.translations, own.reason]),
    sources.record,
  ].filter((source) => source !== null);
  const hash = createHash("sha256");
  for (const { file, bytes } of texts) hash.update(`${file}\0${bytes.length}\0`).update(bytes);
  const read = new Set(texts.map(({ file }) => file));
  for (const { file, bytes } of sources.files.filter((listed) => !read.has(listed.file))) {
    hash.update(`${file}\0${bytes}\0`);
    await pipeline(createReadStream(join(content, file)), hash, { end: false });
  }
  return hash.digest("base64url");
}
