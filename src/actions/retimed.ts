import { type Aligned, align, type WrittenWord } from "../derive/align/align.ts";
import { type ExistingCue, type Recued, recue, wordsIn } from "../derive/align/recue.ts";
import type { Span } from "../derive/captioning/lending.ts";
import { ALWAYS } from "../derive/captioning/room.ts";
import { type HeardSound, placeSounds } from "../derive/captioning/sounds.ts";
import { PROPOSED_NOTE } from "../derive/captioning/transcriptText.ts";
import { heardOutside, timeWords } from "../derive/captioning/wordTimes.ts";
import { findAgain, type Points, rawBlocksOf, timedWords } from "../derive/propose/again.ts";
import { edgesOf, seamClues, silentSpans } from "../derive/propose/cutEdges.ts";
import { castOf } from "../derive/propose/speakers.ts";
import { soundIn } from "../derive/turns.ts";
import { type HeardSpans, heardSpans, type Listening } from "../listen/heardSpans.ts";
import { CAPTION_FIGURES, type CaptionFigures } from "../model/captions.ts";
import { formatClock } from "../model/clock.ts";
import type { Episode, TranscriptCue } from "../model/episode.ts";
import type { Programme } from "../model/programme.ts";
import type { RawBlock } from "../model/spoken.ts";
import { programmeEnd } from "../model/timeMap.ts";
import type { EditedText } from "../read/incoming/edited.ts";
import { cueText, decodeVtt, parseVtt, replaceCues } from "../webvtt/index.ts";

/** An editor's words, and the transcript that they are to stand in. */
export interface ToRetime {
  /** The transcript, and its cues in the order of the file. */
  readonly bytes: Uint8Array;
  readonly cues: readonly TranscriptCue[];
  /** Null where episode.md can't be read: then nothing is known of breaks and cuts. */
  readonly episode: Episode | null;
  readonly programme: Programme;
  readonly edited: EditedText;
  /** A raw transcript to take the times from; null: the cues'. */
  readonly raw: readonly RawBlock[] | null;
  /** The cues that the words are for, by their numbers, and the time that is theirs; null: all. */
  readonly stretch: { readonly cues: ReadonlySet<number>; readonly whole: Span } | null;
  /** Proposed in points will move: a break among them holds no words up. */
  readonly inPoints: boolean;
  /** The recording; null: nobody listens, and all times come from the transcript. */
  readonly listening: Listening | null;
}

/** The transcript with the words in it, and what became of those that were there. */
export interface RetimedText extends Pick<Aligned, "changes" | "errors" | "isLeast"> {
  readonly text: string;
  readonly words: number;
  readonly cues: number;
  /** Sounds that the words leave no room for: they are in a note. */
  readonly unplaced: readonly HeardSound[];
  /** In points that the words speak for; null where nothing is known of the segments, or only a part is new. */
  readonly points: Points | null;
  /** Words that were there, and how many of them are not in the new text. */
  readonly present: number;
  readonly gone: number;
  /** What was heard of the words in the recording; null where nobody listened, or it seems to be another one. */
  readonly heard: Omit<HeardSpans, "spans"> | null;
  /** The first cue that stands where nobody speaks, because the words have no other room. */
  readonly crowded: ExistingCue | null;
}

/** A cue with its number in the file. */
interface Numbered extends TranscriptCue {
  readonly n: number;
}

/** Puts an editor's words into a transcript, with the times that are known. Null where a part has no room for them. */
export async function retimed(from: ToRetime): Promise<RetimedText | null> {
  const all = from.cues.map((cue, n): Numbered => ({ ...cue, n })).filter((cue) => soundIn(cue) === null);
  const scope = from.stretch === null ? all : all.filter(({ n }) => from.stretch?.cues.has(n));
  const present = timedWords(scope);
  const own = align(present, from.edited.words);
  const written = withVoices(from.edited.words, scope.flatMap(wordsIn), own.same);
  const rest = all.filter((cue) => !scope.includes(cue));
  const heard = await listenTo(from, scope, own, written);
  const make = (isOpen: boolean) => {
    const done = recued(from, { scope, own, written, isOpen, heard });
    if (done === null) return null;
    const kept = scope.filter((_, i) => done.kept.has(i));
    return { done, kept, spoken: [...rest, ...kept, ...done.cues].sort((a, b) => a.start - b.start) };
  };
  const { episode, programme, inPoints } = from;
  const points = (spoken: readonly ExistingCue[]) =>
    episode === null || from.stretch !== null ? null : findAgain(episode, programme.names, spoken, heard?.spans);
  let made = make(inPoints);
  let found = made === null ? null : points(made.spoken);
  if (inPoints && found?.isQuiet === false) {
    made = make(false);
    found = made === null ? null : points(made.spoken);
  }
  if (made === null) return null;
  const { done, kept, spoken } = made;
  const out = new Set(scope.filter((cue) => !kept.includes(cue)).map(({ n }) => n));
  const { changes, errors, isLeast } = own;
  return {
    ...composed(from, { done, spoken, out, written, scope, rest: new Set(rest), own }),
    words: written.length,
    changes,
    errors,
    isLeast,
    points: found?.points ?? null,
    heard,
    present: present.length,
    gone: changes.reduce((sum, { kind, words }) => sum + (kind === "deleted" ? words : 0), 0),
    crowded: done.crowded ? (done.cues.find((cue) => overlaps(cue, quietIn(from, false).silent)) ?? null) : null,
  };
}

const overlaps = ({ start, end }: Span, spans: readonly Span[]): boolean =>
  spans.some((span) => span.start < end && span.end > start);

/** A text that names nobody says nothing of who speaks: then the voices of the words that were there stay. */
function withVoices(
  edited: readonly WrittenWord[],
  old: readonly WrittenWord[],
  same: readonly (number | null)[],
): readonly WrittenWord[] {
  if (edited.some(({ voice }) => voice !== null)) return edited;
  const first = same.find((at) => at !== null) ?? 0;
  let last = old[first];
  return edited.map(({ text }, n) => {
    last = old[same[n] ?? -1] ?? last;
    const { voice = null, proposed } = last ?? {};
    return { text, voice, ...(proposed === true ? { proposed } : {}) };
  });
}

/** Where nobody speaks, and the moments that no cue stands across. @param isOpen whether proposed breaks are left out. */
function quietIn({ episode }: ToRetime, isOpen: boolean): { silent: readonly Span[]; edges: readonly number[] } {
  if (episode === null) return { silent: [], edges: [] };
  const { segments, cuts, clock } = episode;
  const missing = clock === "aired" ? cuts : [];
  const breaks = segments.filter(({ kind, proposed }) => kind === "break" && !(isOpen && proposed !== undefined));
  return { silent: silentSpans(missing, breaks, segments), edges: edgesOf(missing) };
}

interface Work {
  readonly scope: readonly Numbered[];
  readonly own: Aligned;
  readonly written: readonly WrittenWord[];
  readonly isOpen: boolean;
  readonly heard: HeardSpans | null;
}

function recued(from: ToRetime, { scope, own, written, isOpen, heard: sound }: Work): Recued | null {
  const { raw, stretch, programme } = from;
  const { silent, edges } = quietIn(from, isOpen);
  const rawBlocks = raw ?? rawBlocksOf(scope);
  const whole = stretch?.whole ?? wholeOf(from, scope);
  const { words, inside } = heardOutside(rawBlocks, { end: null }, silent);
  const heard = stretch === null ? words : words.filter(({ start }) => whole.start <= start && start < whole.end);
  const rough = raw === null && inside.length === 0 ? own.spans : align(heard, written).spans;
  const spans = sound?.spans ?? rough;
  const names = programme.names.map(({ name }) => name);
  return recue({
    cues: scope,
    written,
    spans,
    same: raw !== null ? written.map(() => null) : sound === null ? own.same : inTime(own.same, scope, sound.spans),
    silent,
    edges,
    whole,
    captioning: { figures: programme.captions ?? CAPTION_FIGURES, names },
    clue: stretch === null && silent.length + edges.length > 0 ? clueFor(from, written, spans, silent) : () => 0,
  });
}

/** The words in the recording, near the times that the transcript gives them. */
async function listenTo(
  from: ToRetime,
  scope: readonly Numbered[],
  own: Aligned,
  written: readonly WrittenWord[],
): Promise<HeardSpans | null> {
  const { listening, episode, raw } = from;
  if (listening === null || episode === null) return null;
  const rough = raw === null ? own.spans : align(timeWords(raw, { end: null }), written).spans;
  const { start, end } = from.stretch?.whole ?? wholeOf(from, scope);
  return heardSpans(
    written.map(({ text }) => text),
    rough,
    episode,
    end,
    listening,
    start,
  );
}

/** A cue that begins this far from its voice is made anew. Milliseconds; common practice, no source. */
const NEAR = 200;

/** Which words are those of the cues, without the cues that don't begin with their voice. */
function inTime(
  same: readonly (number | null)[],
  cues: readonly Numbered[],
  spans: readonly (Span | null)[],
): readonly (number | null)[] {
  const placeOf = new Map(same.flatMap((old, n) => (old === null ? [] : [[old, n] as const])));
  const out = new Set<number>();
  let first = 0;
  for (const cue of cues) {
    const count = wordsIn(cue).length;
    const heard = spans[placeOf.get(first) ?? -1] ?? null;
    if (heard !== null && Math.abs(heard.start - cue.start) > NEAR)
      for (let n = first; n < first + count; n++) out.add(n);
    first += count;
  }
  return same.map((old) => (old !== null && out.has(old) ? null : old));
}

/** The time of the episode: to the end of the recording, or of what stands past it; without end where nobody knows. */
function wholeOf({ episode, raw }: ToRetime, cues: readonly ExistingCue[]): Span {
  if (episode === null) return ALWAYS;
  const heard = raw === null ? [] : timeWords(raw, { end: null });
  return { start: 0, end: Math.max(programmeEnd(episode), ...cues.map(({ end }) => end), heard.at(-1)?.end ?? 0) };
}

/** What the segments on both sides of a break or a cut say of where the words part. */
function clueFor(
  { episode, programme }: ToRetime,
  written: readonly WrittenWord[],
  spans: readonly (Span | null)[],
  silent: readonly Span[],
): (at: number, n: number) => number {
  if (episode === null) return () => 0;
  let last = 0;
  const words = written.map((word, n) => {
    const { start, end } = spans[n] ?? { start: last, end: last };
    last = end;
    return { ...word, start, end };
  });
  const order = episode.segments.map((segment) => ({ ...segment, in: null }));
  const { echoes } = castOf(words, programme.names);
  return seamClues({ words, order, echoes, end: programmeEnd(episode) }, episode.segments, silent);
}

interface ToCompose {
  readonly done: Recued;
  readonly spoken: readonly ExistingCue[];
  /** Cues of speech that go. */
  readonly out: ReadonlySet<number>;
  readonly written: readonly WrittenWord[];
  readonly scope: readonly Numbered[];
  /** Cues of speech that the words are not for. */
  readonly rest: ReadonlySet<ExistingCue>;
  readonly own: Aligned;
}

/** What a note begins with that keeps a sound: its time and the sound follow. */
const NO_ROOM = "No room for a sound at ";

function composed(from: ToRetime, work: ToCompose): Pick<RetimedText, "text" | "cues" | "unplaced"> {
  const file = parseVtt(decodeVtt(from.bytes).text);
  const figures = from.programme.captions ?? CAPTION_FIGURES;
  const { stay, put, news } = soundsOf(from, work, figures);
  const yielding = new Map(work.done.cues.map((cue) => [cue, yielded(cue, news, figures)]));
  const existing: readonly ExistingCue[] = [...work.spoken.map((cue) => yielding.get(cue) ?? cue), ...stay];
  const { cues: all, unplaced } = placeSounds(existing, put, figures);
  const made = [...yielding.values(), ...all.slice(existing.length)];
  const isProposed = work.spoken.some(({ pieces }) => pieces.some(({ proposed }) => proposed === true));
  const stays = new Set(stay.map(({ n }) => n));
  const sounds = from.cues.flatMap((cue, n) => (soundIn(cue) === null || stays.has(n) ? [] : [n]));
  const out = new Set([...work.out, ...sounds]);
  const notes = unplaced.map(({ text: sound, from: at }) => `${NO_ROOM}${formatClock(at)}: [${sound}]`);
  const outdated = file.blocks.flatMap((block) => {
    const isOurs = block.kind === "note" && block.words.startsWith(NO_ROOM) && !notes.includes(block.words);
    return isOurs && from.edited.sounds.some(({ text: sound }) => block.words.endsWith(`: [${sound}]`))
      ? [block.words]
      : [];
  });
  const text = replaceCues(file, {
    out,
    cues: made.map(({ start, end, pieces }) => ({ start, end, payload: cueText(pieces) })),
    notesOut: [...(isProposed ? [] : [PROPOSED_NOTE]), ...outdated],
    notes,
  });
  return { text, cues: file.cues.length - out.size + made.length, unplaced };
}

/** A caption that was just made stands no longer than its words, and than it must, where a sound comes after them. */
function yielded<C extends Span>(cue: C, news: readonly HeardSound[], { shortest }: CaptionFigures): C {
  const sound = news.find(({ from }) => cue.start < from && from < cue.end);
  return sound === undefined ? cue : { ...cue, end: Math.min(cue.end, Math.max(sound.from, cue.start + shortest)) };
}

/** The sounds that stay as they are, and those to be put somewhere (`put`; `news` among them): new ones, and old ones that new words took the place of. */
function soundsOf(
  { cues, edited, stretch }: ToRetime,
  { done, spoken, scope, own, written, rest }: ToCompose,
  { longest }: CaptionFigures,
): {
  readonly stay: readonly Numbered[];
  readonly put: readonly HeardSound[];
  readonly news: readonly HeardSound[];
} {
  const whole = stretch?.whole ?? ALWAYS;
  const places = placesOf(scope, own.same, written.length);
  const awaited = [...edited.sounds];
  const [stay, put]: [Numbered[], HeardSound[]] = [[], []];
  cues.forEach((cue, n) => {
    const text = soundIn(cue);
    if (text === null) return;
    const isOurs = whole.start <= cue.start && cue.start < whole.end;
    const [first, last] = places(cue.start);
    const at = awaited.findIndex((sound) => sound.text === text && first <= sound.before && sound.before <= last);
    if (isOurs && at !== -1) awaited.splice(at, 1);
    else if (isOurs && edited.sounds.some((sound) => sound.text === text)) return;
    if (overlaps(cue, done.cues)) put.push({ text, from: cue.start, to: cue.end });
    else stay.push({ ...cue, n });
  });
  const ours = spoken.filter((cue) => !rest.has(cue));
  const words = timedWords(ours);
  // No word lasts longer than its caption stands, however long the pause after it.
  const ends = ours.flatMap((cue) => wordsIn(cue).map(() => cue.end));
  const news = awaited.map(({ text, before }): HeardSound => {
    const from = Math.min(words[before - 1]?.end ?? whole.start, ends[before - 1] ?? Number.POSITIVE_INFINITY);
    return { text, from, to: words[before]?.start ?? from + longest };
  });
  return { stay, put: [...news, ...put], news };
}

/** Between which of the new words a moment of the old cues is. */
function placesOf(
  scope: readonly ExistingCue[],
  same: readonly (number | null)[],
  count: number,
): (at: number) => readonly [number, number] {
  const placeOf = new Map(same.flatMap((old, n) => (old === null ? [] : [[old, n] as const])));
  const starts = scope.flatMap((cue) => wordsIn(cue).map(() => cue.start));
  return (at) => {
    const before = starts.filter((start) => start < at).length;
    let [first, last] = [before - 1, before];
    while (first >= 0 && !placeOf.has(first)) first--;
    while (last < starts.length && !placeOf.has(last)) last++;
    return [(placeOf.get(first) ?? -1) + 1, placeOf.get(last) ?? count];
  };
}
