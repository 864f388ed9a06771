/** A stream of numbers from 0 to below 1, the same for the same seed: mulberry32 (Tommy Ettinger, public domain). */
export interface Random {
  /** A number from 0 to below 1. */
  next(): number;
  /** A whole number from `from` to `to`, both among them. */
  whole(from: number, to: number): number;
  pick<T>(list: readonly T[]): T;
  chance(of: number): boolean;
}

export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const whole = (from: number, to: number) => from + Math.floor(next() * (to - from + 1));
  const pick = <T>(list: readonly T[]): T => {
    const one = list[whole(0, list.length - 1)];
    if (one === undefined) throw new Error("an empty list");
    return one;
  };
  return { next, whole, pick, chance: (of) => next() < of };
}
