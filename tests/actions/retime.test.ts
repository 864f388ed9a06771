import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { type RetimeOptions, retimeEpisode } from "../../src/actions/retime.ts";
import { ID, rules, type Stage, stage } from "../cli/recordStage.ts";

let on: Stage;
let before: string;
beforeEach(() => {
  on = stage();
  before = on.read("transcript.vtt");
  writeText("TAMSIN HATHERSAY: Good evening. The ferry from Sollen will make eleven sailings a week.");
});
afterEach(() => on.clear());

const path = () => join(on.content, "edited.txt");
const writeText = (text: string) => writeFileSync(path(), `${text}\n`);
const retiming = (given: Partial<RetimeOptions> = {}) =>
  retimeEpisode({ content: on.content, id: ID, text: path(), inPoints: false, dryRun: false, ...given });

test("where much would go, it says what must be confirmed, and writes nothing", async () => {
  const { made, toConfirm, findings } = await retiming();
  expect(made).toBeNull();
  expect(rules(findings)).toEqual(["words-would-go"]);
  expect(toConfirm?.says).toMatch(/^\d+ of the \d+ words that are there would go/);
  expect(on.read("transcript.vtt")).toBe(before);
});

test("with the confirmation it is written, and a trial or --yes needs none", async () => {
  expect((await retiming({ dryRun: true })).toConfirm).toBeNull();
  expect(on.read("transcript.vtt")).toBe(before);
  const { toConfirm } = await retiming();
  const { made, findings } = await retiming({ confirmed: toConfirm?.digest ?? "" });
  expect([made?.changed, rules(findings)]).toEqual([true, []]);
  expect(on.read("transcript.vtt")).not.toBe(before);
  on.write("transcript.vtt", before);
  expect((await retiming({ yes: true })).toConfirm).toBeNull();
});

test.each([
  ["the transcript", () => on.edit("transcript.vtt", "fourteen", "forty")],
  ["the running order", () => on.edit("episode.md", "Good night", "Goodbye")],
  ["the editor's text", () => writeText("TAMSIN HATHERSAY: Good evening.")],
])("a confirmation is refused where %s is another since, and nothing is written", async (_what, change) => {
  const { toConfirm } = await retiming();
  change();
  const now = on.read("transcript.vtt");
  await expect(retiming({ confirmed: toConfirm?.digest ?? "" })).rejects.toThrow(/was changed meanwhile/);
  expect(on.read("transcript.vtt")).toBe(now);
});
