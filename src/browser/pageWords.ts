import type { Skip } from "../pages/types.ts";
import { lastAt } from "./times.ts";

/** The words of the page that have a moment, in the order of their moments. */
export interface PageWords {
  /** In points of the cues, in seconds, rising. */
  readonly times: readonly number[];
  /** The cue being said at a moment; null before the first and outside the page's own stretch. */
  at(seconds: number): HTMLElement | null;
  /** The cue where a moment would be, said or not: to bring it into view. */
  near(seconds: number): HTMLElement | null;
  /** The precise moment of what has this id: of its first cue. Null where nothing with a cue has it. */
  momentOf(id: string): number | null;
}

/**
 * Finds the cues once.
 * @param from and `to`: the page's own stretch, in seconds.
 * @param skips what is never played: its words may stand on the page, but are never the ones being said.
 */
export function readPageWords(root: ParentNode, from: number, to: number, skips: readonly Skip[]): PageWords {
  const cues = [...root.querySelectorAll<HTMLElement>(".cue[data-in]")]
    .map((cue) => ({ cue, seconds: Number(cue.dataset.in) }))
    .filter(({ seconds }) => Number.isFinite(seconds))
    .sort((a, b) => a.seconds - b.seconds);
  const times = cues.map(({ seconds }) => seconds);
  const isSkipped = (at: number) => skips.some((skip) => at >= skip.from && at < skip.to);
  return {
    times,
    at(seconds) {
      const last = seconds < from || seconds >= to ? undefined : cues[lastAt(times, seconds)];
      return last === undefined || isSkipped(last.seconds) ? null : last.cue;
    },
    near: (seconds) => cues[Math.max(0, lastAt(times, seconds))]?.cue ?? null,
    momentOf(id) {
      const first = document.getElementById(id)?.querySelector<HTMLElement>(".cue[data-in]");
      return first === null || first === undefined ? null : Number(first.dataset.in);
    },
  };
}

/** What a cue says, without the numbers of notes in it, on one line. */
export function wordsOf(cue: Element): string {
  const copy = cue.cloneNode(true) as Element;
  for (const extra of copy.querySelectorAll(".mark-ref, .vh")) extra.remove();
  return (copy.textContent ?? "").replace(/\s+/g, " ").trim();
}

/** Lights the words being said: `aria-current` on the cue, `data-now` on its paragraph. */
export function lampOnWords(): (cue: HTMLElement | null) => void {
  let lit: HTMLElement | null = null;
  return (cue) => {
    if (cue === lit) return;
    lit?.removeAttribute("aria-current");
    const [before, now] = [lit?.closest(".words") ?? null, cue?.closest(".words") ?? null];
    if (before !== now) before?.removeAttribute("data-now");
    now?.setAttribute("data-now", "");
    cue?.setAttribute("aria-current", "true");
    lit = cue;
  };
}
