import { formatClock } from "../model/clock.ts";
import type { Chapter } from "../pages/types.ts";
import { itemsIn } from "./attributes.ts";

/** Reads `data-chapters`: in the order of their times, and only what is a chapter. */
export const parseChapters = (text: string | undefined): readonly Chapter[] =>
  [...itemsIn(text, isChapter)].sort((a, b) => a.from - b.from);

function isChapter(value: unknown): value is Chapter {
  if (typeof value !== "object" || value === null) return false;
  const { title, from, to, href, held } = value as Partial<Record<keyof Chapter, unknown>>;
  const [said, timed] = [
    [title, href],
    [from, to],
  ] as const;
  return (
    said.every((one) => typeof one === "string") &&
    timed.every((one) => typeof one === "number") &&
    [null, "withheld", "withdrawn"].some((one) => one === held)
  );
}

/** The chapter at a moment, in seconds; of two that touch the later. Undefined: none has it. */
export const chapterAt = (chapters: readonly Chapter[], seconds: number): Chapter | undefined =>
  chapters.findLast(({ from, to }) => seconds >= from && seconds < to);

/** A moment in words: `12:40, Sport`, and what is the matter with it. */
export function placeText(chapters: readonly Chapter[], seconds: number): string {
  const { title, held } = chapterAt(chapters, seconds) ?? { title: null, held: null };
  return [formatClock(seconds * 1000), title, held].filter((part) => part !== null && part !== "").join(", ");
}

/** The next chapter that may be heard and begins after a moment; undefined: none does. */
export const chapterAfter = (chapters: readonly Chapter[], seconds: number): Chapter | undefined =>
  chapters.find(({ from, held }) => from > seconds && held === null);

/** So soon after a beginning, "previous" means the chapter before. Seconds; common practice, no source. */
const SOON = 3;

/** Where "previous" goes from a moment, in seconds: this chapter's beginning, or soon after it that of the one before. */
export const startBefore = (chapters: readonly Chapter[], seconds: number): number =>
  chapters.findLast(({ from, held }) => from <= seconds - SOON && held === null)?.from ?? 0;

/** What a page plays by itself, in seconds. */
export interface Bounds {
  readonly from: number;
  readonly to: number;
}

/** A stop is made so long before what is withheld, which is stepped over a little early. Seconds. */
const CLEAR = 0.1;

/**
 * Where playing stops that goes on from a moment: at the end of the page's own stretch, if the moment is in it. Null: it
 * does not, or the recording ends there anyhow.
 * @param skips what is stepped over: a stop comes before it, not after.
 */
export function stopFrom(seconds: number, { from, to }: Bounds, runs: number, skips: readonly Bounds[]): number | null {
  const end = skips.some((skip) => Math.abs(skip.from - to) < CLEAR) ? to - CLEAR : to;
  return seconds >= from - CLEAR && seconds < end - CLEAR && to < runs - CLEAR ? end : null;
}
