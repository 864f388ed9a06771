import { sayWord } from "../derive/align/said.ts";
import { pauseAfter } from "../derive/captioning/wordTimes.ts";
import type { HeardName } from "../derive/propose/recording.ts";
import { FRAMES, featuresOf } from "./alignFeatures.ts";
import { graphOf } from "./alignGraph.ts";
import type { AcousticModel } from "./alignModel.ts";
import { onsetOf } from "./alignOnset.ts";
import { pronounce } from "./alignPronounce.ts";
import { scorer } from "./alignScores.ts";
import { type FoundWord, type SearchCosts, search } from "./alignSearch.ts";
import { nameSpotter } from "./nameSpotting.ts";

/** A written word, and about when it is said: milliseconds. */
export interface RoughWord {
  readonly text: string;
  readonly from: number;
  readonly to: number;
}

/** When a word is said, in milliseconds. */
export interface HeardWord {
  readonly start: number;
  readonly end: number;
  /** How much better the sound fits the word than any other: a logarithm of likelihood a frame; below 0 it is doubtful. */
  readonly fit: number;
}

export interface Alignment {
  /** By written word; null: it is not in the sound, or nobody knows how it is said. */
  readonly words: readonly (HeardWord | null)[];
  /** The names that are heard, whatever was written there: milliseconds. In their order; none overlaps another. */
  readonly names: readonly HeardName[];
}

/** Finds words in one recording. `progress` is told what share is done. */
export type Aligner = (
  rough: readonly RoughWord[],
  progress?: (share: number) => void,
) => Alignment | Promise<Alignment>;

export const ALIGN_COSTS: SearchCosts = {
  skip: 50,
  skipMore: 1.5,
  silence: 2,
  filler: 8,
  other: 10,
  inside: 40,
  otherFrame: 0.6,
  beam: 200,
};

/** So far before and after its rough time a word is looked for, in milliseconds. */
const REACH_MS = 12_000;

/**
 * Finds written words in the sound of a recording, near their rough times and in their order.
 * @param frames the recording's cepstra, from its beginning. @param options names: these are looked for as well, everywhere.
 */
export function alignWords(
  rough: readonly RoughWord[],
  frames: Float32Array,
  model: AcousticModel,
  options: {
    readonly costs?: SearchCosts;
    readonly names?: readonly string[];
    readonly progress?: (done: number) => void;
  } = {},
): Alignment {
  const count = frames.length / (model.width || 1);
  const sought = rough.flatMap(({ text, from, to }, of) =>
    sayWord(text).flatMap((said) => {
      const ways = pronounce(said);
      return ways.length === 0 ? [] : [{ ways, of, from, to, stops: pauseAfter(text) > 0 }];
    }),
  );
  const frameAt = (ms: number): number => Math.min(count, Math.max(0, Math.round((ms * FRAMES) / 1000)));
  const from = Int32Array.from(sought, (word) => frameAt(word.from - REACH_MS));
  const to = Int32Array.from(sought, (word) => frameAt(word.to + REACH_MS));
  for (let n = sought.length - 2; n >= 0; n--) from[n] = Math.min(from[n] ?? 0, from[n + 1] ?? 0);
  for (let n = 1; n < sought.length; n++) to[n] = Math.max(to[n] ?? 0, to[n - 1] ?? 0);
  const [first, last] = [from[0] ?? 0, to.at(-1) ?? 0];
  const features = featuresOf(frames);
  const scores = scorer(model);
  const names = nameSpotter(options.names ?? [], model);
  const found = search({
    graph: graphOf(sought, model),
    model,
    scores,
    from: from.map((frame) => frame - first),
    to: to.map((frame) => frame - first),
    inside: Uint8Array.from(sought, ({ of }, n) => {
      const before = sought[n - 1];
      return before !== undefined && (before.of === of || !before.stops) ? 1 : 0;
    }),
    frames: last - first,
    features: (frame, into) => features(first + frame, into),
    costs: options.costs ?? ALIGN_COSTS,
    along: (frame, any) => names.take(first + frame, scores, any),
    ...(options.progress === undefined ? {} : { progress: (frame) => options.progress?.(frame / (last - first)) }),
  });
  const words: (HeardWord | null)[] = rough.map(() => null);
  const loudness = (frame: number): number => frames[frame * model.width] ?? 0;
  sought.forEach(({ of }, n) => {
    const word = found[n] ?? null;
    const from = word === null ? 0 : onsetOf(loudness, first + word.from, first + word.to);
    words[of] = joined(words[of] ?? null, word && { ...word, from: from - first }, first);
  });
  return { words, names: names.heard() };
}

/** What finds words in a recording, and names. @param frames its cepstra, from its beginning. */
export const alignerFor =
  (frames: Float32Array, model: AcousticModel, names: readonly string[] = []): Aligner =>
  (rough, progress) =>
    alignWords(rough, frames, model, progress === undefined ? { names } : { names, progress });

const MS = 1000 / FRAMES;

/** The words that a numeral stands for, as one. */
function joined(before: HeardWord | null, now: FoundWord | null, first: number): HeardWord | null {
  if (now === null) return before;
  const own = { start: (first + now.from) * MS, end: (first + now.to) * MS, fit: now.fit };
  return before === null ? own : { start: before.start, end: own.end, fit: Math.min(before.fit, own.fit) };
}
