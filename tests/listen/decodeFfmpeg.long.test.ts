import { spawnSync } from "node:child_process";
import { createReadStream, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { decode } from "../../src/listen/decode.ts";
import { hearing } from "../../src/listen/hear.ts";
import { HAS_FFMPEG } from "../support/sound.ts";
import { byFfmpeg, collected, likenessDb, monoOf } from "../support/sounds.ts";

/** The demo's recording, encoded by ffmpeg in other ways and decoded by it again: the outside judge of our decoding. */
const SOURCE = join(import.meta.dirname, "../../content/episodes/2026/2026-10-05/web.mp3");
const folder = mkdtempSync(join(tmpdir(), "afterair-sounds-"));
afterAll(() => rmSync(folder, { recursive: true }));

const encoded = (name: string, args: readonly string[]): string => {
  const out = join(folder, name);
  const { status, stderr } = spawnSync("ffmpeg", ["-v", "error", "-t", "60", "-i", SOURCE, ...args, out]);
  if (status !== 0) throw new Error(stderr.toString());
  return out;
};

if (!HAS_FFMPEG) console.warn("ffmpeg isn't installed: our decoders were compared with nothing.");

describe.skipIf(!HAS_FFMPEG)("sounds are decoded as ffmpeg decodes them", () => {
  // libopus, which the package has, and ffmpeg's own decoder fill lost bands with noise of their own.
  test.each([
    ["x.wav", ["-ar", "44100", "-ac", "2"], 2, 44_100, 90],
    ["f.wav", ["-c:a", "pcm_f32le"], 1, 24_000, 90],
    ["x.flac", ["-ar", "44100", "-ac", "2"], 2, 44_100, 90],
    ["x.mp3", ["-ar", "44100", "-ac", "2", "-b:a", "128k"], 2, 44_100, 60],
    ["v.ogg", ["-c:a", "libvorbis", "-ar", "48000", "-ac", "2"], 2, 48_000, 60],
    ["o.ogg", ["-c:a", "libopus", "-b:a", "48k"], 1, 48_000, 18],
  ])("%s", async (name, args, channels, rate, least) => {
    const file = encoded(name, args);
    const { samples, end } = await monoOf(file, rate);
    const judge = byFfmpeg(file, rate, channels);
    expect(end.faults).toBe(0);
    expect(Math.abs(samples.length - judge.length)).toBeLessThanOrEqual(64);
    expect(likenessDb(samples, judge)).toBeGreaterThan(least);
  });

  test("and brought to another rate as it does, but for the edge of the band", async () => {
    const { samples } = await monoOf(SOURCE, 16_000);
    expect(likenessDb(samples, byFfmpeg(SOURCE, 16_000, 1))).toBeGreaterThan(34);
  });

  test("with as many channels, and as loud as ffmpeg's own meter says", async () => {
    const { all, end } = await collected(decode(createReadStream(SOURCE)));
    const ears = hearing();
    for (const piece of all) ears.take(piece);
    const { stderr } = spawnSync("ffmpeg", ["-nostats", "-i", SOURCE, "-af", "ebur128", "-f", "null", "-"]);
    const [, judge = ""] = /Integrated loudness:\s+I:\s+(-?[\d.]+) LUFS/.exec(stderr.toString()) ?? [];
    expect(end.channels).toBe(1);
    expect(Math.abs((ears.heard().loudness ?? 0) - Number(judge))).toBeLessThan(0.1);
  });

  test("raw MPEG frames without a header of their encoder are read too", async () => {
    const file = encoded("bare.mp3", ["-write_xing", "0", "-id3v2_version", "0"]);
    const { samples } = await monoOf(file, 16_000);
    expect(Math.abs(samples.length - byFfmpeg(file, 16_000, 1).length)).toBeLessThan(16_000 / 10);
  });
});
