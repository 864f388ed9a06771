import { CAPTION_FIGURES } from "../../model/captions.ts";
import { formatClock } from "../../model/clock.ts";
import type { DraftSegment, EpisodeDraft } from "../../model/draft.ts";
import { WHOLE_PROGRAMME } from "../../model/episode.ts";
import type { Finding, Place } from "../../model/finding.ts";
import { MOST_SENTENCES } from "../../model/limits.ts";
import { type MisheardName, misheardNote } from "../../model/misheardNames.ts";
import type { Programme } from "../../model/programme.ts";
import type { PlannedSegment, RawBlock, SpokenWord, Unplaced } from "../../model/spoken.ts";
import { clockMs } from "../../model/units.ts";
import { makeCues } from "../captioning/cues.ts";
import type { Span } from "../captioning/lending.ts";
import { type HeardSound, placeSounds } from "../captioning/sounds.ts";
import { type NewCue, transcriptText } from "../captioning/transcriptText.ts";
import { areTimesGuessed, timeWords } from "../captioning/wordTimes.ts";
import { edgesOf } from "./cutEdges.ts";
import { misheardNames } from "./heardNames.ts";
import { keptCues, wordsOf } from "./keptCues.ts";
import { type LaidOut, layOut } from "./layOut.ts";
import type { Recording } from "./recording.ts";
import { areTooMany, type FoundSegment, findSegments } from "./segments.ts";
import { castOf, proposeVoices } from "./speakers.ts";

/** What an episode is drafted from. Milliseconds. */
export interface DraftFrom {
  readonly title: string;
  readonly aired: string;
  /** What the raw transcript says was said; `at`: its first line. */
  readonly rawBlocks: readonly RawBlock[];
  /** What it says was heard and not said. */
  readonly sounds: readonly HeardSound[];
  /** The same as the file had it, where its captions are to stay as they are; null: captions are made anew. */
  readonly kept: readonly RawBlock[] | null;
  readonly unplaced: readonly Unplaced[];
  readonly at: Place;
  readonly order: readonly PlannedSegment[];
  readonly media: EpisodeDraft["media"];
  /** Of the media file; null when nobody knows. */
  readonly duration: number | null;
  readonly clock: EpisodeDraft["clock"];
  readonly cuts: EpisodeDraft["cuts"];
  readonly programme: Programme;
  /** What listening to the recording tells; null: nobody listens. */
  readonly recording: Recording | null;
}

export interface Drafted {
  readonly draft: EpisodeDraft;
  readonly transcript: string;
  readonly cues: number;
  readonly findings: readonly Finding[];
}

/** Words this much past the end are no fault of anybody's: durations and times are rounded. */
const SLACK = 1500;

/** An episode drafted from what there is the hour after the programme. All that it assumes is a finding. */
export function draftEpisode(from: DraftFrom): Drafted {
  const findings: Finding[] = [];
  const told: Tell = (rule, says, mend) =>
    findings.push({ rule, level: "warns", at: from.at, seconds: null, says, mend });
  const { rawBlocks, order, clock, programme, recording } = from;
  const { names } = programme;
  const given = endOf(from, from.duration, from.cuts);
  const heard = timeWords(rawBlocks, { end: given });
  if (order.length > 0 && areTooMany(heard)) {
    told(
      "segments-by-plan",
      `This transcript has more than ${MOST_SENTENCES} sentences: the in points were put where the plan has them, unheard.`,
      "Set each by ear; or begin an episode for each programme.",
    );
  }
  const lastWord = heard.at(-1)?.end ?? 0;
  const duration = from.duration ?? assumedDuration(from, lastWord, told);
  const whole = Math.max(lastWord, given ?? duration);
  const guess = () =>
    findSegments({ words: heard, order, echoes: castOf(heard, names, recording).echoes, end: whole, recording });
  const cuts = cutsFor(from, duration, lastWord, guess, told);
  const end = endOf(from, duration, cuts) ?? duration;
  const isAired = clock === "aired";
  const missing = isAired ? cuts : [];
  const measured = isAired ? from.cuts : [];
  const laid = layOut({
    rawBlocks,
    order,
    names,
    given,
    end: whole,
    cuts: missing,
    measured,
    recording,
  });
  for (const one of laid.inside) tellInside(one, told);
  const words = laid.words.filter(({ start }) => start < end);
  const past = laid.words.slice(words.length);
  if (past.length > 0) tellPast(past.length, lastWord, end, told);
  const segments = segmentsOf(from, laid.found, end, told);
  const voiced = withVoices(from, words, segments, end, told);
  const { cues, lost } = captionsFrom(from, { laid, past, voiced, given, end, edges: edgesOf(missing) });
  const misheard = misheardNames(words, recording?.names ?? []);
  if (misheard.length > 0) tellMisheard(misheard, told);
  const notes = [...unplacedNotes(from), ...lost, ...(misheard.length === 0 ? [] : [misheardNote(misheard)])];
  const { title, aired, media } = from;
  return {
    draft: { title, aired, duration, media, clock, timesGuessed: areTimesGuessed(rawBlocks), cuts, ...segments },
    transcript: transcriptText(cues, notes),
    cues: cues.length,
    findings,
  };
}

type Tell = (rule: string, says: string, mend: string) => void;

function assumedDuration({ media }: DraftFrom, lastWord: number, told: Tell): number {
  const duration = Math.ceil(lastWord / 1000) * 1000;
  const unknown = media.length === 0 ? "the broadcast ran" : "the recording runs";
  const says = `How long ${unknown} is not known: ${formatClock(duration)} was assumed, where the words end.`;
  told("duration-assumed", says, "Write its length into episode.md, or give --duration.");
  return duration;
}

function tellPast(words: number, lastWord: number, end: number, told: Tell): void {
  const [to, at] = [formatClock(lastWord), formatClock(end)];
  const says = `The transcript runs to ${to}, past the end of the recording at ${at}: ${words} words have no place.`;
  const mend = "They are kept in a note. Give what was cut with --cut, or the recording's length with --duration.";
  told("transcript-past-media", says, mend);
}

function tellInside({ span, words }: LaidOut["inside"][number], told: Tell): void {
  const [from, to] = [formatClock(span.start), formatClock(span.end)];
  const says = `${words.length} words were heard between ${from} and ${to}, which was cut as a break: they are the recogniser's own.`;
  const mend = "They are kept in a note. Where somebody did speak there, correct --cut, or its reason.";
  told("words-in-cut-break", says, mend);
}

function tellUnnamed(at: readonly string[], isHeard: boolean, told: Tell): void {
  const who = isHeard ? "Voices that nothing names are heard" : "Nothing tells surely enough who speaks";
  const says = `${who} at ${at.join(", ")}: these words have no speaker.`;
  told("voice-unnamed", says, "Listen there, and write `<v Name>` before the words in transcript.vtt.");
}

function tellMisheard([first, ...others]: readonly MisheardName[], told: Tell): void {
  if (first === undefined) return;
  const more = others.length === 0 ? "" : `, and so ${others.length} more`;
  const says = `The recording says ${first.name} where the transcript has “${first.words}”${more}.`;
  told(
    "name-heard",
    says,
    "Nothing was changed: `afterair check` lists each, with its time. Listen there, and write the name.",
  );
}

const textOf = (words: readonly SpokenWord[]): string => words.map(({ text }) => text).join(" ");

const unplacedNotes = ({ unplaced }: DraftFrom): readonly string[] =>
  unplaced.map(({ text, at }) => `Could not be placed (${at.file}, line ${at.line}): ${text}`);

/** What had no place among the cues, to be kept as notes. */
const lostNotes = (
  inside: readonly { readonly span: Span; readonly text: string }[],
  past: string,
): readonly string[] => [
  ...inside.map(
    ({ span, text }) => `Heard in the break, ${formatClock(span.start)} to ${formatClock(span.end)}: ${text}`,
  ),
  ...(past === "" ? [] : [`Past the end of the recording: ${past}`]),
];

interface Laid {
  readonly laid: LaidOut;
  readonly past: readonly SpokenWord[];
  readonly voiced: readonly SpokenWord[];
  readonly given: number | null;
  readonly end: number;
  readonly edges: readonly number[];
}

/** The captions, made anew or as they were, and notes of what has no place among them. */
function captionsFrom(
  from: DraftFrom,
  { laid, past, voiced, given, end, edges }: Laid,
): { readonly cues: readonly NewCue[]; readonly lost: readonly string[] } {
  const { kept } = from;
  if (kept === null) {
    const inside = laid.inside.map(({ span, words }) => ({ span, text: textOf(words) }));
    const { cues, unplaced } = withSounds(from, cuesOf(from, voiced, edges, end), end);
    return { cues, lost: [...lostNotes(inside, textOf(past)), ...unplaced] };
  }
  const silent = laid.inside.map(({ span }) => span);
  const captions = keptCues(kept, timeWords(kept, { end: given }), voiced, silent, end);
  const inside = captions.inside.map(({ span, cues }) => ({ span, text: cues.map(wordsOf).join(" ") }));
  return { cues: captions.cues, lost: lostNotes(inside, captions.past.map(wordsOf).join(" ")) };
}

function cuesOf({ programme }: DraftFrom, words: readonly SpokenWord[], edges: readonly number[], end: number) {
  const figures = programme.captions ?? CAPTION_FIGURES;
  const cues = makeCues(words, { figures, names: programme.names.map(({ name }) => name), edges });
  return cues.map((cue) => ({ ...cue, end: Math.max(cue.start + 1, Math.min(cue.end, end)) }));
}

/** The captions with the sounds between them; notes of those that have no room. */
function withSounds({ sounds, programme }: DraftFrom, made: readonly NewCue[], end: number) {
  const before = sounds.flatMap((sound) => (sound.from < end ? [{ ...sound, to: Math.min(sound.to, end) }] : []));
  const { cues, unplaced } = placeSounds(made, before, programme.captions ?? CAPTION_FIGURES);
  const lost = [...unplaced, ...sounds.filter(({ from }) => from >= end)];
  return { cues, unplaced: lost.map(({ text, from }) => `No room for a sound at ${formatClock(from)}: [${text}]`) };
}

/** Where the episode ends in its own clock. */
function endOf({ clock }: DraftFrom, duration: number | null, cuts: DraftFrom["cuts"]): number | null {
  if (duration === null) return null;
  return duration + (clock === "aired" ? cuts.reduce((sum, { from, to }) => sum + to - from, 0) : 0);
}

/** How near the length of a found break must be to what the recording lacks, to be taken for it: milliseconds. */
const LIKE = 8000;

/** The cuts as given; where none are and the recording is too short by about its break, the break. */
function cutsFor(
  from: DraftFrom,
  duration: number,
  lastWord: number,
  found: () => readonly FoundSegment[],
  told: Tell,
): DraftFrom["cuts"] {
  const lacks = lastWord - duration;
  if (from.clock !== "aired" || from.cuts.length > 0 || lacks <= SLACK) return from.cuts;
  const gap = found().find(
    ({ in: start, out }, k) => from.order[k]?.kind === "break" && Math.abs(out - start - lacks) <= LIKE,
  );
  if (gap === undefined) return from.cuts;
  const [seconds, at] = [Math.round(lacks / 1000), formatClock(gap.in)];
  const says = `The recording is ${seconds} s shorter than the transcript: the break at ${at} was taken to be cut from it.`;
  told("cut-assumed", says, "Listen to both sides of the cut, and correct `cuts` in episode.md.");
  return [{ from: clockMs(Math.round(gap.in)), to: clockMs(Math.round(gap.out)), why: "break", proposed: true }];
}

function segmentsOf(
  from: DraftFrom,
  found: readonly FoundSegment[],
  end: number,
  told: Tell,
): Pick<EpisodeDraft, "segments" | "remarks"> {
  if (from.order.length === 0) return wholeProgramme(from, told);
  const spelled = new Map(from.programme.names.map(({ name }) => [name.toLowerCase(), name]));
  let last = -1;
  const all = from.order.map((segment, k): DraftSegment => {
    const { slug, kind, title, planned, by } = segment;
    const { in: start = 0, edgeState = "doubtful" } = found[k] ?? {};
    last = Math.max(Math.round(start), last + 1);
    const names = by.map((name) => spelled.get(name.toLowerCase()) ?? name);
    return { slug, kind, title, in: last, planned, by: names, edgeState: k === 0 ? null : edgeState };
  });
  const late = all.filter((segment) => segment.in >= end);
  if (late.length === 0) return { segments: all, remarks: [] };
  const listed = late.map(({ slug }) => slug).join(", ");
  const says = `These segments were found past the end of the recording, and left out: ${listed}.`;
  const mend = "They stand in a remark in episode.md: give what was cut with --cut, or their in points there.";
  told("segments-past-media", says, mend);
  const remarks = late.map(
    ({ slug, kind, title, in: start }) => `past the end: ${slug}, ${kind}, ${title}, in ${formatClock(start)}`,
  );
  return { segments: all.filter((segment) => segment.in < end), remarks };
}

function wholeProgramme({ title }: DraftFrom, told: Tell): Pick<EpisodeDraft, "segments" | "remarks"> {
  const says = "There is no running order: the whole programme is one segment.";
  told("order-missing", says, "Write its segments into episode.md.");
  const whole: DraftSegment = {
    ...WHOLE_PROGRAMME,
    title,
    in: 0,
    planned: null,
    by: [],
    edgeState: null,
  };
  return { segments: [whole], remarks: [] };
}

/** The words with the voices that the transcript names; where it names none and there is a running order, proposals. */
function withVoices(
  { rawBlocks, order, programme, recording }: DraftFrom,
  words: readonly SpokenWord[],
  { segments }: Pick<EpisodeDraft, "segments">,
  end: number,
  told: Tell,
): readonly SpokenWord[] {
  if (programme.presenters.length === 0 || order.length === 0 || rawBlocks.some(({ voice }) => voice !== null))
    return words;
  const stretches = segments.map((segment, k) => ({ ...segment, out: segments[k + 1]?.in ?? end }));
  const voices = proposeVoices(
    words,
    stretches,
    programme.presenters,
    castOf(words, programme.names, recording),
    recording,
  );
  const breaks = stretches.filter(({ kind }) => kind === "break");
  const unnamed = voices.flatMap(({ voice, from }) => {
    const at = words[from]?.start ?? 0;
    return voice !== null || breaks.some((pause) => at >= pause.in && at < pause.out) ? [] : [formatClock(at)];
  });
  if (unnamed.length > 0) tellUnnamed(unnamed, recording !== null, told);
  return voices.flatMap(({ from, to, voice }) =>
    words.slice(from, to).map((word) => (voice === null ? word : { ...word, voice, proposed: true as const })),
  );
}
