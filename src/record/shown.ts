import { type Holding, holdingOf, homesIn } from "../derive/holdings.ts";
import { type Speech, turnsOf } from "../derive/turns.ts";
import type { Segment } from "../model/episode.ts";
import { grouped } from "../model/grouped.ts";
import type { MergedRecord } from "../model/programme.ts";
import { type MediaSpan, mediaSpan } from "../model/timeMap.ts";
import type { ClockMs } from "../model/units.ts";
import type { DayEpisode, DayText, HistoryLine } from "./day.ts";
import { giveCorrections } from "./giveCorrections.ts";
import type {
  GivenChange,
  GivenCorrection,
  GivenCue,
  GivenEpisode,
  GivenHistory,
  GivenLaid,
  GivenMark,
  GivenPiece,
  GivenSegment,
  Giving,
  Unheard,
} from "./given.ts";
import { heldOn } from "./held.ts";
import type { FieldChange, LaidCue, LaidEpisode, LaidSegment, Mark } from "./laid.ts";
import { givingOf } from "./sound.ts";

/** A correction as it concerns one segment. */
export interface OwnCorrection {
  readonly laid: GivenLaid;
  /** Where in this segment, in the episode's clock: its first mark here, or the moment it names; null for the whole. */
  readonly clock: ClockMs | null;
  /** Whether words of this segment carry its mark. */
  readonly marked: boolean;
}

/** A segment as the public may have it on a day. */
export interface ShownSegment {
  readonly segment: GivenSegment;
  readonly holding: Holding;
  /** Its stretch of the recording; null where all of it was cut. */
  readonly span: MediaSpan | null;
  /** Empty where its words may not be given. */
  readonly cues: readonly GivenCue[];
  /** The same as turns and sounds. */
  readonly speech: readonly Speech<GivenPiece>[];
  /** Made for this segment, or marking words of it; in date order. */
  readonly corrections: readonly OwnCorrection[];
}

/** What may be given of a text. */
export interface ShownText {
  readonly episode: GivenEpisode;
  /** The local date it was aired, `2026-10-05`. */
  readonly date: string;
  /** How the recording may be given. Where it may not be given at all, `episode.media` is empty. */
  readonly giving: Giving;
  /** Whether the recording has pictures, given or not. */
  readonly video: boolean;
  readonly segments: readonly ShownSegment[];
  /** What the player steps over, in the order of the recording. */
  readonly unheard: readonly Unheard[];
}

/** An episode as the public may have it on a day. Everything that leaves the house is made from this. */
export interface ShownEpisode extends ShownText {
  /** It was not published then. */
  readonly draft: boolean;
  readonly history: readonly GivenHistory[];
  /** The lines of its record until then, byte for byte; "" for a draft. It holds digests, never words. */
  readonly record: string;
  /** Records that became part of it, as the like of it. */
  readonly merged: readonly MergedRecord[];
  /** The texts as they were published, as far as they may be given. */
  readonly texts: readonly { readonly seq: number; readonly shown: ShownText }[];
}

/** Takes away what may not be given on `day` (a local date). */
export function showEpisode(own: DayEpisode, day: string): ShownEpisode {
  const inForce = showText(own, day, own.draft);
  const texts = own.texts.map(({ seq, ...text }) => {
    return { seq, shown: text.episode === own.episode ? inForce : showText(text, day, false) };
  });
  const { draft, record, merged } = own;
  return { ...inForce, draft, record, merged, history: own.history.map(giveHistory), texts };
}

function giveHistory({ correction, ...line }: HistoryLine): GivenHistory {
  const { id, kind, segment } = correction ?? {};
  const given = id === undefined || kind === undefined ? null : { id, kind, segment: segment ?? null };
  return { ...line, correction: given };
}

/**
 * What may be given of a text on `day`, a local date. A cue goes with the segment that most of its time lies in; one
 * outside all segments goes with the nearest before it, so that no word is lost.
 * @param draft whether it is told what is only proposed: nothing published says so.
 */
export function showText(text: DayText, day: string, draft = false): ShownText {
  const { episode } = text;
  const held = heldOn(text, day);
  const holdings = new Map(episode.segments.map((segment) => [segment.slug, holdingOf(segment, episode, day)]));
  const silent = episode.segments.flatMap(({ slug }) => (holdings.get(slug)?.words === false ? [slug] : []));
  const laid = giveCorrections(episode, held, new Set(silent));
  const byId = new Map(laid.map((one) => [one.correction.id, one.correction]));
  const bySegment = new Map<string, GivenCue[]>(episode.segments.map(({ slug }) => [slug, []]));
  const homeOf = homesIn(episode.segments);
  for (const cue of episode.cues) {
    if (held.cues.has(cue.place)) continue;
    const home = homeOf(cue);
    if (home !== undefined) bySegment.get(home.slug)?.push(giveCue(cue, byId, draft));
  }
  const giving = givingOf(episode, day);
  const correctionsOn = correctionsIn(laid);
  return {
    episode: giveEpisode({ ...episode, cuts: cutsGiven(episode, draft) }, laid, byId, giving),
    date: episode.aired.slice(0, 10),
    unheard: held.sound,
    giving,
    video: episode.media.some(({ type }) => type.startsWith("video/")),
    segments: episode.segments.map((segment) => {
      const cues = bySegment.get(segment.slug) ?? [];
      return {
        segment: giveSegment(segment, byId, draft),
        holding: holdings.get(segment.slug) ?? holdingOf(segment, episode, day),
        span: mediaSpan(segment.in, segment.out, episode),
        cues,
        speech: turnsOf(cues),
        corrections: correctionsOn(segment, cues),
      };
    }),
  };
}

type Given = ReadonlyMap<string, GivenCorrection>;

function giveEpisode(episode: LaidEpisode, laid: readonly GivenLaid[], given: Given, giving: Giving): GivenEpisode {
  const { id, title, summary, aired, duration, media, clock, cuts, notes, folder, at, withdrawn, changes } = episode;
  return {
    id,
    title,
    summary,
    aired,
    duration,
    media: giving === "off" ? [] : media,
    clock,
    cuts,
    notes,
    folder,
    at,
    withdrawn: withdrawn !== null,
    changes: giveChanges(changes, given),
    laid,
  };
}

function giveSegment(own: LaidSegment, given: Given, draft: boolean): GivenSegment {
  const { slug, kind, title, in: start, out, by, topics, places, summary, cautions, rights, withdrawn, changes } = own;
  const { until = null, holder = null, show = "nothing", sound } = rights ?? {};
  const told = rights === null ? null : { until, holder, show, sound: sound?.is ?? null };
  return {
    slug,
    kind,
    title,
    in: start,
    out,
    by,
    topics,
    places,
    summary,
    cautions,
    rights: told,
    withdrawn: withdrawn !== null,
    ...(own.story === undefined ? {} : { story: own.story }),
    ...(draft && own.proposed !== undefined ? { proposed: true as const } : {}),
    changes: giveChanges(changes, given),
  };
}

const cutsGiven = ({ cuts }: LaidEpisode, draft: boolean): LaidEpisode["cuts"] =>
  draft ? cuts : cuts.map(({ from, to, why, at }) => ({ from, to, why, at }));

const giveChanges = (changes: readonly FieldChange[], given: Given): readonly GivenChange[] =>
  changes.flatMap(({ correction: { id }, was, now }) => {
    const correction = given.get(id);
    return correction === undefined ? [] : [{ correction, was, now }];
  });

function giveCue({ id, start, end, settings, at, pieces }: LaidCue, given: Given, draft: boolean): GivenCue {
  return { id, start, end, settings, at, pieces: pieces.map((piece) => givePiece(piece, given, draft)) };
}

/** A voice that a correction gave is no guess. */
function givePiece(piece: LaidCue["pieces"][number], given: Given, draft: boolean): GivenPiece {
  const { voice, language, words, runs } = piece;
  const proposed = draft && piece.proposed === true && piece.speaker === null ? { proposed: true as const } : {};
  return {
    voice,
    ...proposed,
    language,
    words,
    runs: runs.map(({ text, mark }) => ({ text, mark: giveMark(mark, given) })),
  };
}

function giveMark(mark: Mark | null, given: Given): GivenMark | null {
  const correction = mark === null ? undefined : given.get(mark.correction.id);
  return mark === null || correction === undefined ? null : { correction, occurrence: mark.occurrence, was: mark.was };
}

/** Looks up the corrections that concern a segment: made for it, or marking words of it; in date order. */
function correctionsIn(
  laid: readonly GivenLaid[],
): (segment: Pick<Segment, "slug">, cues: readonly GivenCue[]) => readonly OwnCorrection[] {
  const places = new Map(laid.map(({ correction }, place) => [correction.id, place]));
  const madeFor = grouped([...laid.keys()], (place) => laid[place]?.segment ?? null);
  return ({ slug }, cues) => {
    const marked = new Map<number, ClockMs>();
    for (const { start, pieces } of cues)
      for (const { runs } of pieces)
        for (const { mark } of runs) {
          const place = mark === null ? undefined : places.get(mark.correction.id);
          if (place !== undefined && !marked.has(place)) marked.set(place, start);
        }
    const own = [...new Set([...marked.keys(), ...(madeFor.get(slug) ?? [])])].sort((a, b) => a - b);
    return own.flatMap((place): readonly OwnCorrection[] => {
      const [one, first] = [laid[place], marked.get(place)];
      if (one === undefined) return [];
      return [{ laid: one, clock: first ?? one.clock, marked: first !== undefined }];
    });
  };
}
