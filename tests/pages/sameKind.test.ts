import { expect, test } from "vitest";
import { linkTo } from "../../src/build/links.ts";
import { episodePages, type Neighbours } from "../../src/pages/episode.ts";
import { NO_ASSETS, pageContextOf } from "../../src/pages/site.ts";
import { episodeOn } from "../../src/record/day.ts";
import { type ShownEpisode, showEpisode } from "../../src/record/shown.ts";
import { entered, NOW, readTexts, type Texts, WRITTEN } from "../record/published.ts";
import { readArchive } from "../support/readArchive.ts";
import { DEMO } from "../support/site.ts";

const programme = readArchive(DEMO).archive?.programme;
if (programme === undefined) throw new Error("the demo has no programme");
const CONTEXT = pageContextOf(programme, NO_ASSETS);

function shownOf(texts: Texts): ShownEpisode {
  const { episode, content, findings } = readTexts(texts, NOW);
  if (episode === null || content === null) throw new Error(JSON.stringify(findings));
  const archived = { ...episode, record: texts["record.jsonl"] ?? null, merged: [], earlier: [] };
  return showEpisode(episodeOn(archived, NOW), NOW.slice(0, 10));
}

const evening = (from = "by:", to = from, more: Texts = {}): ShownEpisode => {
  const text = WRITTEN["episode.md"] ?? "";
  expect(text).toContain(from);
  return shownOf(entered({ ...WRITTEN, "episode.md": text.replace(from, to), ...more }, NOW));
};
const withheld = (slug: string) =>
  evening(
    `slug: ${slug},`,
    `slug: ${slug}, rights: { withheld: true, show: nothing, sound: in-file, because: "Agreed." },`,
  );
const slugs = (shown: ShownEpisode) => Object.values(linkTo(shown, CONTEXT).alone).map(({ href }) => href);

test("an edition leads to what it has once, by kind", () => {
  expect(linkTo(evening(), CONTEXT)).toMatchObject({
    day: "Monday 5 October 2026",
    alone: {
      headlines: { title: "Headlines", href: "/2026-10-05/headlines/" },
      package: { title: "Nine sailings", href: "/2026-10-05/ferry-timetable/" },
      // A correction gave it this title.
      close: { title: "Goodbye", href: "/2026-10-05/close/" },
    },
  });
});

test("not to one of two, nor to what is withheld or withdrawn", () => {
  expect(slugs(evening("kind: close", "kind: package"))).toEqual(["/2026-10-05/headlines/"]);
  expect(slugs(withheld("ferry-timetable"))).toEqual(["/2026-10-05/headlines/", "/2026-10-05/close/"]);
  const withdrawal = (front: string) => ({
    "corrections/2026-10-09-1.md": `---\ndated: 2026-10-09T09:00:00\nkind: withdrawal\n${front}signed: Standards editor\n---\nWe put it right.\n`,
  });
  expect(slugs(evening("by:", "by:", withdrawal("segment: ferry-timetable\n")))).toEqual([
    "/2026-10-05/headlines/",
    "/2026-10-05/close/",
  ]);
  expect(slugs(evening("by:", "by:", withdrawal("")))).toEqual([]);
});

const waysIn = (shown: ShownEpisode, neighbours: Neighbours, context = CONTEXT) =>
  Object.fromEntries(
    episodePages(shown, neighbours, context).flatMap(({ kind, page }) =>
      kind === "segment" ? [[page.segment.slug, page.sameKind]] : [],
    ),
  );

test("the hour of another edition is told where it is of the same day, or where the programme has several editions", () => {
  const beside = (hour: string) => evening("T18:30", `T${hour}`);
  const [midday, late] = [linkTo(beside("12:30"), CONTEXT), linkTo(beside("22:15"), CONTEXT)];
  expect(waysIn(evening(), { earlier: midday, later: late }).headlines).toMatchObject({
    earlier: { title: "Headlines, Monday 5 October 2026, 12:30" },
    later: { title: "Headlines, Monday 5 October 2026, 22:15" },
  });
  const another = { ...late, day: "Sunday 4 October 2026" };
  const [slot] = CONTEXT.programme.slots;
  if (slot === undefined) throw new Error("the demo has no slot");
  const slots = [slot, { ...slot, edition: "late" }];
  const several = { ...CONTEXT, programme: { ...CONTEXT.programme, slots } };
  expect(waysIn(evening(), { earlier: another, later: null }, several)["ferry-timetable"]?.earlier?.title).toBe(
    "Package, Sunday 4 October 2026, 22:15: Nine sailings",
  );
});

test("a segment's page leads to the same part of the editions beside it, where both have it once", () => {
  const earlier = { ...linkTo(withheld("close"), CONTEXT), day: "Sunday 4 October 2026" };
  const ways = waysIn(evening(), { earlier, later: null });
  expect(ways.headlines).toEqual({
    earlier: { title: "Headlines, Sunday 4 October 2026", href: "/2026-10-05/headlines/" },
    later: null,
  });
  expect(ways["ferry-timetable"]?.earlier?.title).toBe("Package, Sunday 4 October 2026: Nine sailings");
  expect(ways.close).toEqual({ earlier: null, later: null });
  expect(waysIn(evening("kind: close", "kind: package"), { earlier, later: null })["ferry-timetable"]).toBeNull();
});
