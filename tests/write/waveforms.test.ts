import { appendFileSync, existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { isCache } from "../../src/write/mark.ts";
import { keepWaveform, readWaveform } from "../../src/write/waveforms.ts";

let cache: string;
beforeEach(() => {
  cache = join(mkdtempSync(join(tmpdir(), "waveforms-")), ".site.cache");
});
afterEach(() => rmSync(join(cache, ".."), { recursive: true }));

const [ONE, OTHER] = ["a".repeat(64), "b".repeat(64)];
const peaks = Uint8Array.from({ length: 1000 }, (_, n) => n % 256);

test("a waveform is kept by its recording's digest, in a folder that the next build knows as its own", async () => {
  expect(readWaveform(cache, ONE)).toBeNull();
  expect(existsSync(cache)).toBe(false);
  await keepWaveform(cache, ONE, peaks);
  await keepWaveform(cache, OTHER, new Uint8Array(0));
  expect(readWaveform(cache, ONE)).toEqual(peaks);
  expect(readWaveform(cache, OTHER)).toEqual(new Uint8Array(0));
  expect(isCache(cache)).toBe(true);
});

test("what somebody wrote to is as good as none", async () => {
  await keepWaveform(cache, ONE, peaks);
  appendFileSync(join(cache, "waveforms", `${ONE}.json`), " ");
  expect(readWaveform(cache, ONE)).toBeNull();
});

test.each(["", "../../elsewhere", "A".repeat(64), `${"a".repeat(64)}/..`])("%j is no digest", async (digest) => {
  await expect(keepWaveform(cache, digest, peaks)).rejects.toThrow("not a digest");
  expect(() => readWaveform(cache, digest)).toThrow("not a digest");
});
