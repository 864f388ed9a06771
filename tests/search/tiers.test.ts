import { describe, expect, test } from "vitest";
import { tierOf } from "../../src/search/tiers.ts";

describe("tiers of the search index", () => {
  test.each([
    ["a month of the newest year", "2026-10-05", "2026", "2026-10"],
    ["a second edition", "2026-10-05-late", "2026", "2026-10"],
    ["the first two months of a closed year", "2019-01-01", "2026", "2019-01-to-02"],
    ["the same", "2019-02-28", "2026", "2019-01-to-02"],
    ["the next two", "2019-03-01", "2026", "2019-03-to-04"],
    ["two in the middle", "2019-08-31", "2026", "2019-07-to-08"],
    ["the last two months of a closed year", "2019-11-01", "2026", "2019-11-to-12"],
    ["the same", "2019-12-31-late", "2026", "2019-11-to-12"],
    ["later than anything published", "2027-03-01", "2026", "2027-03-to-04"],
    ["nothing published yet but drafts", "2026-10-05", "", "2026-10"],
  ])("%s", (_why, id, newest, tier) => {
    expect(tierOf(id, newest)).toBe(tier);
  });
});
