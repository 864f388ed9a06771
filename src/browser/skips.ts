import type { Skip } from "../pages/types.ts";
import { itemsIn } from "./attributes.ts";

/** Where playback has to go, in seconds, because the place it is at is withheld. */
export interface Landing {
  readonly to: number;
  readonly why: string;
  /** Nothing may be played after the withheld stretch: stop before it. */
  readonly halt: boolean;
}

/** Skips come a little early, because a browser reports the time only now and then. Seconds; common practice, no source. */
const EARLY = 0.04;
/** Browsers round the time that they are sent to: an end reached but for this is reached. Seconds. */
const ROUNDING = 0.005;
/** An end this close to the end of the media leaves nothing to play. Seconds. */
const TAIL = 0.25;

/** Reads `data-skips`: sorted, and only stretches that are such. */
export const parseSkips = (text: string | undefined): readonly Skip[] =>
  [...itemsIn(text, isSkip)].sort((a, b) => a.from - b.from);

function isSkip(value: unknown): value is Skip {
  if (typeof value !== "object" || value === null) return false;
  const { from, to, why } = value as Partial<Record<keyof Skip, unknown>>;
  return typeof from === "number" && typeof to === "number" && from < to && typeof why === "string";
}

/**
 * Where to go from a moment inside a withheld stretch; null where it may be played.
 * @param skips sorted; stretches that touch are left together.
 * @param duration of the media in seconds; NaN or infinite while it is unknown.
 */
export function landingFrom(seconds: number, skips: readonly Skip[], duration: number): Landing | null {
  const over: Skip[] = [];
  for (const skip of skips) {
    const at = over.at(-1)?.to ?? seconds;
    if (at >= skip.from - EARLY && at < skip.to - ROUNDING) over.push(skip);
  }
  const [first, last] = [over[0], over.at(-1)];
  if (first === undefined || last === undefined) return null;
  const halt = last.to >= duration - TAIL;
  return { to: halt ? Math.max(0, first.from - 2 * EARLY) : last.to, why: first.why, halt };
}

/** The moment at which the next skip after `seconds` is due, or null. */
export function nextSkip(seconds: number, skips: readonly Skip[]): number | null {
  const next = skips.find(({ from }) => from - EARLY > seconds);
  return next === undefined ? null : next.from - EARLY;
}
