import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { cutList } from "../../src/derive/cutList.ts";
import {
  compare,
  comparisonsOf,
  innerRange,
  loudestPiece,
  RATE,
  type Range,
  samplesIn,
  shiftOf,
  silencesOf,
} from "../../src/derive/soundCheck.ts";
import { type CutList, laidStretches } from "../../src/model/cutList.ts";
import { clockMs, mediaMs } from "../../src/model/units.ts";

/** Noise that is the same for the same seed (a linear congruential generator; Numerical Recipes' constants). */
function noise(length: number, seed: number): Float32Array {
  let state = seed >>> 0;
  return Float32Array.from({ length }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state / 2 ** 31 - 1) * 0.3;
  });
}
const tone = (length: number, hertz: number): Float32Array =>
  Float32Array.from({ length }, (_, n) => 0.3 * Math.sin((2 * Math.PI * hertz * n) / RATE));

/** The samples of a range, silence where the sound has none. */
const cutOut = (sound: Float32Array, { from, to }: Range): Float32Array => {
  const [start, length] = [samplesIn(from), samplesIn(to - from)];
  return Float32Array.from({ length }, (_, n) => sound[start + n] ?? 0);
};

/** What a program that keeps to the list makes of a source. */
function made(source: Float32Array, list: CutList): Float32Array {
  const out = new Float32Array(samplesIn(list.result));
  for (const { does, from, to, at } of laidStretches(list))
    if (does === "keep") out.set(source.subarray(samplesIn(from), samplesIn(to)), samplesIn(at));
  return out;
}

const list = (way: "cut" | "silence") =>
  cutList({
    episode: { clock: "media", cuts: [], duration: mediaMs(30_000) },
    unwanted: [{ from: clockMs(8000), to: clockMs(12_000), why: "withheld", does: way }],
    source: "web",
    length: null,
  });
const judge = (own: CutList, source: Float32Array, result: Float32Array) =>
  comparisonsOf(own).map((one) => compare(one, cutOut(source, one.source), cutOut(result, one.made)));

describe("where a sound is", () => {
  test("is found to the sample, louder or quieter, and under other sound", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -400, max: 400 }),
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: 0.2, max: 1.5, noNaN: true }),
        (shift, seed, gain) => {
          const [sound, other] = [noise(2000, seed), noise(2800, seed + 1)];
          const later = other.map((sample) => sample * 0.1);
          sound.forEach((sample, n) => {
            later[n + 400 + shift] = (later[n + 400 + shift] ?? 0) + sample * gain;
          });
          expect(shiftOf(sound, later, 400).shift).toBe(shift);
        },
      ),
      { numRuns: 30 },
    );
  });

  test("a tone is like itself a period later: the smallest shift counts", () => {
    expect(shiftOf(tone(2000, 400), tone(2800, 400), 400).shift).toBe(0);
  });

  test.each([
    ["another sound", noise(2800, 7)],
    ["silence", new Float32Array(2800)],
  ])("%s is not it", (_why, other) => {
    expect(shiftOf(noise(2000, 3), other, 400).likeness).toBeLessThan(0.2);
  });
});

describe("the seams of what was made", () => {
  const source = noise(30 * RATE, 11);

  test.each(["cut", "silence"] as const)("%s: both ends of each kept stretch, all in their place", (way) => {
    const own = list(way);
    expect(judge(own, source, made(source, own))).toEqual(Array(4).fill({ is: "found", shift: 0 }));
  });

  // 1105 samples at 44,100: what an MP3 encoder and decoder add in front together.
  test.each([
    [
      "an encoder's delay in front",
      (right: Float32Array) => [...new Float32Array(201), ...right],
      [25.125, 25.125, 25.125, 25.125],
    ],
    [
      "a seam that came 60 ms late",
      (right: Float32Array) => [
        ...right.slice(0, 8 * RATE),
        ...source.slice(8 * RATE, 8 * RATE + 480),
        ...right.slice(8 * RATE),
      ],
      [0, 0, 60, 60],
    ],
    [
      "sound lost at the seam",
      (right: Float32Array) => [...right.slice(0, 8 * RATE), ...right.slice(8 * RATE + 800)],
      [0, 0, -100, -100],
    ],
  ])("%s is measured", (_why, spoil, shifts) => {
    const own = list("cut");
    const found = judge(own, source, Float32Array.from(spoil(made(source, own))));
    expect(found.map((one) => (one.is === "found" ? Math.round(one.shift * 1000) / 1000 : one.is))).toEqual(shifts);
  });

  test("nothing was cut: what follows is other sound", () => {
    expect(judge(list("cut"), source, source).map(({ is }) => is)).toEqual(["found", "found", "other", "other"]);
  });

  test("silence beside the seam is passed over, and a stretch of silence tells nothing", () => {
    const quiet = source.slice();
    quiet.fill(0, 12 * RATE, 16 * RATE);
    const own = list("cut");
    expect(judge(own, quiet, made(quiet, own))).toEqual(Array(4).fill({ is: "found", shift: 0 }));
    quiet.fill(0, 12 * RATE);
    expect(judge(own, quiet, made(quiet, own)).map(({ is }) => is)).toEqual(["found", "found", "silent", "silent"]);
  });

  test("a kept stretch of a twentieth of a second is compared too", () => {
    const own = cutList({
      episode: { clock: "media", cuts: [], duration: mediaMs(10_000) },
      unwanted: [
        { from: clockMs(2000), to: clockMs(4000), why: "a", does: "cut" },
        { from: clockMs(4050), to: clockMs(6000), why: "b", does: "cut" },
      ],
      source: "web",
      length: null,
    });
    expect(judge(own, source, made(source, own))).toEqual(Array(6).fill({ is: "found", shift: 0 }));
  });
});

describe("silence", () => {
  test.each([
    ["none at all", new Float32Array(RATE), Number.NEGATIVE_INFINITY],
    ["no samples", new Float32Array(0), Number.NEGATIVE_INFINITY],
    // A sine of amplitude a has an RMS of a / sqrt(2): 0.3 is -13.5 dB.
    ["a tone", tone(RATE, 400), 20 * Math.log10(0.3 / Math.SQRT2)],
    [
      "a tone of a tenth of a second in a minute",
      Float32Array.from([...new Float32Array(59 * RATE), ...tone(RATE / 10, 400), ...new Float32Array(RATE)]),
      -13.5,
    ],
    ["a very short one", tone(40, 400), -13.5],
  ])("%s", (_why, samples, decibels) => {
    if (Number.isFinite(decibels)) expect(loudestPiece(samples)).toBeCloseTo(decibels, 0);
    else expect(loudestPiece(samples)).toBe(decibels);
  });

  test("is looked for without the edges", () => {
    expect(silencesOf(list("silence"))).toEqual([{ from: 8050, to: 11_950 }]);
    expect(silencesOf(list("cut"))).toEqual([]);
    expect(innerRange({ from: 100, to: 140 })).toEqual({ from: 110, to: 130 });
  });
});
