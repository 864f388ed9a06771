import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { MANNER, PARTS, type Part } from "../../src/derive/propose/manner.ts";
import type { Scene } from "../../src/derive/propose/scene.ts";
import { leadsTo, signsOf } from "../../src/derive/propose/signs.ts";
import { type Party, partsOf, talkVoices } from "../../src/derive/propose/talk.ts";

const PARTY = { presenter: "Tamsin Hathersay", guest: "Ilse Marrane" };

const scene = (said: string, n: number, names: readonly string[] = []): Scene => ({
  sentence: { from: n * 10, to: n * 10 + 10 },
  text: said.toLowerCase().replace(/[.,?]/g, "").split(" "),
  names,
  first: null,
  asks: said.endsWith("?"),
});

const voicesOf = (said: readonly (string | readonly [string, string])[], sure: number, party: Party = PARTY) =>
  talkVoices(
    said.map((one, n) => (typeof one === "string" ? scene(one, n) : scene(one[0], n, [one[1]]))),
    party,
    sure,
  ).map(({ voice }) => voice?.split(" ")[0] ?? null);

describe("who speaks in a talk, by its words alone", () => {
  test("questions are the presenter's, and answers the guest's", () => {
    const said = [
      "Now to the ferries and to the committee that was going to vote today.",
      "So why did they not vote?",
      "Because I think that they ran out of patience before they ran out of time.",
      "I heard twenty three people and nearly all of them want their boats back.",
      "And when is the vote?",
      "On Thursday morning and I shall be there with my bag.",
    ];
    expect(voicesOf(said, 0)).toEqual(["Tamsin", "Tamsin", "Ilse", "Ilse", "Tamsin", "Ilse"]);
  });

  test("what may be either's has no name", () => {
    const said = [
      "Why was that?",
      "The boats of the harbour were late by nine.",
      "The harbour was full of them by ten.",
    ];
    expect(voicesOf(said, 0)).toEqual(["Tamsin", "Ilse", "Tamsin"]);
    expect(voicesOf(said, 0.9)).toEqual(["Tamsin", null, null]);
  });

  test("an answer of somebody whom nobody knows has no name, and is not the presenter's", () => {
    const said = ["What did you see?", "I was in my kitchen and I saw my own boat go by with my dog on it."];
    expect(voicesOf(said, 0, { presenter: "Tamsin Hathersay", guest: null })).toEqual(["Tamsin", null]);
  });

  test("is what all ways of parting the talk among three make together", () => {
    const sentence = fc.record({
      said: fc.array(fc.constantFrom("i", "you", "what", "thanks", "he", "said", "boats"), {
        minLength: 1,
        maxLength: 20,
      }),
      name: fc.constantFrom(null, "Ilse Marrane", "Joss Tolvey"),
      asks: fc.boolean(),
    });
    fc.assert(fc.property(fc.array(sentence, { minLength: 1, maxLength: 5 }), together));
  });
});

/** The model by its definition, every way one by one, without going forward and backward. */
function together(sentences: readonly { said: string[]; name: string | null; asks: boolean }[]): void {
  const scenes = sentences.map(({ said, name, asks }, n) => ({
    ...scene(said.join(" "), n, name === null ? [] : [name]),
    asks,
  }));
  const signs = scenes.map((one): ReadonlySet<string> => signsOf(one, PARTY));
  const leads = scenes.map((one) => leadsTo(signsOf(one, PARTY)));
  const fits = (part: Part, n: number) =>
    Object.entries(MANNER.signs[part]).map(([sign, share]) => (signs[n]?.has(sign) ? share : 1 - share));
  const chanceOf = (way: readonly Part[]) =>
    way.reduce(
      (chance, part, n) => {
        const [was, lead] = [way[n - 1], leads[n - 1]];
        const step =
          was === undefined || lead === undefined
            ? { presenter: 0.9, guest: 0.05, other: 0.05 }[part]
            : MANNER.next[was][lead][part];
        return fits(part, n).reduce((product, fit) => product * fit, chance * step);
      },
      MANNER.last[way.at(-1) ?? "other"],
    );
  let ways: readonly (readonly Part[])[] = [[]];
  for (const _ of scenes) ways = ways.flatMap((way) => PARTS.map((part) => [...way, part]));
  const chances = ways.map((way) => ({ way, chance: chanceOf(way) }));
  const sum = (of: typeof chances) => of.reduce((whole, { chance }) => whole + chance, 0);
  partsOf(scenes, PARTY, MANNER).forEach((shares, n) => {
    for (const part of PARTS) {
      const own = sum(chances.filter(({ way }) => way[n] === part));
      expect(shares[part]).toBeCloseTo(own / sum(chances), 9);
    }
  });
}
