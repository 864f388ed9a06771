import { soundIn } from "../derive/turns.ts";
import type { Episode, Segment, TranscriptCue } from "../model/episode.ts";
import { blocks, type Finding, type Place } from "../model/finding.ts";
import type { Programme } from "../model/programme.ts";
import { UsageError } from "../model/usageError.ts";
import { blocking } from "../read/findings.ts";
import { type EpisodeSources, openArchive } from "../read/index.ts";
import { findNearest, listed } from "../read/nearest.ts";
import { isPublished } from "../record/entry.ts";
import type { ToRetime } from "./retimed.ts";

/** What there is of an episode that is to be retimed. */
export interface Content {
  readonly sources: EpisodeSources;
  readonly programme: Programme | null;
  readonly episode: Episode | null;
  readonly findings: readonly Finding[];
  /** Why there is no `episode`, where there is none. */
  readonly unread: readonly Finding[];
}

/** Reads an episode that is to be retimed; what is published stands in the way. @throws UsageError where there is none. */
export function readContent({ content, id }: { readonly content: string; readonly id: string }): Content {
  const { programme, named, read, ofProgramme } = openArchive(content);
  const [folder] = named([id]);
  if (folder === undefined) throw new UsageError(`There is no episode ${id} below ${content}.`);
  const { sources, episode, ofFiles, findings } = read(folder);
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
    episode,
    findings: [...ofFiles, ...ofProgramme.filter(blocks), ...stands],
    unread: episode === null ? findings.filter(blocks) : [],
  };
}

/** The cues and the time of one segment; a segment that is not there, or is a break, is told. */
export function stretchOf(
  slug: string,
  { episode, cues, sources }: Pick<Content, "episode" | "sources"> & { readonly cues: readonly TranscriptCue[] },
): { readonly stretch: ToRetime["stretch"]; readonly findings: readonly Finding[] } {
  const at = { file: `${sources.folder}/episode.md`, line: 1, column: 1 };
  const refuse = (rule: string, place: Place, says: string, mend: string) => {
    return { stretch: null, findings: [blocking(rule, place, says, mend)] };
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
  return { stretch: { cues: numbers, whole: { start, end: Math.max(start, end) } }, findings: [] };
}

/** The segment that most of a cue lies in, as the pages have it. */
function homeOf({ start, end }: TranscriptCue, segments: readonly Segment[]): Segment | undefined {
  const shared = segments.map((segment) => Math.min(end, segment.out) - Math.max(start, segment.in));
  const most = Math.max(...shared);
  return most > 0 ? segments[shared.indexOf(most)] : segments.findLast((segment) => segment.in <= start);
}
