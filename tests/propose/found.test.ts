import { describe, expect, test } from "vitest";
import { spread } from "../../src/derive/captioning/wordTimes.ts";
import { findEchoes } from "../../src/derive/propose/echoes.ts";
import { areTooMany, findSegments } from "../../src/derive/propose/segments.ts";
import { castOf, proposeVoices, sceneOf } from "../../src/derive/propose/speakers.ts";
import { MOST_SENTENCES } from "../../src/model/limits.ts";
import { EVENING, orderOf, PEOPLE, quantile, rawWords, truthOf } from "../support/evening.ts";

const truth = truthOf(EVENING);
const end = truth.duration * 1000;
const order = orderOf(EVENING);
const heardIn = (file: string) => {
  const words = rawWords(EVENING, file, end);
  const { echoes } = castOf(words, PEOPLE);
  return { words, found: findSegments({ words, order, echoes, end }) };
};

describe("names that were misheard", () => {
  const echo = (text: string) =>
    findEchoes(
      text.split(" ").map((word) => ({ text: word })),
      PEOPLE,
    ).map(({ name, from, to }) => [name, from, to]);
  test.each([
    ["other words with its sounds", "our reporter wilson rain has been", [["Ilse Marrane", 2, 4]]],
    ["near, with the role beside it", "saber neck in the operations director", [["Sabra Innick", 0, 2]]],
    ["spelled otherwise", "this is Elsa Moraine", [["Ilse Marrane", 2, 4]]],
    ["right", "Perpetua Wyle said that", [["Perpetua Wyle", 0, 2]]],
    ["nobody's", "the ship has room for two hundred and twenty", []],
  ])("%s", (_why, text, wanted) => expect(echo(text)).toEqual(wanted));

  test("as the register says that they are misspelt", () => {
    const names = [{ name: "Osmund Tarrick", role: null, misspelt: ["grand attic", "man"] }];
    const words = "now a Grand attic, said the grand man".split(" ").map((text) => ({ text }));
    expect(findEchoes(words, names)).toEqual([{ name: "Osmund Tarrick", from: 2, to: 4, likeness: 1 }]);
  });
});

// Outside check: the in points of the broadcast as it was made.
describe("the demo's segments, in the recogniser's words", () => {
  test.each([
    ["raw.words.json", 100, 500],
    ["raw.vtt", 1500, 6000],
    ["raw-noisy.txt", 1500, 6000],
  ])("%s: half within %d ms, all within %d ms", (file, median, most) => {
    const errors = heardIn(file).found.map((segment, n) => Math.abs(segment.in - (truth.segments[n]?.in ?? 0) * 1000));
    expect(quantile(errors, 0.5)).toBeLessThan(median);
    expect(Math.max(...errors)).toBeLessThan(most);
  });

  test("they touch, rise and end with the programme", () => {
    const { found } = heardIn("raw.vtt");
    expect(found).toHaveLength(order.length);
    expect(found[0]?.in).toBe(0);
    expect(found.at(-1)?.out).toBe(end);
    found.slice(1).forEach((segment, n) => {
      expect(segment.in).toBe(found[n]?.out);
      expect(segment.in).toBeGreaterThan(found[n]?.in ?? 0);
    });
  });
});

describe("segments in little", () => {
  const words = (text: string) =>
    spread(
      text.split(" ").map((word) => ({ text: word, voice: null })),
      0,
      60_000,
    );
  test("no running order, no segments", () => {
    expect(findSegments({ words: words("Good evening."), order: [], echoes: [], end: 60_000 })).toEqual([]);
  });
  test("more segments than sentences stand where the plan has them, and all are doubtful", () => {
    const found = findSegments({ words: words("Good evening."), order, echoes: [], end });
    expect(found.map(({ in: start }) => Math.round(start / 1000))).toEqual([0, 39, 137, 221, 289, 319, 363, 417, 456]);
    expect(found.every(({ edgeState }) => edgeState === "doubtful")).toBe(true);
  });
  test("of more sentences than are looked through, the plan alone says where segments are", () => {
    const talk = (sentences: number) => words(Array.from({ length: sentences }, () => "Yes indeed.").join(" "));
    expect(areTooMany(talk(100))).toBe(false);
    const many = talk(MOST_SENTENCES + 1);
    expect(areTooMany(many)).toBe(true);
    const plan = order.slice(0, 2).map((segment) => ({ ...segment, planned: 20_000 }));
    const found = findSegments({ words: many, order: plan, echoes: [], end: 60_000 });
    expect(found.map(({ in: start, edgeState }) => [start, edgeState])).toEqual([
      [0, "doubtful"],
      [30_000, "doubtful"],
    ]);
  });

  test("a silence holds a break with no words in it", () => {
    const talk = "We begin with the boats and the islands. They ask why. After the break, football.";
    const more = "Sport now, and the football. Sollen won again. That is the sport.";
    const spoken = (text: string, from: number) =>
      spread(
        text.split(" ").map((word) => ({ text: word, voice: null })),
        from,
        from + 20_000,
      );
    const plan = ["reader", "break", "sport"].map((kind, n) => ({
      ...order[n],
      kind,
      title: kind,
      planned: 20_000,
    })) as typeof order;
    const found = findSegments({
      words: [...spoken(talk, 0), ...spoken(more, 40_000)],
      order: plan,
      echoes: [],
      end: 60_000,
    });
    expect(found.map(({ in: start, out }) => [Math.round(start / 1000), Math.round(out / 1000)])).toEqual([
      [0, 20],
      [20, 40],
      [40, 60],
    ]);
  });
});

// Outside check: who really spoke.
test("proposed speakers are right for five words in six", () => {
  const { words, found } = heardIn("raw.vtt");
  const stretches = found.map((segment, n) => ({
    ...segment,
    kind: order[n]?.kind ?? "reader",
    by: order[n]?.by ?? [],
  }));
  const runs = proposeVoices(words, stretches, ["Tamsin Hathersay"], castOf(words, PEOPLE));
  expect(runs.reduce((sum, { from, to }) => sum + to - from, 0)).toBe(words.length);
  const trueTimes = rawWords(EVENING, "raw.words.json", end);
  const judged = runs.flatMap(({ from, to, voice }) =>
    trueTimes.slice(from, to).flatMap(({ start, end: stop }) => {
      const middle = (start + stop) / 2000;
      const said = truth.sentences.find((sentence) => sentence.start <= middle && middle <= sentence.end);
      return said === undefined ? [] : [said.speaker === voice];
    }),
  );
  expect(judged.filter(Boolean).length / judged.length).toBeGreaterThan(5 / 6);
});

describe("who presents, without the recording", () => {
  const presenters = ["Marit Oskvall", "Dele Farrowby"];
  const words = Array.from({ length: 12 }, (_, n) => ({
    text: n % 4 === 3 ? "late." : "boats",
    voice: null,
    start: n * 1000,
    end: n * 1000 + 900,
  }));
  const stretch = (k: number, kind: string, by: readonly string[]) => ({
    in: k * 4000,
    out: k * 4000 + 4000,
    kind,
    by,
  });
  const voicesOf = (stretches: readonly ReturnType<typeof stretch>[]) => {
    const runs = proposeVoices(words, stretches, presenters, { people: [], echoes: [] });
    return stretches.map(
      ({ in: start }) => runs.find(({ from, to }) => from * 1000 <= start && start < to * 1000)?.voice,
    );
  };

  test.each([
    ["whom the running order puts there", [["Dele Farrowby"], ["Marit Oskvall"], ["Dele Farrowby"]], [1, 0, 1]],
    ["nobody where it puts two", [["Dele Farrowby"], presenters, ["Marit Oskvall"]], [1, null, 0]],
    ["nobody where it puts none and has two elsewhere", [["Dele Farrowby"], [], ["Marit Oskvall"]], [1, null, 0]],
    ["the only one whom it puts anywhere", [["Dele Farrowby"], [], []], [1, 1, 1]],
    ["the programme's first where it puts nobody", [[], [], []], [0, 0, 0]],
  ] as const)("%s", (_why, by, expected) => {
    const voices = voicesOf(by.map((own, k) => stretch(k, "reader", own)));
    expect(voices).toEqual(expected.map((n) => (n === null ? null : presenters[n])));
  });

  test("a newsreader whom the running order alone puts there reads the news", () => {
    const order = [stretch(0, "headlines", ["Magda Ellerin"]), stretch(1, "reader", ["Dele Farrowby"])];
    expect(voicesOf(order)).toEqual(["Magda Ellerin", "Dele Farrowby"]);
  });

  test("of several guests who are expected in a talk, it may be any", () => {
    const said = "why were they late? i think that my boats and i were late because of my engine. so what then?".split(
      " ",
    );
    const talk = said.map((text, n) => ({ text, voice: null, start: n * 300, end: n * 300 + 250 }));
    const voicesIn = (guests: readonly string[]) => {
      const stretches = [{ in: 0, out: 9000, kind: "interview", by: ["Dele Farrowby", ...guests] }];
      return proposeVoices(talk, stretches, presenters, { people: [], echoes: [] }).map(({ voice }) => voice);
    };
    expect(voicesIn(["Magda Ellerin"])).toEqual(["Dele Farrowby", "Magda Ellerin", "Dele Farrowby"]);
    expect(voicesIn(["Magda Ellerin", "Jonah Tressick"])).toEqual(["Dele Farrowby", null, "Dele Farrowby"]);
  });

  test("what was heard in a break is nobody's", () => {
    const by = ["Dele Farrowby"];
    expect(voicesOf([stretch(0, "reader", by), stretch(1, "break", []), stretch(2, "close", by)])).toEqual([
      "Dele Farrowby",
      null,
      "Dele Farrowby",
    ]);
  });
});

describe("whom a sentence speaks of by their role", () => {
  const people = [
    { name: "Ulrika Sandhoe", role: "Captain; harbour master of Sollen from January" },
    { name: "Zofia Wrenthal", role: "beekeeper at the hospital" },
  ];
  test.each([
    ["most words of it", "the beekeeper of this hospital", ["Zofia Wrenthal"]],
    ["two of many", "in sollen in january", []],
    ["one word", "every hospital has one", []],
  ])("%s", (_why, said, expected) => {
    const words = said.split(" ").map((text, n) => ({ text, voice: null, start: n * 300, end: n * 300 + 200 }));
    expect(sceneOf({ from: 0, to: words.length }, words, { people, echoes: [] }).names).toEqual(expected);
  });
});
