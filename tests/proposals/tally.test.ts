import { expect, test } from "vitest";
import { leftOutOf, type Outcome, tallyOf } from "../bench/proposalTally.ts";

type Kind = "clear" | "doubtful" | "at a cut";
const outcome = (kind: Kind, broadcast: string, of: string, right: boolean): Outcome<Kind> => ({
  kind,
  broadcast,
  of,
  right,
});
const MEASURED = tallyOf<Kind>(
  ["clear", "doubtful", "at a cut"],
  [
    outcome("clear", "monday", "sport", true),
    outcome("clear", "monday", "sport", true),
    outcome("clear", "monday", "weather", true),
    outcome("clear", "monday", "weather", false),
    outcome("doubtful", "monday", "weather", true),
    outcome("clear", "tuesday", "sport", true),
    outcome("clear", "wednesday", "sport", false),
  ],
);

test("each counts once a kind and broadcast, and as right where it always was", () => {
  expect(MEASURED).toEqual({
    clear: { monday: { right: 1, of: 2 }, tuesday: { right: 1, of: 1 }, wednesday: { right: 0, of: 1 } },
    doubtful: { monday: { right: 1, of: 1 } },
    "at a cut": {},
  });
});

test("of a broadcast left out, what is stated comes from the others alone", () => {
  expect(leftOutOf(MEASURED)).toEqual([
    { kind: "clear", broadcast: "monday", stated: { right: 1, of: 2 }, true: { right: 1, of: 2 } },
    { kind: "clear", broadcast: "tuesday", stated: { right: 1, of: 3 }, true: { right: 1, of: 1 } },
    { kind: "clear", broadcast: "wednesday", stated: { right: 2, of: 3 }, true: { right: 0, of: 1 } },
    { kind: "doubtful", broadcast: "monday", stated: { right: 0, of: 0 }, true: { right: 1, of: 1 } },
  ]);
});
