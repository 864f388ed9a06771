import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readMedia } from "../../src/read/raw/media.ts";

const DEMO = join(import.meta.dirname, "../../content/episodes/2026/2026-10-05");
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "media-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

// Outside check: lengths and sizes as those who made the demo's recordings measured them. MP3 counts whole frames of
// 1,152 samples, its encoder's padding among them.
describe("the demo's recordings", () => {
  test.each([
    ["web.mp3", "audio/mpeg", 1_656_274, 413_910, 100],
    ["web.ogg", "audio/ogg; codecs=opus", 820_409, 413_910, 1],
  ])("%s", async (name, type, bytes, ms, within) => {
    const read = await readMedia(join(DEMO, name));
    expect(read.findings).toEqual([]);
    if (!read.ok) throw new Error("unread");
    expect([read.value.src, read.value.type, read.value.bytes]).toEqual([name, type, bytes]);
    expect(Math.abs((read.value.duration ?? 0) - ms)).toBeLessThanOrEqual(within);
  });
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
