import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { spotterInThreads } from "../../src/actions/alignThreads.ts";
import { cepstra, RATE } from "../../src/listen/alignFeatures.ts";
import { spotNames } from "../../src/listen/nameSpotting.ts";
import { EVENING, PEOPLE, sentencesOf, truthOf } from "../support/evening.ts";
import { debianModel, HAS_MODEL, modelFiles } from "../support/listening.ts";
import { monoOf } from "../support/sounds.ts";

const WEB = join(import.meta.dirname, "../../content/episodes/2026/2026-10-05/web.mp3");
/** The demo's first two minutes, as sentences: milliseconds. */
const END = 120;
const sentences = sentencesOf(truthOf(EVENING)).filter(({ end }) => end < END);
const stretches = sentences.map(({ start, end }) => ({ start: start * 1000 - 100, end: end * 1000 + 100 }));
const names = PEOPLE.map(({ name }) => name);

describe.skipIf(!HAS_MODEL)("names heard in a recording", () => {
  let frames: Float32Array;
  beforeAll(async () => {
    const own = cepstra();
    own.take((await monoOf(WEB, RATE)).samples.subarray(0, END * RATE));
    frames = own.frames();
  });

  test("are those that are said, at their place, and hardly any other", () => {
    const heard = spotNames(stretches, names, frames, debianModel());
    const said = sentences.map(({ text }) => names.filter((name) => text.includes(name)));
    const all = heard.flatMap((own, n) => own.map((one) => ({ ...one, n })));
    const right = all.filter(({ name, n }) => said[n]?.includes(name));
    expect(said.flat().length).toBeGreaterThan(3);
    expect(right.length / said.flat().length).toBeGreaterThanOrEqual(0.7);
    // A surname alone is like the whole name.
    const like = all.filter(({ name, n }) => name.split(" ").some((part) => sentences[n]?.text.includes(part)));
    expect(all.length - like.length).toBeLessThanOrEqual(2);
    for (const { start, end, n } of right) {
      expect(start).toBeGreaterThanOrEqual((stretches[n]?.start ?? 0) - 20);
      expect(end).toBeLessThanOrEqual((stretches[n]?.end ?? 0) + 20);
    }
  });

  test("are the same in threads, by stretch", async () => {
    const some = stretches.slice(0, 2);
    const heard = await spotterInThreads(frames, modelFiles(), 2)(some, names);
    expect(heard).toEqual(spotNames(some, names, frames, debianModel()));
  });

  test("are none, where nobody is looked for, and where there is nothing to hear", async () => {
    const spot = spotterInThreads(frames, modelFiles(), 2);
    expect(await spot(stretches.slice(0, 2), [])).toEqual([[], []]);
    expect(await spot([], names)).toEqual([]);
    expect(spotNames([{ start: 900_000, end: 901_000 }], names, frames, debianModel())).toEqual([[]]);
    // Nobody knows how a name without a letter is said.
    expect(spotNames(stretches.slice(0, 1), ["—"], frames, debianModel())).toEqual([[]]);
  });
});
