import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { landingFrom, nextSkip, parseSkips } from "../../src/browser/skips.ts";
import { parseMedia } from "../../src/browser/takeMedia.ts";
import { lastAt, nextAfter, saidAt } from "../../src/browser/times.ts";

describe("the words at a moment", () => {
  test.each([
    ["before the first", 0.9, -1],
    ["at the first", 1, 0],
    ["between", 2.5, 1],
    ["at the last", 7, 3],
    ["after the last", 99, 3],
    ["two at once: the later", 3, 2],
  ])("%s", (_why, seconds, index) => {
    expect(lastAt([1, 2, 3, 7], seconds)).toBe(index);
  });
  test("nothing in an empty page", () => {
    expect(lastAt([], 3)).toBe(-1);
    expect(nextAfter([], 3)).toBeNull();
  });
  test("the next moment is after, never at", () => {
    expect(nextAfter([1, 2, 3], 2)).toBe(3);
    expect(nextAfter([1, 2, 3], 3)).toBeNull();
  });
});

describe("the captions at a moment", () => {
  const cues = [
    { name: "a", startTime: 1, endTime: 3 },
    { name: "b", startTime: 3, endTime: 5 },
    { name: "b too", startTime: 4, endTime: 5 },
    { name: "c", startTime: 7, endTime: 8 },
  ];
  test.each([
    ["before the first", 0.5, []],
    ["in one", 2, ["a"]],
    ["where two touch: the later alone", 3, ["b"]],
    ["a little before that, as a browser rounds", 2.999, ["b"]],
    ["two at once, as they were made", 4.5, ["b", "b too"]],
    ["between", 6, []],
    ["at the end of one", 8, []],
  ])("%s", (_why, seconds, names) => {
    expect(saidAt(cues, seconds).map(({ name }) => name)).toEqual(names);
  });
  test("of cues one after another there is never more than one", () => {
    const lengths = fc.array(fc.integer({ min: 1, max: 9000 }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(lengths, fc.integer({ min: 0, max: 360_000 }), (all, at) => {
        let end = 0;
        const touching = all.map((ms) => {
          end += ms;
          return { startTime: (end - ms) / 1000, endTime: end / 1000 };
        });
        expect(saidAt(touching, at / 1000).length).toBeLessThanOrEqual(1);
      }),
    );
  });
});

describe("stepping over what is withheld", () => {
  const agency = { from: 100, to: 120, why: "Withheld: agency pictures" };
  const touching = { from: 120, to: 130, why: "Withheld: a court order" };
  const last = { from: 200, to: 210, why: "Withheld until 2027" };
  const skips = [agency, touching, last];

  test.each([
    ["before it", 99.9, null],
    ["a breath before it: no sound gets out", 99.97, 130],
    ["at its beginning", 100, 130],
    ["in it, by a seek", 111, 130],
    ["in the one that touches it", 125, 130],
    ["at the end: it may be played", 130, null],
    ["as near to the end as a browser rounds", 129.997, null],
  ])("%s", (_why, seconds, to) => {
    expect(landingFrom(seconds, skips, 300)?.to ?? null).toBe(to);
  });
  test("says why, by the first of those that touch", () => {
    expect(landingFrom(101, skips, 300)?.why).toBe(agency.why);
  });
  test("stops before it where nothing comes after", () => {
    const landing = landingFrom(205, skips, 210.1);
    expect(landing?.halt).toBe(true);
    expect(landing?.to).toBeLessThan(200);
    expect(landingFrom(landing?.to ?? 0, skips, 210.1)).toBeNull();
  });
  test("a landing is never in a withheld stretch", () => {
    for (let seconds = 0; seconds < 300; seconds += 0.01) {
      const landing = landingFrom(seconds, skips, 300);
      if (landing !== null) expect(landingFrom(landing.to, skips, 300)).toBeNull();
    }
  });
  test("knows when the next one is due", () => {
    expect(nextSkip(0, skips)).toBeCloseTo(99.96);
    expect(nextSkip(130, skips)).toBeCloseTo(199.96);
    expect(nextSkip(250, skips)).toBeNull();
  });
  test.each([
    ["none given", undefined, 0],
    ["not JSON", "[{", 0],
    ["not a list", "{}", 0],
    ["not a stretch", '[{"from":3,"to":2,"why":""},null,7]', 0],
    ["one", '[{"from":1,"to":2,"why":"x"}]', 1],
  ])("the page's list: %s", (_why, text, count) => {
    expect(parseSkips(text)).toHaveLength(count);
  });
});

describe("the recording that is kept for the script", () => {
  const link = { src: "/2026-10-07/web.mp3", type: "audio/mpeg" };
  test.each([
    ["as the page has it", JSON.stringify([link, link]), [link, link]],
    ["not there", undefined, []],
    ["not JSON", "[", []],
    ["no list", JSON.stringify(link), []],
    ["what is no link is left out", JSON.stringify([null, 7, { src: 1, type: "a" }, link]), [link]],
  ])("%s", (_why, written, media) => {
    expect(parseMedia(written)).toEqual(media);
  });
});
