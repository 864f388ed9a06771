import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readMedia } from "../../src/read/incoming/media.ts";

const DEMO = join(import.meta.dirname, "../../content/episodes/2026/2026-10-05");
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "media-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

// Outside check: lengths and sizes as those who made the demo's recordings measured them, by the samples that ffmpeg decodes.
describe("the demo's recordings", () => {
  test.each([
    ["web.mp3", "audio/mpeg", 1_656_274, 413_910, 0],
    ["web.ogg", "audio/ogg; codecs=opus", 820_409, 413_910, 1],
  ])("%s", async (name, type, bytes, ms, within) => {
    const read = await readMedia(join(DEMO, name));
    expect(read.findings).toEqual([]);
    if (!read.ok) throw new Error("unread");
    expect([read.value.src, read.value.type, read.value.bytes]).toEqual([name, type, bytes]);
    expect(Math.abs((read.value.duration ?? 0) - ms)).toBeLessThanOrEqual(within);
  });
});

test("a recording of the smallest frames there are is read to its end", async () => {
  // MPEG-2 layer III, 24 kHz, 576 samples a frame; the first at 16 kbit/s (48 bytes), the others at 8 (24 bytes): ISO/IEC 13818-3.
  const frame = (header: readonly number[], bytes: number) => Buffer.concat([Buffer.from(header)], bytes);
  const first = frame([0xff, 0xf3, 0x24, 0xc4], 48);
  const others = Array.from({ length: 9000 }, () => frame([0xff, 0xf3, 0x14, 0xc4], 24));
  await writeFile(join(folder, "small.mp3"), Buffer.concat([first, ...others]));
  const read = await readMedia(join(folder, "small.mp3"));
  if (!read.ok) throw new Error("unread");
  expect(Math.abs((read.value.duration ?? 0) - (9001 * 576) / 24)).toBeLessThanOrEqual(1000);
});

describe("what is no recording", () => {
  test.each([
    ["nothing there", "none.mp3", null, "media-missing"],
    ["an empty file", "empty.mp3", "", "media-empty"],
    ["a name that tells no kind", "notes.txt", "words", "media-type-unknown"],
  ])("%s", async (_why, name, text, rule) => {
    if (text !== null) await writeFile(join(folder, name), text);
    const read = await readMedia(join(folder, name));
    expect(read.ok).toBe(false);
    expect(read.findings.map((finding) => finding.rule)).toEqual([rule]);
  });

  test("the beginnings of frames without sound: given up by name, after a number of reads", async () => {
    const path = join(folder, "noise.mp3");
    // Each pair of bytes begins a frame of MPEG audio, of a bit rate that there is not (ISO/IEC 11172-3, 2.4.2.3).
    await writeFile(path, Buffer.alloc(4_000_000, Buffer.from([0xff, 0xfb])));
    const read = await readMedia(path);
    expect(read.ok).toBe(false);
    expect(read.findings.map(({ rule }) => rule)).toEqual(["media-no-recording"]);
  });

  test("a file that plays nothing has no length, and a name with blanks gets another", async () => {
    await writeFile(join(folder, "Evening (final).mp3"), "these are words");
    const read = await readMedia(join(folder, "Evening (final).mp3"));
    expect(read.ok && [read.value.src, read.value.duration]).toEqual(["evening-final.mp3", null]);
    expect(read.findings.map(({ rule }) => rule)).toEqual(["media-duration-unknown"]);
  });
});

test("an address is kept as it is, and only its ending looked at", async () => {
  const src = "https://media.example.org/2026-10-05.mp4?v=2";
  const read = await readMedia(src);
  expect(read.ok && read.value).toEqual({ src, type: "video/mp4", bytes: null, duration: null, path: null });
});
