import { describe, expect, test } from "vitest";
import { holdingOf } from "../../src/derive/holdings.ts";
import type { Rights } from "../../src/model/episode.ts";
import { cutsOf, episode, segment } from "../support/episodes.ts";

const rights = (more: Partial<Rights>): Rights => ({
  withheld: true,
  until: null,
  holder: "Agency",
  show: "nothing",
  ...more,
});
const show = episode();

describe("what may be given of a segment", () => {
  test.each([
    ["not foreseen", rights({}), "2099-01-01", true, false],
    ["the day before", rights({ until: "2026-10-14" }), "2026-10-13", true, false],
    ["the day itself", rights({ until: "2026-10-14" }), "2026-10-14", false, true],
    ["words shown", rights({ show: "transcript" }), "2026-10-13", true, true],
    ["rights noted, nothing withheld", rights({ withheld: false }), "2026-10-13", false, true],
    ["no rights at all", null, "2026-10-13", false, true],
  ])("%s", (_why, own, day, withheld, words) => {
    expect(holdingOf(segment("talks", "0:10", "0:20", { rights: own }), show, day)).toMatchObject({ withheld, words });
  });

  test("what is still in the recording is stepped over", () => {
    const talks = segment("talks", "0:10", "0:20", { rights: rights({ show: "transcript" }) });
    expect(holdingOf(talks, show, "2026-10-13").skip).toEqual({ from: 10_000, to: 20_000 });
    expect(holdingOf(talks, { ...show, cuts: cutsOf([[10_000, 20_000]]) }, "2026-10-13").skip).toBeNull();
    expect(holdingOf(talks, { ...show, cuts: cutsOf([[2_000, 12_000]]) }, "2026-10-13").skip).toEqual({
      from: 2_000,
      to: 10_000,
    });
  });
});
