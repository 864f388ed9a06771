import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseClock } from "../../src/model/clock.ts";
import { mediaSpan, programmeEnd, toEpisode, toMedia, toMediaEdge } from "../../src/model/timeMap.ts";
import { clockMs, mediaMs } from "../../src/model/units.ts";
import { cutsOf, timed } from "../support/episodes.ts";

const at = (text: string) => clockMs(parseClock(text) ?? Number.NaN);
/** The break of half an hour; an agency item cut right after it; a cut at the very start. Aired times. */
const BREAK = timed(["13:20", "15:05"]);
const TOUCHING = timed(["4:51.464", "5:15.714"], ["5:15.714", "5:53.019"]);
const START = timed(["0:00", "0:10"]);

describe("an aired moment in the media", () => {
  test.each([
    ["before the break", BREAK, "13:19.960", "13:19.960"],
    ["the break's first moment is gone", BREAK, "13:20", null],
    ["in the break", BREAK, "14:00", null],
    ["its last millisecond", BREAK, "15:04.999", null],
    ["the moment it ends is there", BREAK, "15:05", "13:20"],
    ["long after", BREAK, "27:52", "26:07"],
    ["at the seam of two cuts that touch", TOUCHING, "5:15.714", null],
    ["after both", TOUCHING, "5:53.019", "4:51.464"],
    ["cut from the start", START, "0:10", "0:00"],
  ])("%s", (_why, cuts, aired, expected) => {
    expect(toMedia(at(aired), cuts)).toBe(expected === null ? null : parseClock(expected));
  });

  test("where times are the media's own, cuts change nothing", () => {
    expect(toMedia(at("14:00"), { ...BREAK, clock: "media" })).toBe(parseClock("14:00"));
  });

  test("a moment in a cut maps to its edge", () => {
    expect(toMediaEdge(at("14:00"), BREAK)).toBe(parseClock("13:20"));
    expect(toMediaEdge(at("5:20"), TOUCHING)).toBe(parseClock("4:51.464"));
  });
});

describe("stretches", () => {
  test.each([
    ["wholly cut", TOUCHING, "5:15.714", "5:53.019", null],
    ["over the seam", BREAK, "13:00", "15:25", ["13:00", "13:40"]],
    ["begins in the cut", BREAK, "14:00", "15:15", ["13:20", "13:30"]],
    ["ends in the cut", BREAK, "13:10", "14:00", ["13:10", "13:20"]],
  ])("%s", (_why, cuts, from, to, expected) => {
    const span = mediaSpan(at(from), at(to), cuts);
    expect(span === null ? null : [span.from, span.to]).toEqual(expected?.map(parseClock) ?? null);
  });

  test("the programme ends after its media and its cuts", () => {
    expect(programmeEnd({ ...TOUCHING, duration: mediaMs(413_910) })).toBe(475_465);
  });
});

/** Sorted, disjoint cuts that may touch. */
const someCuts = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 50_000 }), fc.integer({ min: 1, max: 50_000 })), { maxLength: 6 })
  .map((steps) => {
    let now = 0;
    return steps.map(([gap, length]): [number, number] => {
      const from = now + gap;
      now = from + length;
      return [from, now];
    });
  })
  .map((pairs) => ({ clock: "aired" as const, cuts: cutsOf(pairs) }));
const moment = fc.integer({ min: 0, max: 900_000 }).map(clockMs);

describe("whatever the cuts", () => {
  test("the map never runs back, and a later moment is never earlier in the media", () => {
    fc.assert(
      fc.property(someCuts, moment, moment, (cuts, a, b) => {
        const [first, second] = a <= b ? [a, b] : [b, a];
        expect(toMediaEdge(first, cuts)).toBeLessThanOrEqual(toMediaEdge(second, cuts));
      }),
    );
  });

  test("there and back is the same moment, where the media has it", () => {
    fc.assert(
      fc.property(someCuts, moment, (cuts, aired) => {
        const media = toMedia(aired, cuts);
        if (media === null) return;
        expect(toEpisode(media, cuts)).toBe(aired);
        expect(toMediaEdge(aired, cuts)).toBe(media);
      }),
    );
  });

  test("the edge of a cut moment is where the media goes on", () => {
    fc.assert(
      fc.property(someCuts, moment, (cuts, aired) => {
        if (toMedia(aired, cuts) !== null) return;
        const on = toEpisode(toMediaEdge(aired, cuts), cuts);
        expect(on).toBeGreaterThan(aired);
      }),
    );
  });
});
