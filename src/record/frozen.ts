import type { Episode, Segment, TranscriptCue } from "../model/episode.ts";
import { canonicalJson } from "./canonical.ts";
import { type Digest, digestOfValue } from "./digest.ts";
import { WITHDRAWN_TITLE } from "./laid.ts";
import { goesWith, type WithdrawnStretch } from "./stretch.ts";

/** A translation of the transcript, as it lies in the episode's folder. */
export interface Translation {
  /** `transcript.cy.vtt`. */
  readonly name: string;
  readonly digest: Digest;
  readonly cues: readonly TranscriptCue[];
}

/** What of an episode is published and frozen, as it lies in its folder. */
export interface Content {
  readonly episode: Episode;
  /** Of the bytes of transcript.vtt. */
  readonly transcript: Digest;
  readonly translations: readonly Translation[];
}

/**
 * The editorial fields that freeze with publication: every word and time of episode.md that readers see. Not frozen:
 * where the media lie, rights and cautions (what may be shown changes with time), planned durations, and the story that
 * a segment is put into, which may begin with what comes later.
 */
export function frozenFields(episode: Episode): object {
  const { id, title, summary, aired, duration, clock, notes, cuts } = episode;
  return {
    afterair: "fields 1",
    episode: id,
    title,
    summary,
    aired,
    duration,
    clock,
    cuts: cuts.map(({ from, to, why }) => ({ from, to, why })),
    notes,
    segments: episode.segments.map(frozenSegment),
  };
}

const frozenSegment = ({ slug, kind, title, in: from, out, by, topics, places, summary }: Segment): object => ({
  slug,
  kind,
  title,
  in: from,
  out,
  by,
  topics,
  places,
  summary,
});

export const fieldsDigest = (episode: Episode): Digest => digestOfValue(frozenFields(episode));

/** What an entry says of frozen content. */
interface Entered {
  readonly transcript: Digest;
  readonly fields: Digest;
  readonly translations: Readonly<Record<string, Digest>>;
  readonly remains: Digest | null;
  readonly withdrawn: readonly WithdrawnStretch[];
}

/** The digests of translations, by name. */
export const translationsOf = ({ translations }: Content): Readonly<Record<string, Digest>> =>
  Object.fromEntries(translations.map(({ name, digest }) => [name, digest]));

/** Whether content is to the byte what an entry names. */
export const isAsEntered = (content: Content, entry: Entered): boolean =>
  content.transcript === entry.transcript &&
  fieldsDigest(content.episode) === entry.fields &&
  canonicalJson(translationsOf(content)) === canonicalJson(entry.translations);

/**
 * Whether content is what an entry names with withdrawn words cut out of it: each file is as it was entered, or without
 * any of them, and all that stays is the same. A file that was cut in part could have been changed beside the cut.
 */
export function isCutFrom(content: Content, entry: Entered): boolean {
  const { withdrawn, remains } = entry;
  if (remains === null || remainsDigest(content, withdrawn) !== remains) return false;
  const isCut = (cues: readonly TranscriptCue[]) => staying(cues, withdrawn).length === cues.length;
  return (
    (content.transcript === entry.transcript || isCut(content.episode.cues)) &&
    (fieldsDigest(content.episode) === entry.fields || isBare(content.episode, withdrawn)) &&
    content.translations.every(({ name, digest, cues }) => digest === entry.translations[name] || isCut(cues))
  );
}

/** Whether nothing is said of withdrawn segments but that. */
function isBare({ segments }: Episode, withdrawn: readonly WithdrawnStretch[]): boolean {
  const slugs = new Set(withdrawn.map(({ segment }) => segment));
  return segments.every(
    ({ slug, title, by, topics, places, summary }) =>
      !slugs.has(slug) ||
      (title === WITHDRAWN_TITLE && summary === null && [by, topics, places].every((own) => own.length === 0)),
  );
}

/**
 * The digest of all that stays when withdrawn segments are cut out of the files: the fields with those segments bare
 * (slug, kind, times), and every cue that does not lie in them. The same before and after the cut; nothing can be
 * guessed from it about the words cut. Null where the whole episode is withdrawn: then nothing needs to stay.
 */
export function remainsDigest({ episode, translations }: Content, gone: readonly WithdrawnStretch[]): Digest | null {
  if (gone.length === 0 || gone.some(({ segment }) => segment === null)) return null;
  const slugs = new Set(gone.map(({ segment }) => segment));
  const segments = episode.segments.map((segment) =>
    slugs.has(segment.slug)
      ? { slug: segment.slug, kind: segment.kind, in: segment.in, out: segment.out }
      : frozenSegment(segment),
  );
  return digestOfValue({
    ...frozenFields(episode),
    afterair: "remains 1",
    segments,
    cues: staying(episode.cues, gone),
    translations: translations.map(({ name, cues }) => ({ name, cues: staying(cues, gone) })),
  });
}

const staying = (cues: readonly TranscriptCue[], gone: readonly WithdrawnStretch[]): readonly object[] =>
  cues.filter((cue) => !gone.some((stretch) => goesWith(cue, stretch))).map(frozenCue);

const frozenCue = ({ id, start, end, settings, pieces }: TranscriptCue): object => ({
  id,
  start,
  end,
  settings,
  parts: pieces.map(({ voice, language, words }) => ({ voice, language, words })),
});
