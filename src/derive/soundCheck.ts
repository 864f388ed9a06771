import { type CutList, laidStretches } from "../model/cutList.ts";

/** Samples a second of the sound that is compared, one channel: enough to tell where speech and music are. */
export const RATE = 8000;
/** How far a seam, or the end, may lie from where the time map has it. Milliseconds. */
export const TOLERANCE_MS = 50;
/** What is quieter is silence. RMS, in decibels of full scale. */
export const SILENCE_DB = -50;

/** So far to both sides is looked for a shift. Milliseconds; common practice, no source. */
const REACH_MS = 250;
/** The length of sound that is compared. Milliseconds; common practice, no source. */
const COMPARED_MS = 1500;
/** So far into a stretch is looked for sound that can be compared. Milliseconds. */
const SEARCHED_MS = 10_000;
/** In such steps. Milliseconds. */
const STEP_MS = 250;
/** Quieter sound proves nothing. RMS, in decibels of full scale. */
const FAINT_DB = -55;
/** Less alike than this is not the same sound: 1 is the same, 0 nothing in common. Common practice, no source. */
const ALIKE = 0.5;
/** Of shifts so nearly alike, the smallest counts: a tone is like itself a period later. */
const AS_GOOD = 0.02;
/** Silence is measured in pieces so long. Milliseconds. */
const PIECE_MS = 100;

/** A stretch of a file, in milliseconds. It may begin before the file and end after it: there is silence. */
export interface Range {
  readonly from: number;
  readonly to: number;
}

/** The beginning or the end of a stretch that was kept: the same sound in the source and in what was made of it. */
export interface Comparison {
  /** Where in the result the stretch begins or ends, in milliseconds. */
  readonly seam: number;
  readonly side: "after" | "before";
  readonly source: Range;
  /** The same stretch in the result, with `REACH_MS` more at both sides. */
  readonly made: Range;
}

/** What must be compared to know that all seams are where they should be: both ends of every kept stretch. */
export function comparisonsOf(list: CutList): readonly Comparison[] {
  return laidStretches(list).flatMap(({ does, from, to, at }): readonly Comparison[] => {
    if (does !== "keep") return [];
    const length = Math.min(to - from, SEARCHED_MS);
    const made = (start: number) => ({ from: start - REACH_MS, to: start + length + REACH_MS });
    const end = at + to - from;
    return [
      { seam: at, side: "after", source: { from, to: from + length }, made: made(at) },
      { seam: end, side: "before", source: { from: to - length, to }, made: made(end - length) },
    ];
  });
}

/** Whether a seam is in its place. @property shift how much later than it should the result has it, in milliseconds. */
export type Compared =
  | { readonly is: "found"; readonly shift: number }
  /** Nothing in reach is the same sound. */
  | { readonly is: "other" }
  /** The source is silent there: nothing can be told. */
  | { readonly is: "silent" };

/**
 * Finds the sound beside a seam in the result. `source` and `made`: the samples of the two ranges of a comparison, at
 * `RATE`. Compared is the sound next to the seam that is loud enough.
 */
export function compare({ side }: Pick<Comparison, "side">, source: Float32Array, made: Float32Array): Compared {
  const reach = samplesIn(REACH_MS);
  const length = Math.min(source.length, samplesIn(COMPARED_MS));
  for (let away = 0; away + length <= source.length; away += samplesIn(STEP_MS)) {
    const start = side === "after" ? away : source.length - length - away;
    const heard = source.subarray(start, start + length);
    if (decibels(heard) < FAINT_DB) continue;
    const { shift, likeness } = shiftOf(heard, made.subarray(start, start + length + 2 * reach), reach);
    return likeness < ALIKE ? { is: "other" } : { is: "found", shift: (shift / RATE) * 1000 };
  }
  return { is: "silent" };
}

/**
 * How many samples later than expected a sound comes, by the normalised cross-correlation of the two (textbook; the sum
 * of products over the root of the product of both energies). `made` holds `sound` with `reach` samples more at both sides.
 */
export function shiftOf(
  sound: Float32Array,
  made: Float32Array,
  reach: number,
): { readonly shift: number; readonly likeness: number } {
  const energy = energyOf(sound);
  let under = energyOf(made.subarray(0, sound.length));
  const likeness: number[] = [];
  for (let lag = 0; lag <= 2 * reach; lag++) {
    let product = 0;
    for (let n = 0; n < sound.length; n++) product += (sound[n] ?? 0) * (made[n + lag] ?? 0);
    likeness.push(under > 0 ? product / Math.sqrt(energy * under) : 0);
    under += (made[lag + sound.length] ?? 0) ** 2 - (made[lag] ?? 0) ** 2;
  }
  const best = Math.max(...likeness);
  const lags = likeness.flatMap((own, lag) => (own >= best - AS_GOOD ? [lag - reach] : []));
  return { shift: lags.reduce((least, lag) => (Math.abs(lag) < Math.abs(least) ? lag : least)), likeness: best };
}

/** The stretches of the result that must be silent, without a little at both ends, where a codec smears what is beside. */
export function silencesOf(list: CutList): readonly Range[] {
  return laidStretches(list).flatMap(({ does, from, to, at }) =>
    does === "silence" ? [innerRange({ from: at, to: at + to - from })] : [],
  );
}

/** A range without the tolerance at both ends. */
export function innerRange({ from, to }: Range): Range {
  const edge = Math.min(TOLERANCE_MS, (to - from) / 4);
  return { from: from + edge, to: to - edge };
}

/** The RMS of the loudest tenth of a second, in decibels of full scale; -Infinity for digital silence. */
export function loudestPiece(samples: Float32Array): number {
  const piece = samplesIn(PIECE_MS);
  let loudest = Number.NEGATIVE_INFINITY;
  for (let at = 0; at === 0 || at + piece <= samples.length; at += piece / 2)
    loudest = Math.max(loudest, decibels(samples.subarray(at, at + piece)));
  return loudest;
}

export const samplesIn = (ms: number): number => Math.round((ms * RATE) / 1000);

const energyOf = (samples: Float32Array): number => samples.reduce((sum, sample) => sum + sample * sample, 0);

const decibels = (samples: Float32Array): number =>
  samples.length === 0 ? Number.NEGATIVE_INFINITY : 10 * Math.log10(energyOf(samples) / samples.length);
