import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { formatClock, formatClockExact, isoDuration, parseClock } from "../../src/model/clock.ts";

describe("clock times", () => {
  test.each([
    ["0:00", 0],
    ["3:41", 221_000],
    ["13:20", 800_000],
    ["120:00", 7_200_000],
    ["1:03:41", 3_821_000],
    ["4:51.464", 291_464],
    ["0:00.5", 500],
    ["14:75", null],
    ["1:60:00", null],
    ["3:4", null],
    ["90", null],
    ["-1:00", null],
    ["3:41.1234", null],
    [" 3:41", null],
    ["3:41\n", null],
  ])("%j is %s ms", (text, ms) => expect(parseClock(text)).toBe(ms));

  test("what is written is read back exactly", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100 * 3_600_000 }), (ms) => {
        expect(parseClock(formatClockExact(ms))).toBe(ms);
      }),
    );
  });

  test("a clock never shows a second that has not begun", () => expect(formatClock(221_999)).toBe("3:41"));

  // ISO 8601 durations, RFC 3339 appendix A: PT27M52S is 1672 s.
  test.each([
    [1_672_000, "PT27M52S"],
    [0, "PT0S"],
    [3_600_000, "PT1H0M0S"],
  ])("%i ms lasts %s", (ms, iso) => expect(isoDuration(ms)).toBe(iso));
});
