import type { Episode } from "../model/episode.ts";
import type { Slot } from "../model/programme.ts";

const DAY = 24 * 60;

/** Minutes since midnight of `18:30`. */
const minutesOf = (at: string): number => Number(at.slice(0, 2)) * 60 + Number(at.slice(3, 5));

/** How far two times of day lie apart, in minutes, over midnight too. */
function apart(a: string, b: string): number {
  const between = Math.abs(minutesOf(a) - minutesOf(b));
  return Math.min(between, DAY - between);
}

/** `late` of `2026-10-05-late`; null: the day's first edition. */
export const editionOf = (id: string): string | null => id.slice("2026-10-05-".length) || null;

/**
 * The slot that an episode was broadcast in: that of its edition, else of those that name no edition the one whose time of
 * day is nearest to when it was aired. Undefined where the programme names none.
 */
export function findSlot(slots: readonly Slot[], { id, aired }: Pick<Episode, "id" | "aired">): Slot | undefined {
  const edition = editionOf(id);
  const own = slots.find((slot) => slot.edition !== null && slot.edition === edition);
  if (own !== undefined) return own;
  const at = aired.slice("2026-10-05T".length, "2026-10-05T18:30".length);
  return slots.filter((slot) => slot.edition === null).sort((a, b) => apart(a.at, at) - apart(b.at, at))[0];
}
