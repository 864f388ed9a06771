import { describe, expect, test } from "vitest";
import { tierOf } from "../../src/search/tiers.ts";

describe("tiers of the search index", () => {
  test.each([
    ["a month of the newest year", "2026-10-05", "2026", "2026-10"],
    ["a second edition", "2026-10-05-late", "2026", "2026-10"],
    ["the first third of a closed year", "2019-04-30", "2026", "2019-01-to-04"],
    ["the second third of a closed year", "2019-05-01", "2026", "2019-05-to-08"],
    ["the same", "2019-08-31", "2026", "2019-05-to-08"],
    ["the last third of a closed year", "2019-09-01", "2026", "2019-09-to-12"],
    ["later than anything published", "2027-03-01", "2026", "2027-01-to-04"],
    ["nothing published yet but drafts", "2026-10-05", "", "2026-10"],
  ])("%s", (_why, id, newest, tier) => {
    expect(tierOf(id, newest)).toBe(tier);
  });
});
