import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { enterCorrection, fillDraft, openToCorrect, previewCorrection } from "../../src/actions/correct.ts";
import type { Draft } from "../../src/model/correctionDraft.ts";
import type { LaidEpisode } from "../../src/record/laid.ts";
import { nodeFiles } from "../../src/write/record.ts";
import { ID, publishing, type Stage, stage } from "../cli/recordStage.ts";

let on: Stage;
beforeEach(async () => {
  on = stage();
  await publishing(on);
});
afterEach(() => on.clear());

const NOW = new Date("2026-10-06T09:00:00Z");
const WORLD = { clock: () => NOW, files: nodeFiles };
const about = () => ({ content: on.content, episode: ID, begun: NOW });
const EMPTY = { segment: null, at: null, field: null, said: null, now: null, every: false, supersedes: null };
const DRAFT: Draft = { ...EMPTY, kind: "transcript", signed: "Me", note: "We wrote it wrong." };
const WORDS: Draft = { ...DRAFT, said: "forty years", now: "thirty years", at: "0:10", segment: "headlines" };

async function laid(): Promise<LaidEpisode> {
  const { laid: own } = await openToCorrect(about(), WORLD);
  if (own === null) throw new Error("not read");
  return own;
}

describe("what a draft leaves open", () => {
  test("the names of what is missing, in the order of the file", async () => {
    expect(fillDraft({ ...DRAFT, signed: null }, await laid())).toEqual({
      state: "missing",
      names: ["signed", "said", "now"],
    });
  });

  test("the places of words that stand in several, and none where a time chooses", async () => {
    const twice = { ...WORDS, said: "Rowan Skelland", at: null, segment: null };
    const open = fillDraft(twice, await laid());
    expect(open.state === "places" && open.found.map(({ at }) => at)).toEqual(["0:21", "0:25"]);
    const draft = { ...twice, at: "0:24", segment: "ferry-timetable" };
    expect(fillDraft({ ...twice, at: "0:24" }, await laid())).toEqual({ state: "complete", draft });
  });
});

test("a preview says what would change as data, and writes nothing", async () => {
  const before = on.files();
  const { id, file, change, findings } = await previewCorrection(WORDS, about(), WORLD);
  expect(findings).toEqual([]);
  expect(file.endsWith(`/corrections/${id}.md`)).toBe(true);
  expect(change?.what === "passages" && change.after.map(({ start, touched }) => [start, touched])).toEqual([
    [5000, false],
    [10_000, true],
    [15_000, false],
  ]);
  const marked = change?.what === "passages" ? change.after.flatMap(({ pieces }) => pieces.flatMap((p) => p.runs)) : [];
  expect(marked.filter((run) => run.marked).map(({ text }) => text)).toEqual(["thirty years"]);
  expect(on.files()).toEqual(before);
});

test("what was confirmed is entered under the name of its preview", async () => {
  const { id, digest } = await previewCorrection(WORDS, about(), WORLD);
  const done = await enterCorrection(WORDS, about(), digest, WORLD);
  expect(done).toMatchObject({ state: "entered", id, entries: [{ correction: { id, kind: "transcript" } }] });
  expect(on.corrections()).toEqual([`corrections/${id}.md`]);
});

test("a confirmation of other texts is refused, and nothing is written", async () => {
  const { digest } = await previewCorrection(WORDS, about(), WORLD);
  // Not frozen: the record alone would let it pass.
  on.edit("episode.md", "type: audio/mpeg", "type: audio/mp4");
  const done = await enterCorrection(WORDS, about(), digest, WORLD);
  expect(done).toMatchObject({ state: "refused", id: null, entries: null });
  expect(done.refused).toMatch(/was changed meanwhile/);
  expect(on.corrections()).toEqual([]);
  expect(await enterCorrection(WORDS, about(), null, WORLD)).toMatchObject({ state: "entered" });
});
