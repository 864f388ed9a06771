import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { KIND_RATE, kindFrames } from "../../src/listen/kindFrames.ts";
import { divide } from "../../src/listen/kinds.ts";
import { joinedSamples, monoOf, noise, sine } from "../support/sounds.ts";

/** The demo's evening: music to 5.0 s, speech from 5.3 to 31.95, a sting of 1.5 s, speech to 408.6, music (truth.json). */
const WEB = join(import.meta.dirname, "../../content/episodes/2026/2026-10-05/web.mp3");
const web = (await monoOf(WEB, KIND_RATE)).samples;
const part = (from: number, to: number) => web.subarray(from * KIND_RATE, to * KIND_RATE);
const quiet = (seconds: number) => new Float32Array(seconds * KIND_RATE);
const over = (one: Float32Array, other: Float32Array, gain: number) =>
  one.map((own, n) => own + gain * (other[n % other.length] ?? 0));

function dividedOf(samples: Float32Array, chunk = 1000) {
  const own = kindFrames();
  for (let at = 0; at < samples.length; at += chunk) own.take(samples.subarray(at, at + chunk));
  return divide(own.frames());
}

const [music, speech] = [part(0, 4.9), part(6.4, 30)];
const tone = sine(KIND_RATE, 4, 1000, 0.1);

describe("what is heard when", () => {
  test.each<[string, readonly (readonly [kind: string, samples: Float32Array])[], Float32Array | null]>([
    [
      "the demo's own order",
      [
        ["music", music],
        ["silence", quiet(2)],
        ["speech", speech],
      ],
      null,
    ],
    [
      "all kinds",
      [
        ["tone", tone],
        ["silence", quiet(3)],
        ["speech", speech],
        ["silence", quiet(2)],
        ["music", music],
        ["silence", quiet(1.5)],
      ],
      null,
    ],
    [
      "speech over music is speech",
      [
        ["speech", over(speech, music, 0.1)],
        ["silence", quiet(2)],
        ["music", music],
      ],
      null,
    ],
    [
      "a line's noise is silence",
      [
        ["speech", speech],
        ["silence", quiet(3)],
        ["speech", speech],
      ],
      noise(80 * KIND_RATE, 0.005),
    ],
    [
      "quiet sound",
      [
        ["music", music.map((own) => own * 0.1)],
        ["silence", quiet(2)],
        ["speech", speech.map((own) => own * 0.1)],
      ],
      null,
    ],
  ])("%s", (_what, parts, hiss) => {
    const whole = joinedSamples(parts.map(([, samples]) => samples));
    const { stretches } = dividedOf(hiss === null ? whole : over(whole, hiss, 1));
    expect(stretches.map(({ kind }) => kind)).toEqual(parts.map(([kind]) => kind));
    let at = 0;
    parts.forEach(([, samples], n) => {
      expect(Math.abs((stretches[n]?.start ?? -1) - at)).toBeLessThanOrEqual(450);
      at += (samples.length / KIND_RATE) * 1000;
    });
  });

  test("the whole demo", () => {
    const { stretches, pauses } = dividedOf(web);
    const told = stretches.filter(({ kind, start, end }) => kind !== "silence" || end - start > 1500);
    expect(told.map(({ kind }) => kind)).toEqual(["music", "speech", "music", "speech", "music"]);
    [5.15, 32.1, 33.8, 408.6].forEach((at, n) => {
      expect(Math.abs((told[n]?.end ?? 0) / 1000 - at)).toBeLessThan(0.4);
    });
    expect(pauses.length).toBeGreaterThan(50);
    expect(stretches.every(({ start }, n) => start === (stretches[n - 1]?.end ?? 0))).toBe(true);
  });
});

test("how the sound comes makes no difference", () => {
  const samples = part(0, 12);
  expect(dividedOf(samples, 37)).toEqual(dividedOf(samples, 100_000));
});

test.each([
  ["nothing", new Float32Array(0), []],
  ["less than a frame", new Float32Array(100), []],
  ["only silence", quiet(3), ["silence"]],
  ["only a tone", tone, ["tone"]],
  ["only hiss", noise(5 * KIND_RATE, 0.3), ["music"]],
])("%s", (_what, samples, wanted) => {
  expect(dividedOf(samples).stretches.map(({ kind }) => kind)).toEqual(wanted);
});
