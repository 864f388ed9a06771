import { beforeAll, describe, expect, test } from "vitest";
import type { ArchivedEpisode } from "../../src/model/programme.ts";
import { isWithin } from "../../src/record/span.ts";
import { spanOf } from "../../src/record/spanOf.ts";
import { readArchive } from "../support/readArchive.ts";
import { DEMO } from "../support/site.ts";

let episodes: ReadonlyMap<string, ArchivedEpisode>;
beforeAll(async () => {
  const { archive } = readArchive(DEMO);
  episodes = new Map((archive?.episodes ?? []).map((episode) => [episode.id, episode]));
});

/** The end of a day, as a build takes it. */
const endOf = (day: string): string => `${day}T23:59:59.999+01:00`;

/** Whether what was made on one day still holds on another. */
function holds(id: string, made: string, on: string): boolean {
  const episode = episodes.get(id);
  if (episode === undefined) throw new Error(`the demo has no ${id}`);
  // Without its record: a correction is entered when it is dated, and would hide that it counts by itself.
  return isWithin(spanOf({ ...episode, record: null }, endOf(made), made), endOf(on), on);
}

describe("an episode stays as it is between the moments that concern it", () => {
  test.each([
    ["nothing comes any more", "2026-10-05", "2026-11-01", "2030-01-01", true],
    ["nor was there anything else since", "2026-10-05", "2030-01-01", "2026-11-01", true],
    ["it airs in between", "2026-10-06", "2026-10-05", "2026-10-06", false],
    ["before it airs, any day is like another", "2026-10-06", "2026-09-01", "2026-10-01", true],
    ["a correction is dated in between", "2026-10-06", "2026-10-06", "2026-10-07", false],
    ["and back", "2026-10-06", "2026-10-07", "2026-10-06", false],
    ["rights lapse in between", "2026-10-07", "2026-10-13", "2026-10-14", false],
    ["and back", "2026-10-07", "2026-10-14", "2026-10-13", false],
  ])("%s: %s, made on %s, seen on %s", (_why, id, made, on, same) => {
    expect(holds(id, made, on)).toBe(same);
  });
});
