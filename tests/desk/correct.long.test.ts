import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { deskPreview } from "../../src/actions/desk/correct.ts";
import { sameWordsElsewhere } from "../../src/actions/sameWords.ts";
import type { Draft } from "../../src/model/correctionDraft.ts";
import { nodeFiles } from "../../src/write/files.ts";

const DEMO = join(import.meta.dirname, "../../content");
const NOW = new Date("2026-10-12T12:00:00Z");
const DRAFT: Draft = {
  kind: "clarification",
  segment: null,
  at: null,
  field: null,
  said: "Skerrow Bank",
  now: null,
  every: false,
  signed: "Standards editor",
  supersedes: null,
  note: "The bank lies *north* of Ostrey.",
};
const preview = async (more: Partial<Draft>) => {
  const draft = { begun: NOW.toISOString(), draft: { ...DRAFT, ...more } };
  const shown = await deskPreview(DEMO, "2026-10-06", draft, { clock: () => NOW, files: nodeFiles });
  if (shown.is !== "shown") throw new Error(`it is ${shown.is}`);
  return shown;
};

describe("before a correction is entered", () => {
  test("the log and the feed are shown as they will be", async () => {
    const { public: own } = await preview({ at: "6:36" });
    expect(own?.log).toMatchObject({
      kindName: "Clarification",
      about: "Sunshine and a touch of frost",
      signed: "Standards editor",
      html: "<p>The bank lies <em>north</em> of Ostrey.</p>",
      words: { was: null, words: "Skerrow Bank" },
    });
    expect(own?.feed.title).toBe("Clarification: Sunshine and a touch of frost");
  });

  test("other places of the archive with the same words are listed, each where something can be done about it", async () => {
    const { elsewhere } = await preview({ at: "6:36" });
    expect(elsewhere.map(({ says, href }) => [says.slice(0, 10), href])).toEqual(
      expect.arrayContaining([["2026-10-05", "/correct/2026-10-05"]]),
    );
    expect(elsewhere.every(({ says }) => says.includes("Skerrow Bank"))).toBe(true);
  });

  test("what is withdrawn is in no list", async () => {
    const about = { content: DEMO, own: "2026-10-05", now: NOW };
    expect(await sameWordsElsewhere("go to Hallan with a lead", about)).toEqual([]);
    expect((await sameWordsElsewhere("in the evening", about)).length).toBeGreaterThan(0);
  });

  test("words that a correction put there are found, and those that it took away are not", async () => {
    const about = { content: DEMO, own: "2026-10-06", now: NOW };
    expect(await sameWordsElsewhere("25 knots around the Skerrow Bank", about)).toMatchObject([
      { episode: "2026-10-05", published: true },
    ]);
    expect(await sameWordsElsewhere("15 knots around the Skerrow Bank", about)).toEqual([]);
  });
});
