import { describe, expect, test } from "vitest";
import { captionsVtt, plainText } from "../../src/feeds/captions.ts";
import { episodePages } from "../../src/pages/episode.ts";
import { NO_ASSETS, pageContextOf } from "../../src/pages/site.ts";
import type { PageData } from "../../src/pages/types.ts";
import { episodeOn } from "../../src/record/day.ts";
import { type ShownEpisode, showEpisode } from "../../src/record/shown.ts";
import { entered, NOW, readTexts, type Texts, WRITTEN } from "../record/published.ts";
import { readArchive } from "../support/readArchive.ts";
import { DEMO } from "../support/site.ts";

const programme = readArchive(DEMO).archive?.programme;
if (programme === undefined) throw new Error("the demo has no programme");
const setting = pageContextOf(programme, NO_ASSETS);

const EPISODE = `---
title: Fewer ferries
aired: 2026-10-05T18:30:00
duration: 0:36
media: [{ src: "https://media.example.org/a.mp3", type: audio/mpeg }]
clock: aired
cuts:
  - { from: 0:30, to: 0:34, why: break } # proposed
segments:
  - { slug: headlines, kind: headlines, title: Headlines, in: 0:00 }
  - slug: ferry-timetable
    kind: package
    title: Nine sailings
    in: 0:15 # proposed: a guess
  - slug: close
    kind: close
    title: Good night
    in: 0:34 # put right by ear
---
`;
/** An in point, a cut and two speakers are proposals; the one of them speaks again, and there nobody guessed. */
const MARKED: Texts = {
  "episode.md": EPISODE,
  "transcript.vtt": (WRITTEN["transcript.vtt"] ?? "")
    .replaceAll("<v Ilse", "<v.proposed Ilse")
    .replace("<v Tamsin Hathersay>Osric", "<v.proposed Tamsin Hathersay>Osric"),
};

function shownOf(texts: Texts): ShownEpisode {
  const { episode, content, findings } = readTexts(texts);
  if (episode === null || content === null) throw new Error(JSON.stringify(findings));
  const archived = { ...episode, record: texts["record.jsonl"] ?? null, merged: [], earlier: [] };
  return showEpisode(episodeOn(archived, NOW), NOW.slice(0, 10));
}

function pagesOf(texts: Texts): { episode: PageData["episode"]; segments: readonly PageData["segment"][] } {
  const pages = episodePages(shownOf(texts), { earlier: null, later: null }, setting);
  const [first] = pages.flatMap(({ kind, page }) => (kind === "episode" ? [page] : []));
  if (first === undefined) throw new Error("there is no page");
  return { episode: first, segments: pages.flatMap(({ kind, page }) => (kind === "segment" ? [page] : [])) };
}

const speakersIn = ({ segments }: PageData["episode"]) =>
  segments.flatMap(({ blocks }) =>
    blocks.flatMap((block) => (block.is === "turn" ? [[block.speaker?.name, block.speaker?.proposed]] : [])),
  );

describe("a draft", () => {
  const { episode, segments } = pagesOf(MARKED);

  test("tells who is only proposed, and parts what is from what is not", () => {
    expect(speakersIn(episode)).toEqual([
      ["Tamsin Hathersay", false],
      ["Tamsin Hathersay", true],
      ["Ilse Marrane", true],
      ["Tamsin Hathersay", false],
    ]);
    expect(episode.shares.map(({ who, proposed }) => [who, proposed])).toEqual([
      ["Tamsin Hathersay", true],
      ["Ilse Marrane", true],
    ]);
  });

  test("marks a proposed in point in the running order and at the segment's head", () => {
    const points = [false, true, false];
    expect(episode.order.items.map(({ proposed }) => proposed)).toEqual(points);
    expect(episode.segments.map(({ proposed }) => proposed)).toEqual(points);
    expect(segments.map(({ segment }) => segment.proposed)).toEqual(points);
  });

  test("counts what is to be confirmed: in all, and on each segment's page its own", () => {
    expect(episode.proposals).toEqual({ speakers: 2, points: 1, cuts: 1 });
    expect(segments.map(({ proposals }) => proposals)).toEqual([
      { speakers: 1, points: 0, cuts: 0 },
      { speakers: 1, points: 1, cuts: 0 },
      null,
    ]);
  });

  test("its captions and its plain text say so too", () => {
    const shown = shownOf(MARKED);
    const captions = captionsVtt(shown);
    expect(captions).toContain("<v Tamsin Hathersay>Good evening.");
    expect(captions).toContain("<v.proposed Tamsin Hathersay>Osric Tarrick");
    expect(plainText(shown, "The Evening Tide", "https://tide.example.org/")).toContain(
      "Tamsin Hathersay, proposed: Osric Tarrick has kept Hallan light.",
    );
  });
});

test("what is published never says so, even where a mark is left in its files", () => {
  const { episode, segments } = pagesOf(entered(MARKED));
  expect(episode.draft).toBe(false);
  expect(JSON.stringify([episode, segments])).not.toContain('"proposed":true');
  expect([episode, ...segments].map(({ proposals }) => proposals)).toEqual([null, null, null, null]);
  expect(speakersIn(episode)).toHaveLength(3);
  const shown = shownOf(entered(MARKED));
  expect(captionsVtt(shown) + plainText(shown, "The Evening Tide", "https://tide.example.org/")).not.toContain(
    "proposed",
  );
});
