import fc from "fast-check";
import { expect, test } from "vitest";
import { rowAt, shownRows } from "../../src/browser/desk/windowed.ts";

/** Where rows of these heights begin, and where the last one ends. */
function edgesOf(heights: readonly number[]): readonly number[] {
  const edges = [0];
  for (const [k, height] of heights.entries()) edges.push((edges[k] ?? 0) + height);
  return edges;
}

const heights = fc.array(fc.integer({ min: 1, max: 200 }), { minLength: 1, maxLength: 60 });

test.each([
  ["above the list", -50, 0],
  ["in the first row", 29, 0],
  ["where the second begins", 30, 1],
  ["in the last row", 95, 2],
  ["below the list", 900, 2],
])("%s: the row", (_why, at, row) => {
  expect(rowAt(edgesOf([30, 40, 30]), at)).toBe(row);
});

test("a height lies in the row that it is found in", () => {
  fc.assert(
    fc.property(heights, fc.double({ min: 0, max: 0.999, noNaN: true }), (own, share) => {
      const edges = edgesOf(own);
      const at = share * (edges.at(-1) ?? 0);
      const k = rowAt(edges, at);
      expect(edges[k]).toBeLessThanOrEqual(at);
      expect(edges[k + 1]).toBeGreaterThan(at);
    }),
  );
});

test("rows on the page are each there once and in order, those that must be among them, and stand where they would in the whole list", () => {
  const stretch = fc.tuple(fc.nat(70), fc.nat(70)).map(([a, z]) => ({ from: Math.min(a, z), to: Math.max(a, z) }));
  fc.assert(
    fc.property(heights, stretch, fc.array(fc.integer({ min: -1, max: 59 }), { maxLength: 2 }), (own, seen, kept) => {
      const edges = edgesOf(own);
      const rows = shownRows(edges, seen, kept);
      const shown = rows.map(({ k }) => k);
      expect(shown).toEqual([...new Set(shown)].sort((a, b) => a - b));
      for (const k of own.keys()) if ((k >= seen.from && k < seen.to) || kept.includes(k)) expect(shown).toContain(k);
      let top = 0;
      for (const { k, before } of rows) {
        top += before;
        expect(top).toBe(edges[k]);
        top += own[k] ?? 0;
      }
    }),
  );
});
