import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { likeness, likenessFrom, soundedOf, soundLikeness } from "../../src/checks/names/likeness.ts";

describe("likeness of names", () => {
  const like = (a: string, b: string) => likeness(soundedOf(a), soundedOf(b));

  test("is the same both ways, from 0 to 1, and 1 for the same letters", () => {
    const word = fc.string({ minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(word, word, (a, b) => {
        expect(like(a, b)).toBeCloseTo(like(b, a), 9);
        expect(like(a, b)).toBeGreaterThanOrEqual(0);
        expect(like(a, b)).toBeLessThanOrEqual(1 + 1e-9);
        expect(like(a, a)).toBe(1);
      }),
    );
  });

  test.each([
    ["Ilse Marrane", "Elsa Moraine"],
    ["Aldous Frayne", "Old as Frayn"],
    ["Jonty Brask", "Jaunty Brusk"],
  ])("%s and %s sound the same", (a, b) => {
    expect(soundLikeness(soundedOf(a), soundedOf(b))).toBe(1);
    expect(like(a, b)).toBeGreaterThan(like(a, "Perpetua Wyle"));
  });

  test("a name that sounds the same is nearer than one with fewer letters changed", () => {
    expect(like("Frayne", "Frain")).toBeGreaterThan(like("Frayne", "Frayte"));
  });

  test("a script without a sound key is compared by its letters", () => {
    expect(soundLikeness(soundedOf("Ωμέγα"), soundedOf("Omega"))).toBeNull();
    expect(like("Ωμέγα", "Ωμέγο")).toBeGreaterThan(0.7);
  });
});

test("a least likeness leaves out what is less like, and changes no other", () => {
  const name = fc.stringMatching(/^[a-zé ]{0,14}$/);
  fc.assert(
    fc.property(name, name, fc.double({ min: 0, max: 1, noNaN: true }), (one, other, least) => {
      const [a, b] = [soundedOf(one), soundedOf(other)];
      const score = likeness(a, b);
      expect(likenessFrom(least, a, b)).toBe(score >= least ? score : null);
      // And one letter changed, so that many pairs are nearly the same.
      const near = soundedOf(`${one.slice(1)}e`);
      expect(likenessFrom(0.74, a, near)).toBe(likeness(a, near) >= 0.74 ? likeness(a, near) : null);
    }),
  );
});
