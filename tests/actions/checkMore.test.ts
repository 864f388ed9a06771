import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { beginStation, exampleFolder } from "../../src/actions/begin.ts";
import { type CheckOptions, checkContent } from "../../src/actions/check.ts";
import { publishEpisode } from "../../src/actions/publish.ts";
import { nodeFiles } from "../../src/write/record.ts";
import { wavOf } from "../support/sounds.ts";

let around: string;
let content: string;
beforeEach(async () => {
  around = mkdtempSync(join(tmpdir(), "check-"));
  content = join(around, "content");
  await beginStation(content, {
    title: "The Evening Tide",
    timezone: "Europe/London",
    language: "en-GB",
    url: "https://tide.example.org/",
  });
});
afterEach(() => rmSync(around, { recursive: true, force: true }));

const check = async (more: Partial<CheckOptions> = {}) =>
  checkContent({ content, on: "2026-10-12", now: new Date("2026-10-12T12:00:00Z"), episodes: [], ...more });
const example = (name: string) => join(exampleFolder(content), name);

test("many of one kind are one finding, or each with its line", async () => {
  const cues = Array.from(
    { length: 7 },
    (_, n) => `00:00:0${n}.000 --> 00:00:0${n}.500\n<v Tamsin Hathersay>Calm ${n}.\n`,
  );
  writeFileSync(example("transcript.vtt"), ["WEBVTT\n", ...cues].join("\n"));
  const short = async (each: boolean) =>
    (await check({ each })).filter(({ rule }) => rule === "caption-too-short").map(({ at, says }) => [at.line, says]);
  expect(await short(false)).toEqual([[3, expect.stringMatching(/^7 of 7 captions/)]]);
  expect((await short(true)).map(([line]) => line)).toEqual([3, 6, 9, 12, 15, 18, 21]);
});

/** Seconds of silence: 8,000 bytes each, one channel of eight bits. */
const wav = (seconds: number): Uint8Array => wavOf([new Float32Array(seconds * 8000)], 8000, "u8");

test.each([
  ["as long as it says", 30, []],
  ["a second shorter, as rounding makes it", 29, []],
  ["shorter than its words", 12, [/web\.wav runs 0:12, and `duration` says 0:30: 3 of its captions come after/]],
  ["shorter than it says, after the last word", 28, [/web\.wav runs 0:28, and `duration` says 0:30\.$/]],
])("a recording that is %s", async (_why, seconds, says) => {
  giveRecording(seconds);
  expect((await check()).map((finding) => finding.says)).toEqual(says.map((one) => expect.stringMatching(one)));
});

const ACCEPTED = "  - { rule: media-short, dated: 2026-10-06, why: The end was lost., by: Ilse Marrane }\n";

function giveRecording(seconds: number, accepted = ""): void {
  writeFileSync(example("web.wav"), wav(seconds));
  const text = readFileSync(example("episode.md"), "utf8");
  const media = "media: [{ src: web.wav, type: audio/wav }]";
  writeFileSync(
    example("episode.md"),
    text.replace("clock:", `${media}\nclock:`).replace("accepted:\n", `accepted:\n${accepted}`),
  );
}

test.each([
  ["that is too short", 12, []],
  ["that is as long as it says: nothing is left to accept", 30, ["acceptance-stale"]],
])("a recording that was accepted, %s", async (_why, seconds, rules) => {
  giveRecording(seconds, ACCEPTED);
  expect((await check()).map(({ rule }) => rule)).toEqual(rules);
});

test("a recording that is not measured stays accepted", async () => {
  giveRecording(12, ACCEPTED);
  const id = basename(exampleFolder(content));
  const asked = { content, episode: id, reissue: null, repair: false, dryRun: false };
  const world = { clock: () => new Date("2026-10-12T12:00:00Z"), files: nodeFiles };
  expect(await publishEpisode(asked, world)).toMatchObject({ state: "entered", findings: [] });
  for (const episodes of [[], [id]]) expect((await check({ episodes })).map(({ rule }) => rule)).toEqual([]);
  writeFileSync(example("web.wav"), wav(30));
  expect(await check()).toEqual([]);
  expect((await check({ episodes: [id] })).map(({ rule }) => rule)).toEqual(["acceptance-stale"]);
});
