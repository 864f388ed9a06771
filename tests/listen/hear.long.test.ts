import { describe, expect, test } from "vitest";
import { hearing, soundFaults } from "../../src/listen/hear.ts";
import { joinedSamples, noise, sine } from "../support/sounds.ts";

/** A tone in both channels, in pieces as a decoder gives them. */
function heardOf(channels: readonly Float32Array[], rate = 48_000) {
  const own = hearing();
  const length = channels[0]?.length ?? 0;
  for (let at = 0; at < length; at += 1000)
    own.take({ rate, channels: channels.map((samples) => samples.subarray(at, at + 1000)) });
  return own.heard();
}

const tone = (parts: readonly (readonly [dbfs: number, seconds: number])[], rate: number): Float32Array =>
  joinedSamples(parts.map(([db, seconds]) => sine(rate, seconds, 1000, 10 ** (db / 20))));

/** The test signals of EBU Tech 3341 (2016), table 1, cases 1 to 5: a stereo tone of 1000 Hz; within 0.1 LU. */
describe("loudness by ITU-R BS.1770", () => {
  test.each<[number, readonly (readonly [number, number])[], number]>([
    [1, [[-23, 20]], -23],
    [2, [[-33, 20]], -33],
    [
      3,
      [
        [-36, 10],
        [-23, 60],
        [-36, 10],
      ],
      -23,
    ],
    [
      4,
      [
        [-72, 10],
        [-36, 10],
        [-23, 60],
        [-36, 10],
        [-72, 10],
      ],
      -23,
    ],
    [
      5,
      [
        [-26, 20],
        [-20, 20.1],
        [-26, 20],
      ],
      -23,
    ],
  ])("case %i of EBU Tech 3341", (_case, parts, wanted) => {
    for (const rate of [48_000, 44_100]) {
      const samples = tone(parts, rate);
      expect(Math.abs((heardOf([samples, samples], rate).loudness ?? 0) - wanted)).toBeLessThan(0.1);
    }
  });

  test("a full-scale tone of 997 Hz in one channel is -3.01 LUFS (BS.1770-4, Annex 1)", () => {
    expect(heardOf([sine(48_000, 5, 997, 1), new Float32Array(240_000)]).loudness).toBeCloseTo(-3.01, 1);
  });

  test("silence has none", () => {
    expect(heardOf([new Float32Array(48_000)]).loudness).toBeNull();
    expect(heardOf([new Float32Array(0)]).loudness).toBeNull();
  });
});

describe("what is wrong with a recording", () => {
  const rate = 8000;
  const speech = noise(rate * 60, 0.3);
  const loud = speech.map((sample) => Math.max(-1, Math.min(1, sample * 20)));
  const rules = (channels: readonly Float32Array[], more: Partial<Parameters<typeof soundFaults>[0]> = {}) =>
    soundFaults({
      heard: heardOf(channels, rate),
      ms: 60_000,
      faults: 0,
      firstFault: null,
      wanted: 60_000,
      ...more,
    }).map(({ rule }) => rule);
  test.each([
    ["nothing", rules([speech, speech]), []],
    ["silence", rules([new Float32Array(rate * 60)]), ["sound-silent"]],
    ["a channel without sound", rules([speech, new Float32Array(rate * 60)]), ["sound-channel-missing"]],
    ["sound that was cut off", rules([loud]), ["sound-clipped"]],
    ["a recording that is too short", rules([speech], { wanted: 90_000 }), ["sound-length"]],
    ["one of nobody knows what length", rules([speech], { wanted: null }), []],
    ["a damaged one", rules([speech], { faults: 3, firstFault: "a page is missing" }), ["sound-damaged"]],
  ])("%s", (_what, found, wanted) => expect(found).toEqual(wanted));
});
