import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { checkRecordings, makeRecordings, openRecordings, planRecordings } from "../../src/actions/cuts/recordings.ts";
import { ID, type Stage, stage } from "../cli/recordStage.ts";

let on: Stage;
beforeEach(() => {
  on = stage();
  const file = join(on.content, "programme.md");
  const hosts = "mediahosts: [https://media.example.org]\nframerate:";
  writeFileSync(file, readFileSync(file, "utf8").replace("framerate:", hosts));
});
afterEach(() => on.clear());

const NO_FFMPEG = "no-program-of-this-name";
const MAKING = { progress() {}, ended() {}, made() {} };
const options = () => {
  const fixed = { on: null, source: null, from: null, silence: false, make: true, write: false };
  return { content: on.content, episode: ID, ...fixed };
};
const opened = () => openRecordings(options(), new Date("2026-10-06T08:00:00Z"));

test("without ffmpeg nothing is made, and what was not looked at is named", async () => {
  expect(opened()).toMatchObject({ published: false, day: "2026-10-06" });
  const plan = planRecordings(options(), opened());
  expect(await makeRecordings(options(), opened(), plan, NO_FFMPEG, MAKING)).toBeNull();
  expect(await checkRecordings(options(), opened(), NO_FFMPEG)).toEqual({
    findings: [],
    unchecked: [{ src: "https://media.example.org/a.mp3", isRemote: true }],
    measured: [],
    hasFfmpeg: false,
  });
});
