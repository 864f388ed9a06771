import { timedWords } from "../../derive/propose/again.ts";
import { soundIn } from "../../derive/turns.ts";
import { CAPTION_FIGURES } from "../../model/captions.ts";
import type { DeskCaption, DeskChanged, DeskWords } from "../../model/desk.ts";
import type { DeskOrder } from "../../model/deskOrder.ts";
import type { Episode, TranscriptCue } from "../../model/episode.ts";
import type { Programme } from "../../model/programme.ts";
import { pointText } from "../../model/proposal.ts";
import { programmeEnd } from "../../model/timeMap.ts";
import { UsageError } from "../../model/usageError.ts";
import { parseEpisode, type Source } from "../../read/index.ts";
import { isPublished } from "../../record/entry.ts";
import { cuePieces, decodeVtt, parseVtt } from "../../webvtt/index.ts";
import { timesOf } from "../order.ts";
import { type Content, readContent } from "../retimeContent.ts";
import { digestOfTexts } from "../texts.ts";
import { firstFault } from "./firstFault.ts";
import { type Journal, readJournal } from "./journal.ts";
import { type PlacedCue, standing } from "./standing.ts";

/** An episode whose words can be worked on. */
export interface Opened {
  readonly content: string;
  readonly id: string;
  readonly sources: Content["sources"];
  readonly transcript: Source;
  readonly programme: Programme;
  /** Once published: as its corrections let it stand now, and so without what is withdrawn. */
  readonly episode: Episode;
  /** Those of `episode`, each with its number in the file. */
  readonly cues: readonly PlacedCue[];
  /** Cues that hold more than the words of one voice, by their numbers: they are changed in the file alone. */
  readonly kept: ReadonlySet<number>;
  readonly journal: Journal;
  readonly published: boolean;
}

/** Reads an episode for the desk, as it stands now. @throws UsageError with what stands in the way, where it can't be read. */
export async function openWords(content: string, id: string, now: Date): Promise<Opened> {
  const { sources, programme, episode, findings, unread } = readContent({ content, id });
  const { transcript, record } = sources;
  if (programme === null || episode === null || transcript === null)
    throw new UsageError(firstFault([...unread, ...findings]) ?? `${id} can't be read.`);
  const journal = await readJournal(content, sources.folder, versionOf(sources));
  const shown = standing(episode, record?.bytes ?? null, now);
  return {
    content,
    id,
    sources,
    transcript,
    programme,
    episode: shown,
    cues: shown.cues,
    kept: keptIn(transcript),
    journal,
    published: isPublished(record?.bytes ?? null),
  };
}

/** A draft after its texts were written: what `openWords` would read, without going to the disk again. */
export function afterWriting(before: Opened, sources: Content["sources"], journal: Journal, now: Date): Opened {
  const { timezone, mediaHosts } = before.programme;
  const { transcript } = sources;
  const read = parseEpisode(sources, timezone, mediaHosts);
  if (!read.ok || transcript === null) throw new UsageError(firstFault(read.findings) ?? `${before.id} can't be read.`);
  const isSame = transcript.bytes === before.transcript.bytes;
  const shown = standing(read.value, null, now);
  return {
    ...before,
    sources,
    transcript,
    episode: shown,
    cues: shown.cues,
    kept: isSame ? before.kept : keptIn(transcript),
    journal,
  };
}

/** Tags that a caption's voice and language are written by; others would be lost with new words. */
const VOICE_TAG = /^<\/?(?:v|lang)(?:[.\s>]|$)/;

function keptIn({ bytes }: Source): ReadonlySet<number> {
  const file = parseVtt(decodeVtt(bytes).text);
  return new Set(
    file.cues.flatMap((cue, n) => {
      const pieces = cuePieces(file, cue);
      const isOne = pieces.every(({ voice, language }) => voice === pieces[0]?.voice && language === null);
      const isPlain = (cue.text.match(/<[^>]*>?/g) ?? []).every((tag) => VOICE_TAG.test(tag));
      return isOne && isPlain && cue.settings.region === null ? [] : [n];
    }),
  );
}

/** Tells apart what an episode's texts may be. */
export const versionOf = (sources: Parameters<typeof digestOfTexts>[0]): string => digestOfTexts(sources);

/** What the desk's page is told of the words. */
export const wordsOf = (opened: Opened): DeskWords => ({
  ...restOf(opened),
  captions: opened.cues.map((cue) => captionOf(cue, opened)),
});

/** What the page is told after a change: captions that are as they were it has already. */
export function changedWords(before: Opened, after: Opened): DeskChanged {
  const [was, now] = [before, after].map((opened) => opened.cues.map((cue) => keyOf(cue, opened)));
  const { at, out, put } = differing(was ?? [], now ?? []);
  return {
    ...restOf(after),
    captions: { from: at, out, now: after.cues.slice(at, at + put).map((cue) => captionOf(cue, after)) },
  };
}

/** All that the page is told of a caption depends on, but for its number. */
const keyOf = ({ start, end, pieces, place }: PlacedCue, { kept }: Opened): string =>
  JSON.stringify([start, end, pieces, kept.has(place)]);

/** Where two lists differ: `out` of the first stand at `at` where the second has `put` others. */
function differing(
  was: readonly string[],
  now: readonly string[],
): { readonly at: number; readonly out: number; readonly put: number } {
  const most = Math.min(was.length, now.length);
  let at = 0;
  while (at < most && was[at] === now[at]) at++;
  let same = 0;
  while (same < most - at && was[was.length - 1 - same] === now[now.length - 1 - same]) same++;
  return { at, out: was.length - at - same, put: now.length - at - same };
}

function restOf(opened: Opened): Omit<DeskWords, "captions"> {
  const { id, episode, programme, sources, cues, journal, published } = opened;
  const { segments, cuts, clock, media } = episode;
  return {
    id,
    title: episode.title,
    version: versionOf(sources),
    published,
    end: Math.max(
      programmeEnd(episode),
      cues.reduce((last, { end }) => Math.max(last, end), 0),
    ),
    clock,
    cuts: cuts.map(({ from, to }) => ({ from, to })),
    media: media.map(({ src, type }) => ({ src, type })),
    segments: segments.map(({ slug, title, kind, in: start, out, proposed }) => ({
      slug,
      title,
      kind,
      in: start,
      out,
      proposed: proposed !== undefined,
    })),
    order: orderOf(programme, episode),
    speakers: speakersOf(cues, episode, programme),
    fastest: (programme.captions ?? CAPTION_FIGURES).fastest,
    canUndo: journal.done.length > 0,
    canRedo: journal.undone.length > 0,
  };
}

/** Milliseconds of a frame where the programme names no rate: common practice, no source. */
const FRAME = 40;

function orderOf(programme: Programme, episode: Episode): DeskOrder {
  const { lines, total, overSlot } = timesOf(programme, episode);
  return {
    frame: programme.frameRate === null ? FRAME : 1000 / programme.frameRate,
    lines: lines.map(({ planned, actual, over, backTime }, n) => {
      const { proposed, rights = null, cautions = [], edgesHeard = false } = episode.segments[n] ?? {};
      const edge = proposed?.edgeState ?? null;
      const sureness = edge === null ? null : pointText(edge);
      const { until = null, holder = null } = rights ?? {};
      const withheld = rights?.withheld === true ? rights.show : null;
      return { planned, actual, over, backTime, sureness, withheld, until, holder, cautions, edgesHeard };
    }),
    total,
    overSlot,
    cuts: episode.cuts.map(({ from, to, why, proposed }) => ({ from, to, why, proposed: proposed === true })),
  };
}

function captionOf(cue: PlacedCue, { kept }: Opened): DeskCaption {
  const { place: n, start, end, pieces } = cue;
  const [first] = pieces;
  const words = timedWords([cue]);
  return {
    n,
    start,
    end,
    voice: first?.voice ?? null,
    proposed: pieces.some(({ proposed }) => proposed === true),
    text: words.map(({ text }) => text).join(" "),
    isSound: soundIn(cue) !== null,
    isMixed: kept.has(n),
    words: words.map((word) => ({ text: word.text, start: word.start, end: Math.min(word.end, end) })),
  };
}

function speakersOf(cues: readonly TranscriptCue[], episode: Episode, programme: Programme): readonly string[] {
  const heard = cues.flatMap(({ pieces }) => pieces.flatMap(({ voice }) => (voice === null ? [] : [voice])));
  const people = programme.names.filter(({ kind }) => kind === "person").map(({ name }) => name);
  const planned = episode.segments.flatMap(({ by }) => by);
  return [...new Set([...programme.presenters, ...planned, ...heard, ...people])];
}
