import { expect, test } from "vitest";
import { weekdaysOf } from "../../src/derive/slotDays.ts";
import { findSlot } from "../../src/derive/slots.ts";
import type { Slot } from "../../src/model/programme.ts";
import { slotLine } from "../../src/pages/site.ts";

const slot = (at: string, edition: string | null = null, days = "weeknights"): Slot => ({ at, runs: 1, days, edition });
const TWO = [slot("07:00"), slot("18:30")];
const LATE = [slot("18:30"), slot("22:30", "late")];

test.each([
  ["none is named", [], "2026-10-05", "18:30", undefined],
  ["the one there is, however far off", [slot("18:30")], "2026-10-05", "03:00", "18:30"],
  ["the nearer of two", TWO, "2026-10-05", "07:20", "07:00"],
  ["the other one", TWO, "2026-10-05-late", "18:31", "18:30"],
  ["near over midnight", [slot("00:10"), slot("18:30")], "2026-10-05", "23:50", "00:10"],
  ["an edition's own, whenever it went out", LATE, "2026-10-05-late", "18:30", "22:30"],
  ["the day's first edition is never another's", LATE, "2026-10-05", "22:30", "18:30"],
  ["an edition that no slot names", LATE, "2026-10-05-noon", "22:00", "18:30"],
])("the slot: %s", (_why, slots, id, time, at) => {
  expect(findSlot(slots, { id, aired: `2026-10-05T${time}:00+01:00` })?.at).toBe(at);
});

test.each([
  ["weeknights", [1, 2, 3, 4, 5]],
  ["every weekday", [1, 2, 3, 4, 5]],
  ["every day", [1, 2, 3, 4, 5, 6, 7]],
  ["daily", [1, 2, 3, 4, 5, 6, 7]],
  ["weekends", [6, 7]],
  ["Mondays and Thursdays", [1, 4]],
  ["Mon, Wed & Fri", [1, 3, 5]],
  ["Monday to Thursday", [1, 2, 3, 4]],
  ["Sat-Mon", [1, 6, 7]],
  ["Tuesday evenings", [2]],
  ["the first Sunday of the month", null],
  ["constructor", null],
  ["Mo-Fr-Su", null],
  ["", null],
])("the days of %s", (days, numbers) => {
  expect(weekdaysOf(days)).toEqual(numbers);
});

const BY = "Verrin Islands Broadcasting";
test.each([
  [[], null, null],
  [[], BY, `is broadcast by ${BY}.`],
  [[slot("18:30")], null, "is broadcast on weeknights at 18:30."],
  [LATE, BY, `is broadcast on weeknights at 18:30 and 22:30 by ${BY}.`],
  [
    [slot("18:30"), slot("09:00", null, "Saturdays")],
    BY,
    `is broadcast on weeknights at 18:30 and on Saturdays at 09:00 by ${BY}.`,
  ],
])("what stands under every page: %#", (slots, station, line) => {
  expect(slotLine({ slots, station })).toBe(line);
});
