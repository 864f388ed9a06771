import { useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";

/** Which rows of a long list stand on the page: those near what is seen, and those that must be there anyway. */
export interface Windowed {
  /** In order: the row, and the room left before it for rows that are not on the page, in pixels. */
  readonly rows: readonly ShownRow[];
  /** The room left for the rows after the last one on the page, in pixels. */
  readonly after: number;
  /** Is given every row's element, which has its key in `data-key`. */
  watch(element: Element): () => void;
}

/** A row that is or is not on the page. Its height is what is expected, in pixels, until it is known by its key. */
export interface ListedRow {
  readonly key: string;
  readonly height: number;
}

export interface ShownRow {
  readonly k: number;
  readonly before: number;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Rows so far above and below what is seen stand on the page too, in pixels. */
const BEYOND = 600;
/** The stretch grows and shrinks by so many rows at once, so that not every pixel of a scroll draws it anew. */
const STEP = 8;
/** So many rows on both sides of one that must be there: the next key may lead to them. */
const BESIDE = 2;

/**
 * A list whose rows are on the page only near what is seen. @param kept rows that are always there, such as the one that has
 * the caret.
 */
export function useWindowed(
  list: { current: Element | null },
  listed: readonly ListedRow[],
  kept: readonly number[],
): Windowed {
  const measured = useRef(new Map<string, number>());
  const [measurings, setMeasurings] = useState(0);
  const [seen, setSeen] = useState<Stretch>({ from: 0, to: 0 });
  const edges = useMemo(() => {
    const tops = [0];
    for (const [k, { key, height }] of listed.entries())
      tops.push((tops[k] ?? 0) + (measured.current.get(key) ?? height));
    return tops;
  }, [listed, measurings]);
  const observer = useRef<ResizeObserver | null>(null);
  observer.current ??= new ResizeObserver((entries) => {
    let isOther = false;
    for (const { target, borderBoxSize } of entries) {
      const [key = "", height] = [(target as HTMLElement).dataset.key, borderBoxSize[0]?.blockSize ?? 0];
      // What is being taken off the page has no height any more.
      if (height === 0 || measured.current.get(key) === height) continue;
      measured.current.set(key, height);
      isOther = true;
    }
    if (isOther) setMeasurings((n) => n + 1);
  });
  const now = useRef(edges);
  now.current = edges;
  const anchor = useRef<Anchor | null>(null);
  useLayoutEffect(() => {
    anchor.current = heldAt(list.current, anchor.current);
  });
  useLayoutEffect(() => {
    const look = () => {
      anchor.current = anchorIn(list.current);
      const top = list.current?.getBoundingClientRect().top;
      if (top === undefined) return;
      const rows = now.current.length - 1;
      const from = Math.floor(rowAt(now.current, -top - BEYOND) / STEP) * STEP;
      const to = Math.min(rows, Math.ceil((rowAt(now.current, innerHeight - top + BEYOND) + 1) / STEP) * STEP);
      setSeen((was) => (was.from === from && was.to === to ? was : { from, to }));
    };
    look();
    addEventListener("scroll", look, { passive: true });
    addEventListener("resize", look);
    return () => {
      removeEventListener("scroll", look);
      removeEventListener("resize", look);
    };
  }, [list.current, edges]);
  const rows = useMemo(() => shownRows(edges, seen, kept), [edges, seen, kept.join()]);
  return {
    rows,
    after: (edges.at(-1) ?? 0) - (edges[(rows.at(-1)?.k ?? -1) + 1] ?? 0),
    watch(element) {
      observer.current?.observe(element);
      return () => observer.current?.unobserve(element);
    },
  };
}

/** A row that is seen, and where it stands on the page, in pixels from its top; and the row that had the caret then. */
interface Anchor {
  readonly row: Element;
  readonly top: number;
  readonly caretIn: Element | null;
}

const rowWithCaret = (): Element | null => document.activeElement?.closest("[data-row]") ?? null;

const topOf = (row: Element): number => row.getBoundingClientRect().top + scrollY;

/** The row that must stay where somebody sees it: the one with the caret, or the first that is seen. */
function anchorIn(list: Element | null): Anchor | null {
  const isSeen = (row: Element): boolean => {
    const { top, bottom } = row.getBoundingClientRect();
    return bottom > 0 && top < innerHeight;
  };
  const own = rowWithCaret();
  const row = own !== null && isSeen(own) ? own : [...(list?.children ?? [])].find(isSeen);
  return row === undefined ? null : { row, top: topOf(row), caretIn: own };
}

/**
 * Scrolls by as much as rows above it have grown or shrunk, so that a row stays where it is seen. Rows are measured only when
 * they come onto the page, and what the browser does about that by itself is not enough for such long lists. Where the caret has
 * gone to another row since, that one has just been brought into sight, and must not be scrolled away.
 */
function heldAt(list: Element | null, anchor: Anchor | null): Anchor | null {
  if (anchor?.row.isConnected === true && anchor.caretIn === rowWithCaret()) {
    const by = topOf(anchor.row) - anchor.top;
    if (Math.abs(by) >= 1) scrollBy({ top: by, behavior: "instant" });
  }
  return anchorIn(list);
}

/** The row that a height lies in, the nearest where none does. @param edges where each begins, and where the last one ends. */
export function rowAt(edges: readonly number[], at: number): number {
  let [low, high] = [0, Math.max(0, edges.length - 2)];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if ((edges[middle] ?? 0) <= at) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** A stretch of rows and those beside the kept ones, each once and in order, with the room left out before each. */
export function shownRows(
  edges: readonly number[],
  { from, to }: Stretch,
  kept: readonly number[],
): readonly ShownRow[] {
  const rows = new Set<number>();
  const add = (a: number, z: number) => {
    for (let k = Math.max(0, a); k < Math.min(z, edges.length - 1); k++) rows.add(k);
  };
  add(from, to);
  for (const k of kept) add(k - BESIDE, k + BESIDE + 1);
  let next = 0;
  return [...rows]
    .sort((a, b) => a - b)
    .map((k) => {
      const before = (edges[k] ?? 0) - (edges[next] ?? 0);
      next = k + 1;
      return { k, before };
    });
}
