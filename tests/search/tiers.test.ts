import { describe, expect, test } from "vitest";
import { tierOf } from "../../src/search/tiers.ts";

describe("tiers of the search index", () => {
  test.each([
    ["a month of the newest year", "2026-10-05", "2026", "2026-10"],
    ["a second edition", "2026-10-05-late", "2026", "2026-10"],
    ["a closed year", "2019-10-05", "2026", "2019"],
    ["later than anything published", "2027-01-01", "2026", "2027"],
  ])("%s", (_why, id, newest, tier) => {
    expect(tierOf(id, newest)).toBe(tier);
  });
});
