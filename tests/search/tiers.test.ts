import { describe, expect, test } from "vitest";
import { tierOf } from "../../src/search/tiers.ts";

describe("tiers of the search index", () => {
  test.each([
    ["a month of the newest year", "2026-10-05", "2026", "2026-10"],
    ["a second edition", "2026-10-05-late", "2026", "2026-10"],
    ["the first half of a closed year", "2019-06-30", "2026", "2019-01"],
    ["the second half of a closed year", "2019-07-01", "2026", "2019-07"],
    ["later than anything published", "2027-03-01", "2026", "2027-01"],
    ["nothing published yet but drafts", "2026-10-05", "", "2026-10"],
  ])("%s", (_why, id, newest, tier) => {
    expect(tierOf(id, newest)).toBe(tier);
  });
});
