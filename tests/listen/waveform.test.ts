import { expect, test } from "vitest";
import { KIND_RATE } from "../../src/listen/kindFrames.ts";
import { PEAKS, waveform } from "../../src/listen/waveform.ts";
import { joinedSamples, sine } from "../support/sounds.ts";

function peaksOf(samples: Float32Array, chunk = samples.length || 1): readonly number[] {
  const own = waveform();
  for (let at = 0; at < samples.length; at += chunk) own.take(samples.subarray(at, at + chunk));
  return [...own.peaks()];
}

const filled = (count: number, value: number) => new Float32Array(count).fill(value);
const BUCKET = KIND_RATE / PEAKS;

test.each([
  ["nothing", new Float32Array(0), []],
  ["silence", filled(BUCKET * 2, 0), [0, 0]],
  ["the faintest sound", filled(BUCKET, 1e-6), [1]],
  ["full scale, of either sign", joinedSamples([filled(BUCKET, 1), filled(BUCKET, -1)]), [255, 255]],
  ["more than full scale, as some decoders give it", filled(BUCKET, 1.2), [255]],
  ["a click", joinedSamples([filled(10, 0), filled(1, -0.5), filled(BUCKET * 2 - 11, 0)]), [128, 0]],
  ["an end that is no whole bucket", filled(BUCKET + 3, 0.1), [26, 26]],
])("%s", (_what, samples, wanted) => expect(peaksOf(samples)).toEqual(wanted));

test("how the sound comes makes no difference, and an hour is an hour", () => {
  const samples = sine(KIND_RATE, 60, 300, 0.5);
  const peaks = peaksOf(samples);
  expect(peaks).toHaveLength(60 * PEAKS);
  expect(new Set(peaks)).toEqual(new Set([128]));
  expect(peaksOf(samples, 777)).toEqual(peaks);
});
