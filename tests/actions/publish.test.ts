import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type PublishOptions, proposalsToConfirm, publishEpisode } from "../../src/actions/publish.ts";
import { nodeFiles } from "../../src/write/record.ts";
import { ID, rules, type Stage, stage } from "../cli/recordStage.ts";

let on: Stage;
beforeEach(() => {
  on = stage();
});
afterEach(() => on.clear());

const WORLD = { clock: () => new Date("2026-10-06T08:00:00Z"), files: nodeFiles };
const options = (given: Partial<PublishOptions> = {}): PublishOptions => {
  const fixed = { reissue: null, repair: false, dryRun: false, checks: () => [] };
  return { content: on.content, episode: ID, ...fixed, ...given };
};
const publishing = (given: Partial<PublishOptions> = {}) => publishEpisode(options(given), WORLD);
const propose = () =>
  on.write("transcript.vtt", on.read("transcript.vtt").replaceAll("<v Ilse Marrane>", "<v.proposed Ilse Marrane>"));

describe("publishing an episode", () => {
  test("enters it, and says what was entered as data", async () => {
    const { state, entries, findings, repair } = await publishing();
    expect({ state, findings, repair }).toEqual({ state: "entered", findings: [], repair: null });
    expect(entries).toMatchObject([
      { entry: { seq: 1, what: "published" }, correction: null, title: "Fewer ferries", segments: 3, cues: 7 },
    ]);
    expect(on.files()).toContain("record.jsonl");
    expect(await publishing()).toMatchObject({ state: "nothing", entries: [] });
  });

  test("a trial says the same and writes nothing", async () => {
    expect(await publishing({ dryRun: true })).toMatchObject({ state: "trial", entries: [{ entry: { seq: 1 } }] });
    expect(on.files()).not.toContain("record.jsonl");
  });

  test("what makes no sense for the record is refused, after it was judged", async () => {
    const reissue = { reason: "A better text.", earlier: null };
    expect(await publishing({ reissue })).toMatchObject({
      state: "refused",
      refused: expect.stringContaining("is not published yet"),
      entries: null,
    });
  });
});

describe("proposals", () => {
  test("nothing is to be confirmed where nothing is proposed, or where something else stands in the way", async () => {
    expect(await proposalsToConfirm(options(), WORLD)).toBeNull();
    propose();
    on.edit("episode.md", "in: 0:30", "in: 0:75");
    expect(await proposalsToConfirm(options(), WORLD)).toBeNull();
  });

  test("without a confirmation it is refused; with one of these texts it is entered", async () => {
    propose();
    const asked = await proposalsToConfirm(options(), WORLD);
    expect(asked?.proposals.map(({ what, name }) => [what, name])).toEqual([["speaker", "Ilse Marrane"]]);
    const without = await publishing();
    expect(without).toMatchObject({ state: "blocked", entries: null });
    expect(rules(without.findings)).toEqual(["proposals-unconfirmed"]);
    expect(on.files()).not.toContain("record.jsonl");
    expect(await publishing({ confirmed: asked?.digest ?? "" })).toMatchObject({ state: "entered" });
    expect(on.read("transcript.vtt")).not.toContain("proposed");
  });

  test.each([
    ["transcript.vtt", "not fourteen", "not forty"],
    ["episode.md", "title: Fewer ferries", "title: No ferries"],
  ])("a confirmation says nothing of another %s", async (path, from, to) => {
    propose();
    const asked = await proposalsToConfirm(options(), WORLD);
    on.edit(path, from, to);
    const { state, findings } = await publishing({ confirmed: asked?.digest ?? "" });
    expect(state).toBe("blocked");
    expect(rules(findings)).toEqual(["proposals-unconfirmed"]);
    expect(on.files()).not.toContain("record.jsonl");
  });
});
