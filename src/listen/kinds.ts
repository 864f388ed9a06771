import type { Span } from "../derive/captioning/lending.ts";
import { AT, BAND_COUNT, KIND_FRAMES, VALUES } from "./kindFrames.ts";
import { cheapestPath, levelOfShare, runsOf, windowMean } from "./kindTools.ts";

/** What a stretch of a recording is. Speech over music is speech; what is neither speech nor a tone is music. */
export type SoundKind = "speech" | "music" | "tone" | "silence";

/** Milliseconds of the media. */
export interface KindStretch extends Span {
  readonly kind: SoundKind;
}

/** A recording divided without gaps, and the pauses inside its speech. Milliseconds of the media. */
export interface Division {
  readonly stretches: readonly KindStretch[];
  readonly pauses: readonly Span[];
}

const MS = 1000 / KIND_FRAMES;
/** Nothing shorter is a silence, or a pause. Frames of 40 ms. */
const [A_SILENCE, A_PAUSE] = [KIND_FRAMES, 5] as const;
/** What is left between two silences and shorter is a click of the line. */
const A_CLICK = 5;
/** Quiet is this far below the loudest twentieth, and within these bounds. Decibels. */
const QUIET = { below: 35, least: -60, most: -45 } as const;
/** Where the quietest frames are so nearly of one level that it is a line's noise, quiet is this far above it. Decibels. */
const NOISE = { within: 2, above: 4, under: 10 } as const;
/** Levels of bands count down to this below their loudest twentieth. Decibels. */
const RANGE = 35;
/** To both sides of a frame so many are looked at: two seconds in all. */
const REACH = KIND_FRAMES;
/** Changes slower than a quarter of a second are taken off: syllables come 3 to 6 a second. Frames to both sides. */
const SLOW = 3;
/**
 * Speech changes every band's level by more than this (standard deviation, decibels), and by more where notes stand still;
 * where noise leaves less room for change, by less, in proportion down to a share. Chosen on people's voices and music
 * on hold, see tests/bench/README.md; the demo's broadcasts had no part in it.
 */
const SPEECH = { changes: 5.5, still: 6, stillFrom: 0.1, stillTo: 0.4, leastRoom: 0.75 } as const;
/** A tone has this share of the power in one place, and a level that stands still. Decibels of standard deviation. */
const TONE = { single: 0.85, still: 1 } as const;
/** How sure a frame can make of a kind, and what a change of kind costs: one lasts at least some half a second. */
const [GAIN, SURE, CHANGE] = [0.6, 2, 20] as const;
/** An edge goes to the quietest frame so near. Frames. */
const EDGE = 15;

/**
 * Divides a recording by what is heard, from the frames that `kindFrames` made of it. Speech is known by how syllables
 * change the energy some four times a second (Houtgast and Steeneken 1985; Scheirer and Slaney 1997), here in every band;
 * music by notes that stand still in the spectrum (after Seyerlehner et al. 2007). The cheapest whole is taken (Viterbi).
 * @param least how much speech changes every band's level, in decibels.
 */
export function divide(frames: Float32Array, least: number = SPEECH.changes): Division {
  const count = Math.floor(frames.length / VALUES);
  if (count === 0) return { stretches: [], pauses: [] };
  const levels = Float64Array.from({ length: count }, (_, n) =>
    Math.max(frames[n * VALUES + AT.level] ?? 0, frames[n * VALUES + AT.later] ?? 0),
  );
  const quiet = quietBelow(levels);
  const isQuiet = levels.map((level) => (level < quiet ? 1 : 0));
  const silences = joinedOver(runsOf(isQuiet, 1, A_SILENCE), A_CLICK, count);
  const bands = bandsOf(frames, count);
  const kinds: SoundKind[] = Array.from({ length: count }, () => "silence");
  let from = 0;
  for (const silence of [...silences, { start: count, end: count }]) {
    if (silence.start > from) label(kinds, { frames, levels, bands, changes: least, from, to: silence.start });
    from = silence.end;
  }
  const pauses = runsOf(
    isQuiet.map((own, n) => (own === 1 && kinds[n] === "speech" ? 1 : 0)),
    1,
    A_PAUSE,
  );
  return { stretches: stretchesOf(kinds), pauses: pauses.map(inMs) };
}

const inMs = ({ start, end }: Span): Span => ({ start: start * MS, end: end * MS });

function quietBelow(levels: Float64Array): number {
  const at = (share: number) => levelOfShare(levels, share);
  const top = at(0.95);
  const own = Math.min(QUIET.most, Math.max(QUIET.least, top - QUIET.below));
  const [least, low] = [at(0.01), at(0.05)];
  const isNoise = low - least < NOISE.within && low + NOISE.above < top - NOISE.under;
  return isNoise ? Math.max(own, low + NOISE.above) : own;
}

/** Silences with only a click between them are one, as those are that reach nearly to an end. */
function joinedOver(silences: readonly Span[], click: number, count: number): readonly Span[] {
  const joined: Span[] = [];
  for (const { start, end } of silences) {
    const before = joined.at(-1);
    const own = { start: start < click ? 0 : start, end: count - end < click ? count : end };
    if (before !== undefined && start - before.end < click) joined[joined.length - 1] = { ...before, end: own.end };
    else joined.push(own);
  }
  return joined;
}

interface Bands {
  /** By band: the level under which it doesn't count. */
  readonly least: readonly number[];
  /** How much of `RANGE` the sound uses, 0 to 1. */
  readonly room: number;
}

function bandsOf(frames: Float32Array, count: number): Bands {
  const own = new Float64Array(count);
  let room = 0;
  const least = Array.from({ length: BAND_COUNT }, (_, b) => {
    for (let n = 0; n < count; n++) own[n] = frames[n * VALUES + AT.bands + b] ?? 0;
    const top = levelOfShare(own, 0.95);
    room += Math.min(RANGE, top - levelOfShare(own, 0.1)) / RANGE / BAND_COUNT;
    return top - RANGE;
  });
  return { least, room };
}

interface ToLabel {
  readonly frames: Float32Array;
  readonly levels: Float64Array;
  readonly bands: Bands;
  /** What speech is known by. */
  readonly changes: number;
  readonly from: number;
  readonly to: number;
}

/** What there is between silences. */
const HEARD = ["speech", "music", "tone"] as const;

/** Says what each frame between two silences is. */
function label(kinds: SoundKind[], work: ToLabel): void {
  const { levels, from, to, bands } = work;
  const changes = changesOf(work);
  const { steady, single, spread } = stillnessOf(work);
  const least = work.changes * Math.max(SPEECH.leastRoom, bands.room);
  const { stillFrom, stillTo, still } = SPEECH;
  const costs = new Float32Array((to - from) * HEARD.length);
  for (let n = 0; n < to - from; n++) {
    const notes = Math.min(stillTo, Math.max(stillFrom, steady[n] ?? 0)) - stillFrom;
    const sure = Math.min(SURE, Math.max(-SURE, GAIN * ((changes[n] ?? 0) - still * notes - least)));
    const isTone = (single[n] ?? 0) >= TONE.single && (spread[n] ?? 0) < TONE.still;
    costs.set([-sure, sure, isTone ? -SURE - 1 : SURE], n * HEARD.length);
  }
  const path = cheapestPath(costs, HEARD.length, CHANGE);
  for (let n = 0; n < path.length; n++) kinds[from + n] = HEARD[path[n] ?? 0] ?? "speech";
  for (let n = from + 1; n < to; n++) {
    if (kinds[n] === kinds[n - 1]) continue;
    let edge = n;
    for (let at = Math.max(from, n - EDGE); at < Math.min(to, n + EDGE + 1); at++)
      if ((levels[at] ?? 0) < (levels[edge] ?? 0)) edge = at;
    const [before, after] = [kinds[n - 1] ?? "speech", kinds[n] ?? "speech"];
    for (let at = edge; at < n; at++) kinds[at] = after;
    for (let at = n; at < edge; at++) kinds[at] = before;
    n = Math.max(n, edge);
  }
}

/** By frame: how much the levels of all bands change at the pace of syllables; the mean of their standard deviations. */
function changesOf({ frames, bands, from, to }: ToLabel): Float64Array {
  const all = new Float64Array(to - from);
  const own = new Float64Array(to - from);
  bands.least.forEach((least, b) => {
    for (let n = 0; n < own.length; n++) own[n] = Math.max(least, frames[(from + n) * VALUES + AT.bands + b] ?? 0);
    const slow = windowMean(own, SLOW);
    const power = windowMean(
      own.map((level, n) => (level - (slow[n] ?? 0)) ** 2),
      REACH,
    );
    for (let n = 0; n < all.length; n++) all[n] = (all[n] ?? 0) + Math.sqrt(Math.max(0, power[n] ?? 0)) / BAND_COUNT;
  });
  return all;
}

/** By frame: the share of power in still notes and in one place, and how far levels lie apart. */
function stillnessOf({ frames, levels, from, to }: ToLabel): Record<"steady" | "single" | "spread", Float64Array> {
  const value = (place: number) =>
    Float64Array.from({ length: to - from }, (_, n) => frames[(from + n) * VALUES + place] ?? 0);
  const own = levels.slice(from, to);
  const half = REACH / 2;
  const mean = windowMean(own, half);
  const square = windowMean(
    own.map((level) => level * level),
    half,
  );
  return {
    steady: windowMean(value(AT.steady), REACH),
    single: windowMean(value(AT.single), half),
    spread: square.map((power, n) => Math.sqrt(Math.max(0, power - (mean[n] ?? 0) ** 2))),
  };
}

function stretchesOf(kinds: readonly SoundKind[]): readonly KindStretch[] {
  const stretches: KindStretch[] = [];
  let start = 0;
  kinds.forEach((kind, n) => {
    if (kinds[n + 1] === kind) return;
    stretches.push({ kind, ...inMs({ start, end: n + 1 }) });
    start = n + 1;
  });
  return stretches;
}
