import { expect, test } from "vitest";
import { episodePages } from "../../src/pages/episode.ts";
import { NO_ASSETS, pageContextOf } from "../../src/pages/site.ts";
import type { WalkEpisode } from "../../src/pages/walk.ts";
import { walkOf } from "../../src/pages/walkEpisode.ts";
import { episodeOn } from "../../src/record/day.ts";
import { type ShownEpisode, showEpisode } from "../../src/record/shown.ts";
import { entered, NOW, readTexts, type Texts, WRITTEN } from "../record/published.ts";
import { readArchive } from "../support/readArchive.ts";
import { DEMO } from "../support/site.ts";

const programme = readArchive(DEMO).archive?.programme;
if (programme === undefined) throw new Error("the demo has no programme");
const CONTEXT = pageContextOf(programme, NO_ASSETS);

function shownOf(texts: Texts, on = NOW): ShownEpisode {
  const { episode, content, findings } = readTexts(texts, on);
  if (episode === null || content === null) throw new Error(JSON.stringify(findings));
  const archived = { ...episode, record: texts["record.jsonl"] ?? null, merged: [], earlier: [] };
  return showEpisode(episodeOn(archived, on), on.slice(0, 10));
}

/** The evening with another line for a segment, with more corrections. */
const written = (from: string, to: string, corrections: Readonly<Record<string, string>> = {}): Texts => {
  const episode = WRITTEN["episode.md"] ?? "";
  expect(episode).toContain(from);
  const more = Object.entries(corrections).map(([id, front]) => {
    return [`corrections/${id}.md`, `---\n${front}\nsigned: Standards editor\n---\nWe put it right.\n`] as const;
  });
  return entered({ ...WRITTEN, "episode.md": episode.replace(from, to), ...Object.fromEntries(more) }, NOW);
};
const withRights = (rights: string) =>
  written("summary: What is left. }", `summary: What is left., rights: ${rights} }`);
const names = (walk: WalkEpisode | null, list: "speakers" | "topics") => [
  ...new Set(walk?.segments.flatMap((own) => own.names[list].map(({ name }) => name))),
];

test("an evening has its segments with their names, and the dates of their corrections", () => {
  const walk = walkOf(shownOf(entered(WRITTEN)));
  expect(walk?.segments.map(({ slug, corrections }) => [slug, corrections.map(({ id }) => id)])).toEqual([
    ["headlines", ["2026-10-06-1", "2026-10-07-1"]],
    ["ferry-timetable", []],
    ["close", ["2026-10-07-2"]],
  ]);
  expect(names(walk, "speakers")).toEqual(["Tamsin Hathersay", "Ilse Marrane"]);
  expect(names(walk, "topics")).toEqual(["transport"]);
  // Where a correction quotes words, none of them go along.
  expect(JSON.stringify(walk)).not.toMatch(/Osric|Osmund|eleven/);
});

test.each([
  ["words and sound", '{ withheld: true, show: nothing, sound: in-file, because: "Agreed." }'],
  ["sound alone", '{ withheld: true, show: transcript, sound: in-file, because: "Agreed." }'],
])("what is withheld is in none, nor who is heard in it alone: %s", (_what, rights) => {
  const shown = shownOf(withRights(rights));
  const walk = walkOf(shown);
  expect(walk?.segments.map(({ slug }) => slug)).toEqual(["headlines", "close"]);
  expect([names(walk, "speakers"), names(walk, "topics")]).toEqual([["Tamsin Hathersay"], []]);
  expect(JSON.stringify(episodePages(shown, { earlier: null, later: null }, CONTEXT))).not.toMatch(
    /speakers\/ilse-marrane|topics\/transport/,
  );
});

test("what is withheld until a day is there from that day on", () => {
  const texts = withRights('{ withheld: true, until: 2026-10-19, show: nothing, sound: in-file, because: "Agreed." }');
  const day = (date: string) => names(walkOf(shownOf(texts, `${date}T12:00:00.000Z`)), "topics");
  expect([day("2026-10-18"), day("2026-10-19")]).toEqual([[], ["transport"]]);
});

test.each([
  ["a segment", "kind: withdrawal\nsegment: ferry-timetable", ["headlines", "close"]],
  ["the whole evening", "kind: withdrawal", undefined],
])("what is withdrawn is in none: %s", (_what, front, slugs) => {
  const texts = written("Fewer ferries", "Fewer ferries", { "2026-10-09-1": `dated: 2026-10-09T09:00:00\n${front}` });
  const walk = walkOf(shownOf(texts));
  expect(walk?.segments.map(({ slug }) => slug)).toEqual(slugs);
  expect(names(walk, "topics")).toEqual([]);
});

test("a story's name goes along with its segment, and away with it", () => {
  const named = "by: [Ilse Marrane], story: The winter timetable";
  const stories = (texts: Texts) => walkOf(shownOf(texts))?.segments.flatMap(({ story }) => story ?? []);
  expect(stories(written("by: [Ilse Marrane]", named))).toEqual([
    { name: "The winter timetable", slug: "the-winter-timetable" },
  ]);
  const withdrawal = { "2026-10-09-1": "dated: 2026-10-09T09:00:00\nkind: withdrawal\nsegment: ferry-timetable" };
  const gone = written("by: [Ilse Marrane]", named, withdrawal);
  expect(stories(gone)).toEqual([]);
  expect(JSON.stringify(shownOf(gone))).not.toContain("winter");
});

test("a segment's page leads to its story, and to what is before and after it there", () => {
  const line = {
    story: { title: "The winter timetable", href: "/stories/the-winter-timetable/" },
    earlier: { title: "The winter timetable, Thursday 1 October 2026: Fewer ferries", href: "/2026-10-01/ferries/" },
    later: null,
  };
  const beside = { earlier: null, later: null };
  const pages = episodePages(shownOf(WRITTEN), beside, CONTEXT, { "ferry-timetable": line });
  const told = pages.flatMap(({ kind, page }) =>
    kind === "segment" && (page.story !== null || page.boxes.some(({ label }) => label === "Story")) ? [page] : [],
  );
  expect(told.map(({ segment }) => segment.slug)).toEqual(["ferry-timetable"]);
  expect(told[0]?.story).toEqual(line);
  expect(told[0]?.boxes).toContainEqual({
    label: "Story",
    entries: [{ text: "The winter timetable", href: "/stories/the-winter-timetable/" }],
  });
  expect(JSON.stringify(episodePages(shownOf(WRITTEN), beside, CONTEXT))).not.toContain("/stories/the");
});

test("who was corrected to another name is in the list by that one alone", () => {
  const front =
    "dated: 2026-10-09T09:00:00\nkind: transcript\nfield: speaker\nsegment: ferry-timetable\nat: 0:16\nsaid: Ilse Marrane\nnow: Ilsa Marran";
  const other =
    "dated: 2026-10-09T09:00:00\nkind: transcript\nfield: speaker\nsegment: ferry-timetable\nat: 0:21\nsaid: Ilse Marrane\nnow: Ilsa Marran";
  const texts = written("Fewer ferries", "Fewer ferries", { "2026-10-09-1": front, "2026-10-09-2": other });
  expect(names(walkOf(shownOf(texts)), "speakers")).toEqual(["Tamsin Hathersay", "Ilsa Marran"]);
});

test("every link to a name's page has one, and its author who is not heard is searched for", () => {
  const shown = shownOf(written("by: [Ilse Marrane]", "by: [Ilse Marrane, Joss Tolvey], places: [Señá, 日本]"));
  const text = JSON.stringify(episodePages(shown, { earlier: null, later: null }, CONTEXT));
  const linked = [...text.matchAll(/"(?:speakers|topics|places|\/(?:speakers|topics|places))\/[^"]+/g)].map(([own]) =>
    own.slice(1),
  );
  const walk = walkOf(shown);
  const there = walk?.segments.flatMap((own) =>
    Object.entries(own.names).flatMap(([list, all]) => all.map(({ slug }) => `/${list}/${slug}/`)),
  );
  expect([...new Set(linked)].sort()).toEqual([...new Set(there)].sort());
  expect(linked).toEqual(expect.arrayContaining(["/places/sena/", "/places/65e5-672c/", "/topics/transport/"]));
  expect(text).toContain("speaker=Joss+Tolvey");
});
