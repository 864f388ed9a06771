import { expect, test } from "vitest";
import { episodePages } from "../../src/pages/episode.ts";
import { placesOfCorrections } from "../../src/pages/places.ts";
import { NO_ASSETS, pageContextOf } from "../../src/pages/site.ts";
import { episodeOn } from "../../src/record/day.ts";
import { type ShownEpisode, showEpisode } from "../../src/record/shown.ts";
import { entered, NOW, readTexts, WRITTEN } from "../record/published.ts";
import { readArchive } from "../support/readArchive.ts";
import { DEMO } from "../support/site.ts";

const programme = readArchive(DEMO).archive?.programme;
if (programme === undefined) throw new Error("the demo has no programme");
const CONTEXT = pageContextOf(programme, NO_ASSETS);

/** The evening with a line of it written otherwise, and one more correction. */
function evening(from = "", to = "", correction: string | null = null): ShownEpisode {
  const front = WRITTEN["episode.md"] ?? "";
  expect(front).toContain(from);
  const more =
    correction === null
      ? {}
      : { "corrections/2026-10-08-1.md": `---\n${correction}\nsigned: Standards editor\n---\nWe put it right.\n` };
  const texts = entered({ ...WRITTEN, "episode.md": front.replace(from, to), ...more }, NOW);
  const { episode, findings } = readTexts(texts, NOW);
  if (episode === null) throw new Error(JSON.stringify(findings));
  const archived = { ...episode, record: texts["record.jsonl"] ?? null, merged: [], earlier: [] };
  return showEpisode(episodeOn(archived, NOW), NOW.slice(0, 10));
}
const placesIn = (shown: ShownEpisode) => Object.fromEntries(placesOfCorrections(shown, CONTEXT));
const HEADLINES = "in: 0:00, by: [Tamsin Hathersay] }";

test("words are heard at the caption that they begin in; a correction of the page's own text has no place", () => {
  const title = "Headlines";
  expect(placesIn(evening())).toEqual({
    "2026-10-06-1": [{ title, href: "/2026-10-05/headlines/#t=0", clock: "0:00" }],
    "2026-10-07-1": [{ title, href: "/2026-10-05/headlines/#t=10", clock: "0:10" }],
  });
});

test("what may be read and not heard has its segment, and no time", () => {
  const rights = 'rights: { withheld: true, show: transcript, sound: in-file, because: "Agreed." } }';
  const places = placesIn(evening(HEADLINES, `in: 0:00, by: [Tamsin Hathersay], ${rights}`));
  const own = [{ title: "Headlines", href: "/2026-10-05/headlines/", clock: null }];
  expect(places).toEqual({ "2026-10-06-1": own, "2026-10-07-1": own });
});

test.each([
  ["withheld", 'rights: { withheld: true, show: nothing, sound: in-file, because: "Agreed." } }', null],
  ["withdrawn", null, "dated: 2026-10-08T09:00:00\nkind: withdrawal\nsegment: headlines"],
])("what is %s has none", (_why, rights, correction) => {
  const to = rights === null ? HEADLINES : `in: 0:00, by: [Tamsin Hathersay], ${rights}`;
  expect(placesIn(evening(HEADLINES, to, correction))).toEqual({});
});

test.each([
  ["a segment withdrawn", "kind: withdrawal\nsegment: close", "A segment is withdrawn", "The segment is withdrawn"],
  ["the episode withdrawn", "kind: withdrawal", "The episode is withdrawn", null],
  [
    "the episode's title",
    "kind: page\nfield: title\nsaid: Fewer ferries\nnow: Nine",
    "Page error on the whole episode",
    null,
  ],
  ["words", "kind: on-air\nsegment: close\nsaid: That is all", null, null],
])("what must be read first is said on the page it concerns: %s", (_what, correction, onEpisode, onSegment) => {
  const pages = episodePages(
    evening("", "", `dated: 2026-10-08T09:00:00\n${correction}`),
    { earlier: null, later: null },
    CONTEXT,
  );
  const newest = pages.map(({ kind, page, path }) => {
    if (kind !== "episode" && kind !== "segment") return null;
    return [path, page.corrections.find(({ dated }) => dated.startsWith("2026-10-08"))?.says ?? null];
  });
  expect(newest).toEqual(expect.arrayContaining([["2026-10-05/index.html", onEpisode]]));
  if (onSegment !== null) expect(newest).toContainEqual(["2026-10-05/close/index.html", onSegment]);
});
