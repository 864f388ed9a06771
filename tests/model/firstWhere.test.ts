import { expect, test } from "vitest";
import { firstWhere } from "../../src/model/firstWhere.ts";

test.each([
  ["none", [false, false, false], 3],
  ["all", [true, true], 0],
  ["the last", [false, false, true], 2],
  ["of nothing", [], 0],
])("%s", (_why, holds, first) => {
  expect(firstWhere(holds.length, (n) => holds[n] === true)).toBe(first);
});
