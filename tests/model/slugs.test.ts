import fc from "fast-check";
import { expect, test } from "vitest";
import { SLUG, slugFrom } from "../../src/model/slugs.ts";

// What the letters are commonly written as where only a to z can be. Common practice, no source.
test.each([
  ["Ærø Straße Øst", "aero-strasse-ost"],
  ["Łódź", "lodz"],
  ["Þór", "thor"],
  ["Việt Nam", "viet-nam"],
  ["Владивосток", "vladivostok"],
  ["The Minister’s plan", "the-ministers-plan"],
  ["O'Brien", "obrien"],
  ["CO₂ and ﬁre", "co2-and-fire"],
  ["NHS and FerryVote", "nhs-and-ferryvote"],
  ["10–12 May", "10-12-may"],
  ["日本", ""],
  ["…", ""],
])("%s becomes %s", (text, slug) => {
  expect(slugFrom(text)).toBe(slug);
});

test("whatever the text, a slug or nothing, and no longer than 60", () => {
  fc.assert(
    fc.property(fc.oneof(fc.string({ unit: "binary" }), fc.string({ minLength: 70 })), (text) => {
      const slug = slugFrom(text);
      expect(slug === "" || SLUG.test(slug)).toBe(true);
      expect(slug.length).toBeLessThanOrEqual(60);
    }),
  );
});

test("a slug is its own", () => {
  fc.assert(
    fc.property(
      fc.stringMatching(/^[a-z0-9]{1,20}(-[a-z0-9]{1,20}){0,2}$/).filter((own) => own.length <= 60),
      (own) => {
        expect(slugFrom(own)).toBe(own);
      },
    ),
  );
});
