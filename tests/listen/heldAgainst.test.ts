import { describe, expect, test } from "vitest";
import { breaksAgainst, heldAgainst, type SoughtWord } from "../../src/listen/heldAgainst.ts";
import type { Division, KindStretch, SoundKind } from "../../src/listen/kinds.ts";
import { clockMs } from "../../src/model/units.ts";

const MEDIA = { clock: "media" as const, cuts: [] };

/** Kinds with their lengths in seconds, one after another. */
function divided(...parts: readonly (readonly [SoundKind, number])[]): Division {
  let at = 0;
  const stretches = parts.map(([kind, seconds]): KindStretch => {
    const start = at;
    at += seconds * 1000;
    return { kind, start, end: at };
  });
  return { stretches, pauses: [] };
}

/** Words that are heard from a second on, three a second, or not at all. */
function words(text: string, from: number | null): readonly SoughtWord[] {
  return text.split(" ").map((word, n) => {
    const start = (from ?? 0) * 1000 + n * 333;
    return { text: word, heard: from === null ? null : { start, end: start + 300 } };
  });
}

const told = (
  sought: readonly SoughtWord[],
  division: Division,
  end: number,
  timed = MEDIA as Parameters<typeof heldAgainst>[3],
) => heldAgainst(sought, division, { start: 0, end: end * 1000 }, timed).map(({ rule, at }) => [rule, at / 1000]);

describe("words held against the sound", () => {
  const evening = divided(["music", 5], ["speech", 10], ["silence", 3], ["speech", 10], ["music", 5]);
  const second = words("and then it went on to the end", 18.5);
  const [long, longer] = [
    divided(["music", 5], ["speech", 5]),
    words("one two three four five six seven eight nine ten eleven", 5.5),
  ];
  const full = (from: number) => words(Array.from({ length: 28 }, () => "word").join(" "), from);
  test.each<[string, readonly SoughtWord[], Division, number, readonly (readonly [string, number])[]]>([
    ["all is well", [...full(5.5), ...full(18.5)], evening, 33, []],
    [
      "words over the opening music",
      [...words("Subtitles by the Ostwick Circle.", null), ...full(5.5), ...full(18.5)],
      evening,
      33,
      [["words-unspoken", 0]],
    ],
    [
      "words in a silence",
      [...full(5.5), ...words("Thank you.", null), ...full(18.5)],
      evening,
      33,
      [["words-unspoken", 15]],
    ],
    [
      "words over the closing music",
      [...full(5.5), ...full(18.5), ...words("Thank you for listening.", null)],
      evening,
      33,
      [["words-unspoken", 28]],
    ],
    ["one word alone may be a slip", [...full(5.5), ...words("Thanks.", null), ...full(18.5)], evening, 33, []],
    ["punctuation is no word", [...full(5.5), ...words("– …", null), ...full(18.5)], evening, 33, []],
    [
      "one that the search finds in music is none",
      [...words("Subtitles", null), ...words("the", 2), ...words("Circle.", null), ...full(5.5), ...full(18.5)],
      evening,
      33,
      [["words-unspoken", 0]],
    ],
    [
      "words that are too faint to be heard stand in speech",
      [
        ...words("Good evening.", 5.5),
        ...words("this was said very faintly by somebody", null),
        ...words("on to the end", 8.7),
      ],
      long,
      10,
      [],
    ],
    [
      "speech without words",
      [...full(5.5), ...words("on to the end of it", 26)],
      evening,
      33,
      [["speech-without-words", 14.791]],
    ],
    [
      "speech without words at the end",
      [...full(5.5), ...words("at last", 18.4)],
      evening,
      33,
      [["speech-without-words", 19.033]],
    ],
    [
      "speech with fewer words than it takes",
      [...full(5.5), ...words("and then", null), ...words("on to the end of it", 26)],
      evening,
      33,
      [["speech-without-words", 14.791]],
    ],
    [
      "speech whose words are only not found",
      [
        ...full(5.5),
        ...words("and then it went on to the end of the hall and out of the door again", null),
        ...words("on to the end of it", 26),
      ],
      evening,
      33,
      [],
    ],
    ["no words", [], divided(["music", 9]), 9, []],
    ["nothing but speech", [], divided(["speech", 9]), 9, [["speech-without-words", 0]]],
  ])("%s", (_what, sought, division, end, wanted) => {
    expect(told(sought, division, end)).toEqual(wanted);
  });

  test("pauses are no speech", () => {
    const division = { ...evening, pauses: [{ start: 15_000 - 9_000, end: 15_000 }] };
    const sought = [...words("one two", 5.5), ...full(18.5)];
    expect(told(sought, { ...division }, 33)).toEqual([]);
    expect(told(sought, { ...division, pauses: [] }, 33)).toEqual([["speech-without-words", 6.133]]);
  });

  test("times are the episode's, past a cut", () => {
    const timed = { clock: "aired" as const, cuts: [{ from: clockMs(10_000), to: clockMs(70_000), why: "break" }] };
    expect(told([...full(5.5), ...words("Thank you.", null), ...second], evening, 26, timed)).toContainEqual([
      "words-unspoken",
      75,
    ]);
  });

  test("a sentence says what is there", () => {
    const [fault] = heldAgainst(
      [...words("Subtitles by the Circle.", null), ...longer],
      long,
      { start: 0, end: 10_000 },
      MEDIA,
    );
    expect(fault?.says).toBe(
      "“Subtitles by the Circle.” is not heard, and nobody speaks where it stands: from 0:00 on there is music or other sound.",
    );
  });
});

describe("breaks held against the sound", () => {
  const evening = divided(["speech", 100], ["music", 25], ["silence", 1], ["speech", 200]);
  const at = (start: number, end: number) =>
    breaksAgainst([{ slug: "break", start: start * 1000, end: end * 1000 }], evening, MEDIA).map(({ rule }) => rule);
  test.each([
    ["in its place", 100, 126, []],
    ["a little off", 92, 118, []],
    ["well before its place", 60, 86, ["break-elsewhere"]],
    ["well after it", 140, 166, ["break-elsewhere"]],
    ["so far off that it may be another", 290, 316, []],
    ["too short to be known", 60, 66, []],
    ["cut out whole", 60, 60, []],
  ])("%s", (_what, start, end, wanted) => expect(at(start, end)).toEqual(wanted));

  test("spoken adverts, and no music anywhere, can't be told from the programme", () => {
    const said = [{ slug: "break", start: 60_000, end: 86_000 }];
    expect(breaksAgainst(said, divided(["speech", 300]), MEDIA)).toEqual([]);
  });
  test("music that belongs to another break isn't this one's", () => {
    const said = [
      { slug: "break-1", start: 60_000, end: 86_000 },
      { slug: "break-2", start: 100_000, end: 126_000 },
    ];
    expect(breaksAgainst(said, evening, MEDIA)).toEqual([]);
  });
});
