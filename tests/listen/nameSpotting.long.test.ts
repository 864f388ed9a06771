import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { alignWords } from "../../src/listen/align.ts";
import { cepstra, RATE } from "../../src/listen/alignFeatures.ts";
import { EVENING, PEOPLE, sentencesOf, truthOf } from "../support/evening.ts";
import { debianModel, HAS_MODEL } from "../support/listening.ts";
import { monoOf } from "../support/sounds.ts";

const WEB = join(import.meta.dirname, "../../content/episodes/2026/2026-10-05/web.mp3");
/** The demo's first two minutes, milliseconds. The words beside the names are no matter. */
const END = 120;
const sentences = sentencesOf(truthOf(EVENING)).filter(({ end }) => end < END);
const rough = sentences.map(({ start, end }) => ({ text: "and", from: start * 1000, to: end * 1000 }));
const people = PEOPLE.map(({ name }) => name);

describe.skipIf(!HAS_MODEL)("names heard in a recording", () => {
  let frames: Float32Array;
  beforeAll(async () => {
    const own = cepstra();
    own.take((await monoOf(WEB, RATE)).samples.subarray(0, END * RATE));
    frames = own.frames();
  });
  const namesIn = (names: readonly string[], words = rough) =>
    alignWords(words, frames, debianModel(), { names }).names;

  test("are those that are said, at their place, and hardly any other", () => {
    const heard = namesIn(people);
    const said = sentences.flatMap(({ text, ...own }) =>
      people.filter((name) => text.includes(name)).map((name) => ({ ...own, name })),
    );
    const isSaid = ({ name, start, end }: (typeof heard)[number]) =>
      said.some((own) => own.name === name && start > own.start * 1000 - 200 && end < own.end * 1000 + 200);
    expect(said.length).toBeGreaterThan(3);
    expect(heard.filter(isSaid).length / said.length).toBeGreaterThanOrEqual(0.7);
    expect(heard.length - heard.filter(isSaid).length).toBeLessThanOrEqual(2);
    for (const { fit } of heard) expect(fit).toBeGreaterThanOrEqual(0);
    heard.slice(1).forEach(({ start }, n) => {
      expect(start).toBeGreaterThanOrEqual(heard[n]?.end ?? 0);
    });
  });

  test("are none, where nobody is looked for, and where there is nothing to hear", () => {
    expect(namesIn([])).toEqual([]);
    expect(namesIn(people, [])).toEqual([]);
    expect(namesIn(people, [{ text: "and", from: 900_000, to: 901_000 }])).toEqual([]);
    // Nobody knows how a name without a letter is said.
    expect(namesIn(["—"])).toEqual([]);
  });
});
