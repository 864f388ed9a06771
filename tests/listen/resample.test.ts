import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { resampler } from "../../src/listen/resample.ts";
import { joinedSamples, likenessDb, noise, sine } from "../support/sounds.ts";

const resampled = (samples: Float32Array, from: number, to: number, chunk = 1000): Float32Array => {
  const own = resampler(from, to);
  const pieces: Float32Array[] = [];
  for (let at = 0; at < samples.length; at += chunk) pieces.push(own.take(samples.subarray(at, at + chunk)));
  return joinedSamples([...pieces, own.end()]);
};

describe("a tone below the edge stays as it is, and in its place", () => {
  test.each([
    [44_100, 16_000],
    [48_000, 16_000],
    [24_000, 16_000],
    [22_050, 16_000],
    [8000, 16_000],
    [16_000, 48_000],
  ])("%i to %i", (from, to) => {
    const made = resampled(sine(from, 1, 1000), from, to);
    expect(made.length).toBe(to);
    const edge = to / 20;
    expect(likenessDb(made.subarray(edge, -edge), sine(to, 1, 1000).subarray(edge, -edge))).toBeGreaterThan(80);
  });
});

test("a tone above the edge is gone, and doesn't come back as another", () => {
  const made = resampled(sine(44_100, 1, 9500), 44_100, 16_000);
  expect(Math.max(...made.subarray(800, -800).map(Math.abs))).toBeLessThan(0.5 * 10 ** (-80 / 20));
});

test("it is the same however the samples are parted", () => {
  const samples = noise(3000);
  const whole = resampled(samples, 44_100, 16_000, 3000);
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 700 }), (chunk) => {
      expect(resampled(samples, 44_100, 16_000, chunk)).toEqual(whole);
    }),
    { numRuns: 30 },
  );
});

test("nothing in, nothing out", () => {
  expect(resampled(new Float32Array(0), 44_100, 16_000)).toEqual(new Float32Array(0));
});
