import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, test } from "vitest";
import webvtt from "webvtt-parser";
import { parseVtt } from "../../src/webvtt/index.ts";

const DEMO = resolve(import.meta.dirname, "../../content/episodes/2026");

// The `webvtt-parser` package, a reading of the standard by another hand: none of its departures touches these files.
describe.each(["2026-10-05", "2026-10-06", "2026-10-07"])("the demo's transcript of %s", (id) => {
  const text = readFileSync(resolve(DEMO, id, "transcript.vtt"), "utf8");

  test("is read as another parser reads it", () => {
    const cue = ({ startTime, endTime, text: words }: { startTime: number; endTime: number; text: string }) => [
      Math.round(startTime * 1000),
      Math.round(endTime * 1000),
      words,
    ];
    const own = parseVtt(text).cues.map(cue);
    expect(own.length).toBeGreaterThan(100);
    expect(own).toEqual(new webvtt.WebVTTParser().parse(text, "metadata").cues.map(cue));
  });
});
