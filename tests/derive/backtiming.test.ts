import { expect, test } from "vitest";
import { orderTimes } from "../../src/derive/backtiming.ts";
import { clockMs } from "../../src/model/units.ts";

const segment = (slug: string, start: number, out: number, planned: number | null) => ({
  slug,
  in: clockMs(start * 1000),
  out: clockMs(out * 1000),
  planned: planned === null ? null : clockMs(planned * 1000),
});

// Worked by hand: a slot of five minutes with plans of 0:30, 2:00, none and 1:00.
test("planned against actual, the running total, and back-timing", () => {
  const { lines, total, overSlot } = orderTimes(
    [
      segment("headlines", 0, 35, 30),
      segment("ferries", 35, 150, 120),
      segment("break", 150, 210, null),
      segment("close", 210, 280, 60),
    ],
    300_000,
  );
  expect(lines.map(({ slug, over, total, totalOver, backTime }) => [slug, over, total, totalOver, backTime])).toEqual([
    ["headlines", 5000, 35_000, 5000, 30_000],
    ["ferries", -5000, 150_000, 0, 60_000],
    ["break", null, 210_000, 0, 180_000],
    ["close", 10_000, 280_000, 10_000, 240_000],
  ]);
  expect(total).toBe(280_000);
  expect(overSlot).toBe(-20_000);
});

test("no segments, no lines, the whole slot under", () => {
  expect(orderTimes([], 300_000)).toEqual({ lines: [], total: 0, overSlot: -300_000 });
});
