import { expect, test } from "vitest";
import { heardSpans } from "../../src/listen/heardSpans.ts";
import { clockMs } from "../../src/model/units.ts";

const division = { stretches: [{ kind: "speech" as const, start: 0, end: 60_000 }], pauses: [] };

test("words and names that are heard stand in the episode's clock", async () => {
  const cuts = [{ from: clockMs(20_000), to: clockMs(50_000), why: "break", proposed: false }];
  const heard = await heardSpans(
    ["Good", "evening."],
    [
      { start: 60_000, end: 60_400 },
      { start: 60_400, end: 61_000 },
    ],
    { clock: "aired", cuts },
    70_000,
    {
      align: (rough) => ({
        words: rough.map(({ from, to }) => ({ start: from + 100, end: to, fit: 1 })),
        names: [{ name: "Ruan Skelland", start: 35_000, end: 36_000, fit: 1 }],
      }),
      division,
    },
  );
  expect(heard?.spans[0]).toEqual({ start: 60_100, end: 60_400 });
  expect(heard?.names).toEqual([{ name: "Ruan Skelland", start: 65_000, end: 66_000, fit: 1 }]);
});
