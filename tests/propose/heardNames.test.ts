import { describe, expect, test } from "vitest";
import { misheardNames, withHeardNames } from "../../src/derive/propose/heardNames.ts";
import type { Recording } from "../../src/derive/propose/recording.ts";
import { castOf } from "../../src/derive/propose/speakers.ts";

const RECORDING: Recording = {
  tellApart: (pieces) => ({ of: pieces.map(() => null), unspoken: pieces.map(() => false), alike: () => false }),
  quiets: [],
  names: [],
};

describe("names that are heard", () => {
  const words = "Now here is rowing skill and, our reporter."
    .split(" ")
    .map((text, n) => ({ text, start: n * 500, end: n * 500 + 450, voice: null }));
  const people = [
    { name: "Ruan Skelland", kind: "person" as const, role: null },
    { name: "Rowena Skill", kind: "person" as const, role: null },
  ];

  test("stand at the words that were written there, in place of what is only like them", () => {
    const echoes = [
      { name: "Rowena Skill", from: 3, to: 5, likeness: 0.8 },
      { name: "Rowena Skill", from: 6, to: 8, likeness: 0.75 },
    ];
    const heard = [{ name: "Ruan Skelland", start: 1480, end: 2980, fit: 0.9 }];
    expect(withHeardNames(echoes, words, heard)).toEqual([
      { name: "Ruan Skelland", from: 3, to: 6, likeness: 1 },
      { name: "Rowena Skill", from: 6, to: 8, likeness: 0.75 },
    ]);
    expect(withHeardNames(echoes, words, [])).toEqual(echoes);
  });

  test("are left out where no word stands", () => {
    expect(withHeardNames([], words, [{ name: "Ruan Skelland", start: 60_000, end: 61_000, fit: 2 }])).toEqual([]);
  });

  test("are in the cast of a recording that is listened to", () => {
    const recording = { ...RECORDING, names: [{ name: "Ruan Skelland", start: 1480, end: 2980, fit: 0.9 }] };
    const names = people.map((one) => ({ ...one, say: null, misspelt: [] })) as unknown as Parameters<typeof castOf>[1];
    expect(castOf(words, names, recording).echoes).toContainEqual({
      name: "Ruan Skelland",
      from: 3,
      to: 6,
      likeness: 1,
    });
  });

  test.each([
    ["other words", "Now here is rowing skill and, our reporter.", [["rowing skill and,", "Ruan Skelland"]]],
    ["the name", "Now here is Ruan Skelland, our old reporter.", []],
    ["the last name, which stands a word away", "Now here is the old Mr Skelland.", []],
  ])("where %s stands", (_why, text, expected) => {
    const spoken = text.split(" ").map((own, n) => ({ text: own, start: n * 500, end: n * 500 + 450, voice: null }));
    const heard = [{ name: "Ruan Skelland", start: 1480, end: 2980, fit: 0.9 }];
    const told = misheardNames(spoken, heard);
    expect(told.map(({ words: there, name }) => [there, name])).toEqual(expected);
    expect(told.map(({ at }) => at)).toEqual(expected.map(() => 1500));
  });

  test.each([
    ["both are like it by little", "Ruan Skelland", "here is rowing skill and, our", 2, 5, 0.5, 1],
    ["the sound is less like it", "Ruan Skelland", "here is rowing skill and, our", 2, 5, 0.1, 0],
    ["the words are not like it at all", "Bettany Vellick", "here is it of course", 2, 3, 5, 0],
    ["they are too many", "Ruan Skelland", "here is a ruin and so a skill and", 2, 9, 5, 0],
  ])("are told as misheard or not, where %s", (_why, name, text, from, to, fit, count) => {
    const spoken = text.split(" ").map((own, n) => ({ text: own, start: n * 500, end: n * 500 + 450, voice: null }));
    const heard = [{ name, start: from * 500, end: to * 500, fit }];
    expect(misheardNames(spoken, heard)).toHaveLength(count);
  });
});
