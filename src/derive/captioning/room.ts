import type { Span } from "./lending.ts";

/**
 * Where words may stand: stretches in order, which may touch but not overlap. The last one's end may be Infinity. No
 * word stands across the end of one.
 */
export type Room = readonly Span[];

/** Time without bounds. */
export const ALWAYS: Span = { start: 0, end: Number.POSITIVE_INFINITY };

/** Stretches in order, those that overlap or touch joined. */
export function joinSpans(spans: readonly Span[]): readonly Span[] {
  const joined: { start: number; end: number }[] = [];
  for (const { start, end } of spans.toSorted((a, b) => a.start - b.start)) {
    const last = joined.at(-1);
    if (last !== undefined && start <= last.end) last.end = Math.max(last.end, end);
    else if (end > start) joined.push({ start, end });
  }
  return joined;
}

/**
 * The room of `whole` that silent stretches leave, parted at edges besides. Whole milliseconds.
 * @param edges moments that no word stands across, in any order.
 */
export function roomOutside(silent: readonly Span[], edges: readonly number[], whole: Span): Room {
  const free: Span[] = [];
  let from = Math.ceil(whole.start);
  for (const { start, end } of joinSpans(silent)) {
    if (start > from) free.push({ start: from, end: Math.min(Math.floor(start), whole.end) });
    from = Math.max(from, Math.ceil(end));
    if (from >= whole.end) break;
  }
  if (from < whole.end) free.push({ start: from, end: whole.end });
  return free.flatMap(({ start, end }) => {
    const inner = [...new Set(edges.map(Math.round))].filter((at) => at > start && at < end).sort((a, b) => a - b);
    const bounds = [start, ...inner, end];
    return bounds.slice(1).map((to, n) => ({ start: bounds[n] ?? start, end: to }));
  });
}

/** How much room lies before a moment: the time that runs only where words may stand. */
export function roomBefore(at: number, room: Room): number {
  let sum = 0;
  for (const { start, end } of room) {
    if (at <= start) break;
    sum += Math.min(at, end) - start;
  }
  return sum;
}
