import { expect, test } from "vitest";
import { type ByBroadcast, POINTS_MEASURED, SPEAKERS_MEASURED } from "../../src/model/proposal.ts";
import { FIXTURE, measuredFrom, outcomesOf } from "../bench/proposals.ts";

// Outside check: the in points and speakers of the broadcast as it was made.
test("the table has what comes of the proposals for the broadcast in the fixtures", async () => {
  const { points, speakers } = measuredFrom(await outcomesOf(FIXTURE));
  const own = (measured: Readonly<Record<string, ByBroadcast>>) =>
    Object.fromEntries(Object.entries(measured).map(([kind, tallies]) => [kind, tallies[FIXTURE.id]]));
  expect(own(points)).toEqual(own(POINTS_MEASURED));
  expect(own(speakers)).toEqual(own(SPEAKERS_MEASURED));
});
