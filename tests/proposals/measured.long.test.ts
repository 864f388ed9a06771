import { expect, test } from "vitest";
import { type ByBroadcast, POINTS_MEASURED, SPEAKERS_MEASURED } from "../../src/model/proposal.ts";
import { COUNTED, measuredFrom, outcomesOf } from "../bench/proposals.ts";

// Outside check: the in points and speakers of the broadcast as it was made.
test("the table has what comes of the proposals for a broadcast by which nothing was set", async () => {
  const { points, speakers } = measuredFrom(await outcomesOf(COUNTED));
  const own = (measured: Readonly<Record<string, ByBroadcast>>) =>
    Object.fromEntries(Object.entries(measured).map(([kind, tallies]) => [kind, tallies[COUNTED.id]]));
  expect(own(points)).toEqual(own(POINTS_MEASURED));
  expect(own(speakers)).toEqual(own(SPEAKERS_MEASURED));
});
