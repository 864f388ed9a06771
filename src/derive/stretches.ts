/** A stretch of time in the episode's clock, in milliseconds; `to` is no longer in it. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Stretches to be looked up by time, which takes no longer where there are thousands of them. */
export interface Stretches<T> {
  /**
   * The first that ends after `from`, begins by `to`, and fits; in the order in which they were given, if that is by
   * their beginnings, else in the order of these.
   */
  find(from: number, to: number, fits: (one: T) => boolean): T | undefined;
  /** The last of them. */
  findLast(from: number, to: number, fits: (one: T) => boolean): T | undefined;
}

interface Node<T> extends Stretch {
  readonly one: T;
  /** The latest end in the range whose middle it is. */
  readonly latest: number;
}

interface Search<T> extends Stretch {
  readonly fits: (one: T) => boolean;
}

/** An interval tree without pointers: the middle of every range is the root of that range. */
export function stretchesOf<T>(all: readonly T[], stretchOf: (one: T) => Stretch): Stretches<T> {
  const nodes = all.map((one) => ({ one, latest: 0, ...stretchOf(one) })).sort((a, b) => a.from - b.from);
  measure(nodes, 0, nodes.length);
  return {
    find: (from, to, fits) => first(nodes, 0, nodes.length, { from, to, fits }),
    findLast: (from, to, fits) => last(nodes, 0, nodes.length, { from, to, fits }),
  };
}

function measure(nodes: { to: number; latest: number }[], low: number, high: number): number {
  const middle = (low + high) >> 1;
  const node = nodes[middle];
  if (low >= high || node === undefined) return Number.NEGATIVE_INFINITY;
  node.latest = Math.max(node.to, measure(nodes, low, middle), measure(nodes, middle + 1, high));
  return node.latest;
}

function first<T>(nodes: readonly Node<T>[], low: number, high: number, search: Search<T>): T | undefined {
  const middle = (low + high) >> 1;
  const node = nodes[middle];
  if (low >= high || node === undefined || node.latest <= search.from) return undefined;
  const before = first(nodes, low, middle, search);
  if (before !== undefined || node.from > search.to) return before;
  if (node.to > search.from && search.fits(node.one)) return node.one;
  return first(nodes, middle + 1, high, search);
}

function last<T>(nodes: readonly Node<T>[], low: number, high: number, search: Search<T>): T | undefined {
  const middle = (low + high) >> 1;
  const node = nodes[middle];
  if (low >= high || node === undefined || node.latest <= search.from) return undefined;
  if (node.from <= search.to) {
    const after = last(nodes, middle + 1, high, search);
    if (after !== undefined) return after;
    if (node.to > search.from && search.fits(node.one)) return node.one;
  }
  return last(nodes, low, middle, search);
}
