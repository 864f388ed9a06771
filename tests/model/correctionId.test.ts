import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { byCorrectionId, correctionId, readCorrectionId } from "../../src/model/correctionId.ts";

describe("what is a name", () => {
  test.each([
    ["2026-10-06-1", { day: "2026-10-06", number: 1 }],
    ["2026-10-06-123456", { day: "2026-10-06", number: 123_456 }],
    ["2026-10-06-k7m4p", { day: "2026-10-06", number: null }],
    ["2026-10-06-23456789b", { day: "2026-10-06", number: null }],
    ["2026-10-06-0", null],
    ["2026-10-06-1234567", null],
    ["2026-10-06-k7m", null],
    ["2026-10-06-k7m4l", null],
    ["2026-10-06-K7M4P", null],
    ["2026-10-06-k7m4p.md", null],
    ["../2026-10-06-1", null],
    ["2026-10-06", null],
  ])("%s", (id, expected) => {
    expect(readCorrectionId(id)).toEqual(expected);
  });
});

const hex = fc.string({ unit: fc.constantFrom(..."0123456789abcdef"), minLength: 64, maxLength: 64 });
const day = fc.constantFrom("2026-10-06", "2026-10-07");

test("a name that the tool gives is one, has no number, and depends on the digest alone", () => {
  fc.assert(
    fc.property(day, hex, (own, digest) => {
      const id = correctionId(own, digest, () => false);
      expect(readCorrectionId(id)).toEqual({ day: own, number: null });
      expect(correctionId(own, digest, () => false)).toBe(id);
    }),
  );
});

test("one that is taken gets more signs", () => {
  const first = correctionId("2026-10-06", "a".repeat(64), () => false);
  const taken = new Set([first]);
  const second = correctionId("2026-10-06", "a".repeat(64), (id) => taken.has(id));
  expect(second).toMatch(new RegExp(`^${first}.$`));
  expect(readCorrectionId(second)).not.toBeNull();
});

test("ten thousand digests of one day give ten thousand names", () => {
  const ids = new Set<string>();
  for (let n = 0; n < 10_000; n++) {
    const digest = (BigInt(n + 1) * 0x9e3779b97f4a7c15f39cc0605cedc834n).toString(16).padStart(64, "7");
    ids.add(correctionId("2026-10-06", digest, (id) => ids.has(id)));
  }
  expect(ids.size).toBe(10_000);
});

test("the order is one: whatever stands before another, and that before a third, stands before the third", () => {
  const number = fc.integer({ min: 1, max: 200 }).map(String);
  const code = hex.map((digest) => correctionId("x", digest, () => false).slice(2));
  const id = fc.tuple(day, fc.oneof(number, code)).map(([own, rest]) => `${own}-${rest}`);
  fc.assert(
    fc.property(id, id, id, (a, b, c) => {
      expect(Math.sign(byCorrectionId(a, b))).toBe(-Math.sign(byCorrectionId(b, a)) + 0);
      expect(byCorrectionId(a, b) === 0).toBe(a === b);
      if (byCorrectionId(a, b) < 0 && byCorrectionId(b, c) < 0) expect(byCorrectionId(a, c)).toBeLessThan(0);
    }),
    { numRuns: 1000 },
  );
  const names = ["2026-10-06-10", "2026-10-06-9", "2026-10-06-9bcdf", "2026-10-06-2"];
  expect(names.toSorted(byCorrectionId)).toEqual(["2026-10-06-2", "2026-10-06-9", "2026-10-06-10", "2026-10-06-9bcdf"]);
});
