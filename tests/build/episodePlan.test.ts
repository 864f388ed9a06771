import { expect, test } from "vitest";
import { planEpisode } from "../../src/build/episodePlan.ts";
import { seeEpisode } from "../../src/build/readEpisode.ts";
import { NO_ASSETS, pageContextOf } from "../../src/pages/site.ts";
import { listEpisodes, readEpisodeSources, readProgrammeSources } from "../../src/read/folder.ts";
import { parseProgramme } from "../../src/read/programme.ts";

const CONTENT = "content";
const { programme } = parseProgramme(readProgrammeSources(CONTENT).sources);

/** An evening of the demo with an item that was withdrawn. */
const [evening] = listEpisodes(CONTENT).episodes.filter(({ id }) => id === "2026-10-06");

test("in search results an evening is drawn as on the front page, what was withdrawn hatched in both", () => {
  if (programme === null || evening === undefined) throw new Error("the demo has changed");
  const day = { date: "2026-11-30", until: "2026-11-30T23:59:59Z" };
  const { sources, findings } = readEpisodeSources(CONTENT, evening);
  const readContext = { programme, day, drafts: false, now: "2026-12-01T12:00:00.000Z" };
  const { shown } = seeEpisode(sources, findings, readContext, null);
  if (shown === null) throw new Error("the evening is not shown");
  const plan = planEpisode(shown, { earlier: null, later: null }, pageContextOf(programme, NO_ASSETS));
  const { runs, studio, others, held } = plan.listing.summary.card.strip;
  expect(held.length).toBeGreaterThan(0);
  const strips = plan.search.flatMap((entry) => (entry.is === "segment" && entry.strip !== null ? [entry.strip] : []));
  expect(strips.length).toBeGreaterThan(3);
  for (const strip of strips) expect(strip).toMatchObject({ runs, studio, others, held });
});
