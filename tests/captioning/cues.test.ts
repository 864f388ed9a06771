import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { breakBefore, namesByFirst } from "../../src/derive/captioning/breaks.ts";
import { makeCues } from "../../src/derive/captioning/cues.ts";
import { spread } from "../../src/derive/captioning/wordTimes.ts";
import { CAPTION_FIGURES } from "../../src/model/captions.ts";
import type { SpokenWord } from "../../src/model/spoken.ts";
import { EVENING, truthOf } from "../support/evening.ts";

const NAMES = ["Ilse Marrane", "Gannet Quay", "Verrin Islands Broadcasting"];
const said = (text: string, start: number, end: number, voice: string | null = null): readonly SpokenWord[] =>
  spread(
    text.split(" ").map((word) => ({ text: word, voice })),
    start,
    end,
  );
const textOf = (cue: ReturnType<typeof makeCues>[number]) => cue.pieces.map(({ words }) => words).join("");

describe("how a break reads", () => {
  const judge = (text: string) => {
    const words = text.replace("|", "").split(/\s+/);
    const n = text.slice(0, text.indexOf("|")).trim().split(/\s+/).length;
    return breakBefore(n, words, namesByFirst(NAMES));
  };
  // BBC Subtitle Guidelines 1.2.5 §3.4.
  test.each([
    ["at a full stop", "no time. | The ship", 0],
    ["at a comma", "the ship, | which has", 0.15],
    ["article and noun", "the | ship sails", 1],
    ["preposition and phrase", "sails from | Sollen", 1],
    ["conjunction and clause", "sails and | the islands", 1],
    ["pronoun and verb", "what she | said", 0.9],
    ["parts of a verb", "it has | sailed", 0.9],
    ["before a conjunction", "sails | and returns", 0.3],
    ["before a preposition", "sails | from Sollen", 0.4],
    ["a number and its unit", "about 440,000 | crowns a year", "never"],
    ["a number word and its unit", "about nine | sailings a week", "never"],
    ["a first name and a surname", "says Ilse | Marrane tonight", "never"],
    ["a registered name in small letters", "down to gannet | quay", "never"],
    ["its genitive", "down at gannet | quay's end", "never"],
    ["a title and a name", "thank you Mr | Tarrick", "never"],
    ["an unregistered name", "says Kit | Saverell tonight", "never"],
    ["a day and a month", "on 12 | October", "never"],
  ] as const)("%s", (_why, text, wanted) => expect(judge(text)).toBe(wanted));
});

describe("the demo's words, with their true times", () => {
  const words = truthOf(EVENING).sentences.flatMap(({ text, start, end, speaker }) =>
    said(text, start * 1000, end * 1000, speaker),
  );
  const cues = makeCues(words, { names: NAMES });
  const lines = cues.flatMap((cue) => textOf(cue).split("\n"));

  // BBC §3.1, §3.3, §4.5, §5.2; DCMP: the figures and their sources stand in src/model/captions.ts.
  test("line length, lines, times and gaps as the guidelines have them", () => {
    expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(37);
    expect(cues.every((cue) => textOf(cue).split("\n").length <= 2)).toBe(true);
    expect(cues.every(({ start, end }) => end - start <= 6000)).toBe(true);
    expect(cues.filter(({ start, end }) => end - start < 1333).length).toBeLessThanOrEqual(6);
    cues.slice(1).forEach(({ start }, n) => {
      const gap = start - (cues[n]?.end ?? 0);
      expect(gap === 0 || gap >= 1000).toBe(true);
    });
  });

  test("nothing is torn, nothing lost, nobody captioned with another", () => {
    expect(cues.map((cue) => textOf(cue).replace("\n", " ")).join(" ")).toBe(words.map(({ text }) => text).join(" "));
    for (const torn of [/Ilse$/, /Gannet$/, /\b\d[\d,]*\d$/])
      expect(lines.filter((line) => torn.test(line))).toEqual([]);
    const hanging = lines.filter((line) => /\b(?:the|a|an|of|and|from|with)$/.test(line));
    expect(hanging.length / lines.length).toBeLessThan(0.02);
  });

  test("most cues end where a sentence or a clause does", () => {
    const ended = cues.filter((cue) => /[.,:?!]$/.test(textOf(cue)));
    expect(ended.length / cues.length).toBeGreaterThan(0.8);
  });
});

describe("what the optimiser weighs", () => {
  test("lines are balanced, not filled", () => {
    const [cue] = makeCues(said("Verrin Line says that too many of them carried empty seats.", 0, 4000));
    expect(cue === undefined ? "" : textOf(cue)).toBe("Verrin Line says that too many\nof them carried empty seats.");
  });

  test("a change of voice and a long silence part cues", () => {
    const words = [
      ...said("Good evening.", 0, 800, "A"),
      ...said("Thank you.", 800, 1600, "B"),
      ...said("Good night.", 9000, 9800, "B"),
    ];
    expect(makeCues(words).map(textOf)).toEqual(["Good evening.", "Thank you.", "Good night."]);
  });

  test("a short cue stands into the pause after it, and no longer than it may", () => {
    const [cue] = makeCues([...said("Good evening.", 0, 600), ...said("Later.", 20_000, 20_400)]);
    expect(cue?.end).toBe(CAPTION_FIGURES.shortest);
    const [fast] = makeCues(said("nine sailings a week from Sollen to the outer islands", 0, 1500));
    expect(fast?.end).toBe(1500 + CAPTION_FIGURES.hang);
  });

  test("a programme's own figures", () => {
    const cues = makeCues(said("Verrin Line says that too many of them carried empty seats.", 0, 4000), {
      figures: { ...CAPTION_FIGURES, line: 20, lines: 1 },
    });
    expect(cues.every((cue) => textOf(cue).length <= 20 && !textOf(cue).includes("\n"))).toBe(true);
  });

  test("a word longer than any line stays whole", () => {
    const word = "a".repeat(400);
    expect(
      makeCues(said(`one ${word} two`, 0, 9000))
        .map(textOf)
        .join(" ")
        .split(/\s/),
    ).toEqual(["one", word, "two"]);
  });

  test("no words, no cues", () => expect(makeCues([])).toEqual([]));
});

test("whatever the words and times: all of them in order, no cue empty, none over another", () => {
  const word = fc.constantFrom("the", "nine", "sailings,", "Sollen.", "and", "Ilse", "Marrane", "440,000", "a", "why?");
  const gap = fc.constantFrom(0, 0, 0, 200, 900, 3000);
  fc.assert(
    fc.property(
      fc.array(fc.tuple(word, gap, fc.nat(600), fc.constantFrom("A", "A", "A", "B")), { maxLength: 60 }),
      (entries) => {
        let at = 0;
        const words = entries.map(([text, pause, length, voice]) => {
          const start = at + pause;
          at = start + length;
          return { text, start, end: at, voice };
        });
        const cues = makeCues(words, { names: NAMES });
        expect(cues.flatMap((cue) => textOf(cue).split(/\s/))).toEqual(words.map(({ text }) => text));
        cues.forEach(({ start, end }, n) => {
          expect(end).toBeGreaterThan(start);
          if (words.every((one) => one.end > one.start)) expect(start).toBeGreaterThanOrEqual(cues[n - 1]?.end ?? 0);
        });
      },
    ),
  );
});
