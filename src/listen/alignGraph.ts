import { type AcousticModel, PLACE, STATES } from "./alignModel.ts";
import type { Pronunciation } from "./alignPronounce.ts";

/** A spoken word that is looked for. */
export interface SoughtWord {
  readonly ways: readonly Pronunciation[];
  /** The frames between which it may be said. */
  readonly from: number;
  readonly to: number;
}

/**
 * All states of all words in one row: the words one after another, the ways to say each one after another, the phones
 * and their states. The sound goes along it from the left to the right.
 */
export interface Graph {
  /** By state: the model's state in the midst of words, and the one where silence is beside it (often the same). */
  readonly joined: Int32Array;
  readonly apart: Int32Array;
  /** By state: what it costs to stay, and to go on (logarithms). */
  readonly stay: Float64Array;
  readonly go: Float64Array;
  /** By way: its first state; one more at the end. */
  readonly ways: Int32Array;
  /** By word: its first way; one more at the end. */
  readonly words: Int32Array;
}

export function graphOf(words: readonly Pick<SoughtWord, "ways">[], model: AcousticModel): Graph {
  const { phones, silence, moves } = model;
  const phoneOf = (name: string): number => phones.get(name) ?? silence;
  const [joined, apart, stay, go]: [number[], number[], number[], number[]] = [[], [], [], []];
  const [ways, firsts]: [number[], number[]] = [[], []];
  const edge = (n: number, last: boolean): number => {
    const said = words[n]?.ways[0];
    return phoneOf((last ? said?.at(-1) : said?.[0]) ?? "SIL");
  };
  words.forEach(({ ways: own }, n) => {
    firsts.push(ways.length);
    const [before, after] = [edge(n - 1, true), edge(n + 1, false)];
    for (const way of own) {
      ways.push(joined.length);
      way.forEach((name, k) => {
        const phone = phoneOf(name);
        const [isFirst, isLast] = [k === 0, k === way.length - 1];
        const inside = isFirst ? PLACE.first : isLast ? PLACE.last : PLACE.inside;
        const place = isFirst && isLast ? PLACE.alone : inside;
        const [left, right] = [phoneOf(way[k - 1] ?? ""), phoneOf(way[k + 1] ?? "")];
        joined.push(...model.statesOf(phone, isFirst ? before : left, isLast ? after : right, place));
        apart.push(...model.statesOf(phone, isFirst ? silence : left, isLast ? silence : right, place));
        for (let state = 0; state < STATES; state++) {
          stay.push(moves[(phone * STATES + state) * 2] ?? 0);
          go.push(moves[(phone * STATES + state) * 2 + 1] ?? 0);
        }
      });
    }
  });
  return {
    joined: Int32Array.from(joined),
    apart: Int32Array.from(apart),
    stay: Float64Array.from(stay),
    go: Float64Array.from(go),
    ways: Int32Array.from([...ways, joined.length]),
    words: Int32Array.from([...firsts, ways.length]),
  };
}
