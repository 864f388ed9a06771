import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Hit, rank, rarity, type TierHits } from "../../src/browser/rank.ts";

const hit = (score: number, ...places: readonly number[]): Hit => ({ score, places, fields: [] });
const tier = (
  clauses: readonly Readonly<Record<string, Hit>>[],
  own: Partial<TierHits<string>> = {},
): TierHits<string> => ({
  size: 4,
  records: new Map(["a", "b", "c", "d"].map((id) => [id, id])),
  whole: new Map(),
  clauses: clauses.map((byId) => ({ byId: new Map(Object.entries(byId)), begins: false })),
  ...own,
});
const order = (tiers: readonly TierHits<string>[], must: readonly number[] = [], weak: readonly number[] = []) =>
  rank(tiers, must, weak).map(({ record }) => record);

describe("the order of what answers", () => {
  test("the better match first", () => {
    expect(order([tier([{ a: hit(1, 5), b: hit(4) }])])).toEqual(["b", "a"]);
  });
  test("what has both words; what has one, nobody asked for", () => {
    expect(order([tier([{ a: hit(1, 5), b: hit(4, 9) }, { a: hit(1, 90) }])])).toEqual(["a"]);
  });
  test("where only what leads to an answer has both words, what has one after it", () => {
    const clauses = [{ a: hit(1, 5), b: hit(4, 9) }, { a: hit(1, 90) }];
    const isWhole = (hits: readonly Hit[]) => hits.every(({ score }) => score > 1);
    expect(rank([tier(clauses)], [], [], isWhole).map(({ record }) => record)).toEqual(["a", "b"]);
  });
  test("where none has all, what has most", () => {
    expect(order([tier([{ a: hit(1, 5) }, { b: hit(4, 9) }])])).toEqual(["b", "a"]);
  });
  test("of many words, one may be lacking, after what has all", () => {
    const clauses = [{ a: hit(1, 5), b: hit(9, 5), c: hit(9, 5) }, { a: hit(1, 30), b: hit(9, 6) }, { a: hit(1, 60) }];
    expect(order([tier(clauses)])).toEqual(["a", "b"]);
  });
  test("a word that stands nowhere is held against none; a phrase that does, against all", () => {
    expect(order([tier([{ a: hit(1, 5) }, {}])])).toEqual(["a"]);
    expect(order([tier([{ a: hit(1, 5) }, {}])], [1])).toEqual([]);
  });
  test("a weak word puts what has it first, leaves out nothing, and is found for itself nowhere", () => {
    const weak = { b: hit(1, 5), c: hit(9, 5) };
    expect(order([tier([{ a: hit(9, 5), b: hit(1, 30) }, weak])], [], [1])).toEqual(["b", "a"]);
    expect(order([tier([{}, weak])], [], [1])).toEqual([]);
  });
  test("words that stand together before words far apart, and all of them as they were typed before both", () => {
    const clauses = [
      { a: hit(1, 5), b: hit(1, 5), c: hit(1, 5) },
      { a: hit(1, 90), b: hit(1, 8), c: hit(1, 6) },
    ];
    expect(order([tier(clauses, { whole: new Map([["c", hit(1, 5, 6)]]) })])).toEqual(["c", "b", "a"]);
  });
  test("where a tier has the word, what only begins so in another is left out", () => {
    const begins = { ...tier([]), clauses: [{ byId: new Map([["b", hit(9, 1)]]), begins: true }] };
    expect(order([begins, tier([{ a: hit(1, 5) }])])).toEqual(["a"]);
    expect(order([begins])).toEqual(["b"]);
  });
  test("what is outside of what was asked for counts for nothing", () => {
    const one = { size: 1, records: new Map([["a", "a"]]) };
    const [only, ...others] = rank([tier([{ a: hit(1, 5), b: hit(9, 1), c: hit(9, 1) }, { b: hit(1, 2) }], one)], []);
    expect(only).toMatchObject({ record: "a", lacks: [] });
    expect(only?.score).toBeGreaterThan(0);
    expect(others).toEqual([]);
  });
  test("a rare word weighs more than a common one, and none less than nothing", () => {
    fc.assert(
      fc.property(fc.nat(10_000), fc.nat(10_000), (size, count) => {
        const some = Math.min(size, count);
        expect(rarity(size, some)).toBeGreaterThan(0);
        if (some > 0) expect(rarity(size, some - 1)).toBeGreaterThan(rarity(size, some));
      }),
    );
  });
});
