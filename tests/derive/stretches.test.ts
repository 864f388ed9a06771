import fc from "fast-check";
import { expect, test } from "vitest";
import { stretchesOf } from "../../src/derive/stretches.ts";

const stretch = fc.record({ from: fc.nat(50), long: fc.nat(20) }).map(({ from, long }) => ({ from, to: from + long }));
const byBeginning = fc.array(stretch, { maxLength: 40 }).map((all) => all.toSorted((a, b) => a.from - b.from));

test("finds what going through all of them finds, from the front and from the back", () => {
  fc.assert(
    fc.property(byBeginning, fc.nat(60), fc.nat(20), fc.nat(3), (all, from, long, kind) => {
      const to = from + long;
      const fits = (own: { readonly from: number }) => own.from % 4 >= kind;
      const isThere = (own: { readonly from: number; readonly to: number }) =>
        own.from <= to && own.to > from && fits(own);
      const stretches = stretchesOf(all, (own) => own);
      expect(stretches.find(from, to, fits)).toBe(all.find(isThere));
      expect(stretches.findLast(from, to, fits)).toBe(all.findLast(isThere));
    }),
  );
});

test("looks at few of very many", () => {
  const all = Array.from({ length: 100_000 }, (_, n) => ({ from: n * 10, to: n * 10 + 10 }));
  const stretches = stretchesOf(all, (own) => own);
  let looked = 0;
  const found = stretches.find(500_005, 500_005, () => {
    looked += 1;
    return true;
  });
  expect(found).toEqual({ from: 500_000, to: 500_010 });
  expect(looked).toBe(1);
});
