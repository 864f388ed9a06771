import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { finderOf } from "../../src/checks/finder.ts";
import { CHECKS } from "../../src/checks/index.ts";
import { foldWord, spokenIn, tokensOf } from "../../src/checks/speech.ts";
import { likeTopics } from "../../src/checks/structure/likeTopics.ts";
import { homesIn } from "../../src/derive/holdings.ts";
import { clockMs } from "../../src/model/units.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { episode, segment } from "../support/episodes.ts";
import { episodeOf } from "./measure/archive.ts";
import { subjectWith, toldBy, turnsOf } from "./support.ts";

const times = <T>(count: number, make: (n: number) => T): T[] => Array.from({ length: count }, (_, n) => make(n));

/** A name with a capital, another for each number. */
const stranger = (n: number): string =>
  `Q${[...String(n)].map((digit) => ["ab", "ec", "id", "of", "ug", "aj", "ek", "il", "om", "un"][Number(digit)]).join("")}`;

/** All that the checks tell, with the time that a test may take to end them. */
const judged = (subject: Awaited<ReturnType<typeof subjectWith>>) =>
  CHECKS.flatMap(({ name, judge }) => judge(subject).map(({ says }) => `${name}: ${says}`));

describe("what is very long is checked to its end", () => {
  test("one number 2,000 times in a sentence", async () => {
    const told = judged(await subjectWith(turnsOf([times(2000, () => "twenty one").join(" ")])));
    expect(told.filter((says) => says.startsWith("phrase-loops"))).toHaveLength(1);
  });

  test("8,000 captions with figures, names, scores and superlatives", async () => {
    const sentences = times(
      8_000,
      (n) =>
        [
          `${stranger(n)} counted ${n + 2} sailings a week there.`,
          `Sollen Town won by ${(n % 9) + 1} goals to one.`,
          `It was the coldest night in ${n + 2} years, said ${stranger(n)}.`,
          "Nobody at the harbour would say more than that.",
        ][n % 4] ?? "",
    );
    const told = judged(await subjectWith(turnsOf(sentences)));
    expect(told.some((says) => says.startsWith("score-differs"))).toBe(true);
  }, 60_000);

  test.each([
    ["figures", (n: number) => `crates ${n} and`],
    ["pleas", (n: number) => `the court heard that he pleaded ${n % 2 ? "guilty" : "not guilty"} to theft and`],
  ])("a transcript of %s without a full stop", { timeout: 20_000 }, async (_of, words) => {
    const told = judged(await subjectWith(turnsOf([times(20_000, words).join(" ")])));
    expect(told.length).toBeGreaterThan(0);
  });

  test("a caption of 300,000 lines", async () => {
    const turns = turnsOf(["First line."]);
    const subject = await subjectWith(turns, {
      episode: {
        cues: episodeOf(turns).cues.map((cue) => ({
          ...cue,
          pieces: cue.pieces.map((piece) => ({ ...piece, words: "\n".repeat(300_000) + piece.words })),
        })),
      },
    });
    expect(judged(subject).length).toBeGreaterThan(0);
  });
});

describe("limits are told", () => {
  const differing = (count: number) =>
    times(count, (n) =>
      `One Speaker: There are ${n + 2} sailings a week to Sollen harbour. Other Speaker: No, there are ${n + 2000} sailings a week to Sollen harbour.`.split(
        /(?<=\.) /,
      ),
    ).flat();

  test("of one thing a hundred differences, and that there are more", async () => {
    const told = await toldBy("count-differs", turnsOf(differing(30)));
    expect(told).toHaveLength(101);
    expect(told.at(-1)).toMatch(
      /^There are more differences of this kind from “\d+ sailings a week”|^There are more differences of this kind from “\d+”/,
    );
  });

  test("figures that were not compared with all others", async () => {
    // Bare numbers in sentences that share no word: compared, and never one thing.
    const told = await toldBy("count-differs", turnsOf(times(300, (n) => `${stranger(n)} ${n + 2}.`)));
    expect(told).toEqual([expect.stringContaining("More than 200 of the same kind follow “2”")]);
  });

  test("rates past the sixtieth", async () => {
    const told = await toldBy("rate-disagrees", turnsOf(times(61, () => "They do two crates an hour.")));
    expect(told).toEqual([
      "From “two crates an hour” on the rates of this segment were not compared: it has more than 60.",
    ]);
  });

  test("shares and counts past the hundredth", async () => {
    const told = await toldBy(
      "share-disagrees",
      turnsOf(times(101, () => "A fifth of members voted against it. Now 44 of the 220 members voted against it.")),
    );
    expect(told).toEqual(["From “A fifth of members” on the shares were not compared: the episode has more than 100."]);
  });
});

describe("lists are looked up, not gone through", () => {
  const word = fc.constantFrom("plead", "pleaded", "guilty", "court", "judge", "judges", "in", "the");
  const entry = fc
    .array(word, { minLength: 1, maxLength: 3 })
    .chain((words) => fc.boolean().map((open) => words.join(" ") + (open ? "*" : "")));

  test("the finder finds what trying each entry at each word finds", () => {
    fc.assert(
      fc.property(
        fc.array(entry, { maxLength: 8 }),
        fc.array(fc.array(word, { minLength: 1, maxLength: 12 }), { maxLength: 4 }),
        (list, texts) => {
          const sentences = texts.map((words) =>
            spokenIn(layCorrections(episodeOf(turnsOf([words.join(" ")])), "2027-01-01T00:00:00Z")),
          );
          const found = finderOf(list)(sentences).map((words) => words.map(({ fold }) => fold).join(" "));
          const tried = list.flatMap((text) => {
            const pattern = new RegExp(`(?:^| )(${text.replace("*", "[a-z]*")})(?= |$)`);
            const match = texts.map((words) => pattern.exec(words.join(" "))?.[1]).find((own) => own !== undefined);
            return match === undefined ? [] : [match];
          });
          expect(found).toEqual(tried);
        },
      ),
    );
  });

  test.each([
    ["capitals and hyphens", "Sea-Ferries", ["sea ferries"]],
    ["a plural", "lighthouse", ["Lighthouses"]],
    ["one letter more", "lighthousse", ["Lighthouses"]],
    ["one letter less", "lighthose", ["Lighthouses"]],
    ["one letter other", "lighthouce", ["Lighthouses"]],
    ["two letters", "lichthouce", []],
    ["short ones", "bus", []],
  ])("topics: %s", (_why, topic, like) => {
    const all = ["Lighthouses", "sea ferries", "busk", "fishing"].map((own) => [own, null] as const);
    expect(likeTopics(all)(topic).map(([own]) => own)).toEqual(like);
  });

  test("the home of a cue is the segment with most of its time, the first of equals, or the one before it", () => {
    const span = fc.record({ from: fc.nat(60), long: fc.nat(30) });
    fc.assert(
      fc.property(fc.array(span, { maxLength: 12 }), span, (spans, { from, long }) => {
        const segments = spans
          .toSorted((a, b) => a.from - b.from)
          .map((own, n) => ({
            ...segment(`s${n}`, "0:00", "0:01"),
            in: clockMs(own.from),
            out: clockMs(own.from + own.long),
            withdrawn: null,
            changes: [],
          }));
        const [start, end] = [clockMs(from), clockMs(from + long)];
        const shared = segments.map((own) => Math.min(end, own.out) - Math.max(start, own.in));
        const most = Math.max(0, ...shared);
        const expected =
          most > 0 ? segments[shared.indexOf(most)] : (segments.findLast((own) => own.in <= start) ?? segments[0]);
        const cue = {
          ...episodeOf(turnsOf(["Words."])).cues[0],
          id: "",
          settings: "",
          at: episode().at,
          start,
          end,
          pieces: [],
        };
        expect(homesIn(segments)(cue)?.slug).toBe(expected?.slug);
      }),
    );
  });

  test("words are folded and parted the same by the short way and the long one", () => {
    const run = fc.stringMatching(/^[A-Za-z0-9'’.,;:!?£é-]{0,12}$/);
    fc.assert(
      fc.property(run, (text) => {
        // A mark that no short way takes, and that falls away.
        const long = tokensOf(`${text}”`).map((token) => ({ ...token, after: token.after.replace("”", "") }));
        expect(tokensOf(text)).toEqual(text.endsWith("—") ? [] : long);
        for (const token of tokensOf(text))
          expect(foldWord(token.text)).toBe(foldWord(`${token.text}`.normalize("NFC")));
      }),
    );
  });
});
