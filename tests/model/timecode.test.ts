import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type FrameRate, frameOf, frameToMs, labelOf, nearestFrame, parseTimecode } from "../../src/model/timecode.ts";

// Check values: SMPTE ST 12-1 as digested in the standards folder, time.md §1, computed there over a whole day.
describe("drop-frame labels at 29.97", () => {
  test.each([
    ["00:00:00;00", 0, 0],
    ["00:00:59;29", 1799, 60_027],
    ["00:01:00;02", 1800, 60_060],
    ["00:01:59;29", 3597, 120_020],
    ["00:02:00;02", 3598, 120_053],
    ["00:09:59;29", 17_981, 599_966],
    ["00:10:00;00", 17_982, 599_999],
    ["00:10:59;29", 19_781, 660_026],
    ["00:11:00;02", 19_782, 660_059],
    ["00:27:52;00", 50_110, 1_672_004],
    ["01:00:00;00", 107_892, 3_599_996],
    ["12:00:00;00", 1_294_704, 43_199_957],
    ["23:59:59;29", 2_589_407, 86_399_880],
    ["00:27:48;10", 50_000, 1_668_333],
    ["00:55:36;20", 100_000, 3_336_667],
  ])("%s", (label, frame, ms) => {
    expect(frameOf(label, 29.97)).toBe(frame);
    expect(labelOf(frame, 29.97, "drop")).toBe(label);
    expect(frameToMs(frame, 29.97)).toBe(ms);
    expect(parseTimecode(label, 29.97)).toBe(ms);
  });

  test("a day begins again at its end", () => expect(labelOf(2_589_408, 29.97, "drop")).toBe("00:00:00;00"));
  test("the frame nearest to a minute", () => {
    expect(nearestFrame(60_000, 29.97)).toBe(1798);
    expect(labelOf(1798, 29.97, "drop")).toBe("00:00:59;28");
  });
});

describe("non-drop labels", () => {
  test.each([
    ["00:01:00:00", 29.97, 1800, 60_060],
    ["01:00:00:00", 29.97, 108_000, 3_603_600],
    ["00:13:20:00", 25, 20_000, 800_000],
    ["00:13:19:24", 25, 19_999, 799_960],
    ["23:59:59:24", 25, 2_159_999, 86_399_960],
    ["00:00:01:15", 30, 45, 1500],
  ] as const)("%s at %d", (label, rate, frame, ms) => {
    expect(frameOf(label, rate)).toBe(frame);
    expect(labelOf(frame, rate)).toBe(label);
    expect(frameToMs(frame, rate)).toBe(ms);
  });
});

describe("what is no label", () => {
  test.each([
    ["the first label that a minute drops", "00:01:00;00", 29.97],
    ["the second one", "00:01:00;01", 29.97],
    ["frames at the rate", "00:00:00:25", 25],
    ["frames at 30", "00:00:00:30", 30],
    ["sixty seconds", "00:00:60:00", 25],
    ["sixty minutes", "00:60:00:00", 25],
    ["the end of the day", "24:00:00:00", 25],
    ["drop-frame at a rate that drops none", "00:00:10;00", 25],
    ["one digit of frames", "00:00:10:0", 25],
    ["words", "ten past", 25],
  ] as const)("%s", (_why, label, rate) => expect(frameOf(label, rate)).toBeNull());
});

test("a clock time is read where there is no label", () => {
  expect(parseTimecode("13:20", 25)).toBe(800_000);
  expect(parseTimecode("1:13:20.5", 25)).toBe(4_400_500);
  expect(parseTimecode("14:75", 25)).toBeNull();
});

test("every frame of a day has one label, which leads back to it", () => {
  const rates = fc.constantFrom<readonly [FrameRate, "drop" | "non-drop", number]>(
    [25, "non-drop", 2_160_000],
    [30, "non-drop", 2_592_000],
    [29.97, "non-drop", 2_592_000],
    [29.97, "drop", 2_589_408],
  );
  fc.assert(
    fc.property(rates, fc.nat({ max: 2_589_407 }), ([rate, counting, day], n) => {
      const frame = n % day;
      expect(frameOf(labelOf(frame, rate, counting), rate)).toBe(frame);
      expect(nearestFrame(frameToMs(frame, rate), rate)).toBe(frame);
    }),
    { numRuns: 3000 },
  );
});
