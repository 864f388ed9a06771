import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkEpisode } from "../../src/checks/index.ts";
import { subjectWith, toldBy, turnsOf } from "./support.ts";

const told = (rule: string, ...texts: string[]) => toldBy(rule, turnsOf(texts));
/** A headline, and the report. */
const announced = (rule: string, headline: string, ...report: string[]) =>
  toldBy(rule, [...turnsOf([headline], "headlines"), ...turnsOf(report)]);

describe("count-differs", () => {
  test.each([
    [
      "headline and report",
      "Fewer ferries this winter: 11 sailings a week.",
      ["It cuts its winter timetable from 16 sailings a week to nine."],
      1,
    ],
    [
      "words and numerals",
      "The hospital will open with forty-six beds.",
      ["When the new hospital opens it will have 42 beds."],
      1,
    ],
    [
      "digits that changed places",
      "It will cost 3.2 million crowns to dig the harbour.",
      ["The harbour would cost 2.3 million crowns to dig."],
      1,
    ],
    [
      "the report gives both",
      "Fewer ferries: 11 sailings a week.",
      ["There are nine sailings a week. There were 11 sailings a week."],
      0,
    ],
    ["the same figure", "Fewer ferries: nine sailings a week.", ["There will be nine sailings a week in winter."], 0],
    ["a change from one to another", "Nine sailings a week.", ["It goes from 16 sailings a week to nine."], 0],
    ["another time", "Nine sailings a week this winter.", ["Last winter there were 16 sailings a week."], 0],
    [
      "a part of it",
      "Nine sailings a week this winter.",
      ["She would keep two of the sailings a week this winter."],
      0,
    ],
    ["so many more", "Nine sailings a week this winter.", ["She wants two more sailings a week this winter."], 0],
    [
      "for each of something else",
      "Nine sailings a week this winter.",
      ["There are two sailings a day this winter."],
      0,
    ],
    ["another thing", "The boat took nine passengers.", ["The boat took 40 crates."], 0],
    [
      "other stuff",
      "They spilled 25,000 litres of milk in the harbour.",
      ["They spilled 38,000 litres of oil in the harbour."],
      0,
    ],
  ])("%s", async (_why, headline, report, times) => {
    expect(await announced("count-differs", headline, ...report)).toHaveLength(times);
  });

  test.each([
    [
      "two voices of one segment",
      ["Ilse Marrane: The library sheds 40 jobs.", "Jonty Brask: The library is to shed 14 jobs."],
      1,
    ],
    [
      "two voices that agree",
      ["Ilse Marrane: The library sheds 40 jobs.", "Jonty Brask: The library is to shed forty jobs."],
      0,
    ],
    ["one speaker counts on", ["We saw 40 puffins on the skerry. Then we saw 52 puffins on the skerry."], 0],
  ])("%s", async (_why, texts, times) => {
    expect(await told("count-differs", ...texts)).toHaveLength(times);
  });

  // Each is a headline and a report, and two speakers of one segment.
  test.each([
    [
      "another purchase",
      "The harbour trust spent 3 million crowns on the pier.",
      "The harbour trust also spent 2 million crowns on the lighthouse.",
    ],
    [
      "another budget",
      "The budget for schools grows to 14 million crowns.",
      "The budget for roads shrinks to 9 million crowns.",
    ],
    [
      "damage to something else",
      "Storm damage to the harbour is put at 600,000 crowns.",
      "Storm damage to the school is put at 90,000 crowns.",
    ],
    [
      "raised and needed",
      "The lifeboat appeal has raised 12,000 crowns.",
      "The lifeboat appeal needs 20,000 crowns by the spring.",
    ],
    [
      "wanted and offered",
      "The mayor wants 30,000 crowns for the fountain.",
      "The council offered 20,000 crowns for the fountain.",
    ],
    ["granted and owed", "The grant to the theatre is 30,000 crowns.", "The theatre has debts of 55,000 crowns."],
    [
      "lost and earned",
      "The ferry company lost 1.2 million crowns.",
      "The ferry company had a profit of 300,000 crowns on its freight.",
    ],
    [
      "sold and bought",
      "The old lifeboat was sold for 80,000 crowns.",
      "The new lifeboat was bought for 240,000 crowns.",
    ],
    [
      "a part of it",
      "The cathedral organ will be mended for 75,000 crowns.",
      "Of that, the pipes of the organ take 40,000 crowns.",
    ],
    [
      "for children",
      "A ticket to the festival costs 15 crowns.",
      "A ticket for children costs 8 crowns at the festival.",
    ],
    ["lost and damaged", "Eleven boats were lost in the storm.", "Nineteen boats were damaged in the storm at Hallan."],
    [
      "killed and injured",
      "Four walkers were killed on the ridge by the avalanche.",
      "Nine walkers were injured on the ridge by the avalanche.",
    ],
    [
      "another place",
      "Forty houses in Sollen have no power after the storm.",
      "In Hallan 25 houses have no power after the storm.",
    ],
    [
      "another day",
      "The island raised 5,000 crowns for the hospital on Saturday.",
      "The island raised 7,000 crowns for the hospital on Sunday.",
    ],
    [
      "another payer",
      "Ilse Marrane paid 500 crowns in rent for the harbour cottage.",
      "Jonty Brask paid 700 crowns in rent for the harbour cottage.",
    ],
  ])("two things: %s", async (_why, one, other) => {
    expect(await announced("count-differs", one, other)).toEqual([]);
    expect(await told("count-differs", `Ilse Marrane: ${one}`, `Jonty Brask: ${other}`)).toEqual([]);
  });

  test.each([
    [
      "one purchase",
      "The harbour trust spent 3 million crowns on the pier.",
      "On the pier the harbour trust spent 2 million crowns.",
    ],
    [
      "one budget",
      "The budget for schools grows to 14 million crowns.",
      "The schools' budget will be 40 million crowns.",
    ],
    [
      "one roof, the second time without its adjective",
      "The council will pay 40,000 crowns for the new roof of the school.",
      "It will pay 14,000 crowns for the roof of the school.",
    ],
    [
      "one damage",
      "Storm damage to the harbour is put at 600,000 crowns.",
      "The harbour has storm damage of 900,000 crowns.",
    ],
    [
      "one fine",
      "The fishing company was fined 9,000 crowns.",
      "The magistrate fined the fishing company 4,000 crowns.",
    ],
    ["one loss", "Eleven boats were lost in the storm.", "In the storm nineteen boats were lost."],
    [
      "one place",
      "Forty houses in Sollen have no power after the storm.",
      "In Sollen 14 houses are without power after the storm.",
    ],
    [
      "the place is named once",
      "Forty houses have no power after the storm.",
      "In Sollen 14 houses have no power after the storm.",
    ],
  ])("one thing: %s", async (_why, one, other) => {
    expect(await announced("count-differs", one, other)).toHaveLength(1);
  });

  test("tells both places", async () => {
    expect(
      await announced("count-differs", "Fewer ferries: 11 sailings a week.", "There will be nine sailings a week."),
    ).toEqual(["“11 sailings a week” here, “nine sailings a week” at 0:03."]);
  });
});

describe("score-differs", () => {
  const WIN = "Sollen Town win at Hallan Herons by three goals to one.";
  const RESULT = "Hallan Herons 1, Sollen Town 2.";
  test.each([
    ["two ways of telling one result: at both", WIN, [RESULT], 2],
    ["a third that is right: at the wrong one alone", WIN, [RESULT, "So Sollen Town beat Hallan Herons 2–1."], 1],
    [
      "two and two: at all of them",
      WIN,
      [RESULT, "Sollen Town beat Hallan Herons 2–1.", "Hallan Herons 1, Sollen Town 3."],
      4,
    ],
    ["the same result, the other way round", "Sollen Town beat Hallan Herons 2–1.", [RESULT], 0],
    ["another match", "Sollen Town beat Hallan Herons 2–1.", ["Sollen Town beat Norwick Rovers 4–0."], 0],
    ["another season", "Sollen Town beat Hallan Herons 2–1.", ["Last season Hallan Herons beat Sollen Town 4–0."], 0],
  ])("%s", async (_why, headline, report, times) => {
    expect(await announced("score-differs", headline, ...report)).toHaveLength(times);
  });

  test("names every place", async () => {
    expect(await announced("score-differs", WIN, RESULT)).toEqual([
      "“three goals to one” here, “Hallan Herons 1, Sollen Town 2” at 0:04, of the same teams.",
      "“Hallan Herons 1, Sollen Town 2” here, “three goals to one” at 0:02, of the same teams.",
    ]);
    expect(await announced("score-differs", WIN, RESULT, "So Sollen Town beat Hallan Herons 2–1.")).toEqual([
      "“three goals to one” here, “Hallan Herons 1, Sollen Town 2” at 0:04, “2–1” at 0:08, of the same teams.",
    ]);
  });

  test("the wrong one is found wherever it stands", async () => {
    const right = "Sollen Town beat Hallan Herons 2–1.";
    const wrong = "Sollen Town beat Hallan Herons 3–1.";
    for (const place of [0, 1, 2]) {
      const texts = [right, right, right].with(place, wrong);
      const findings = checkEpisode(
        await subjectWith([...turnsOf(texts.slice(0, 1), "headlines"), ...turnsOf(texts.slice(1))]),
      );
      const told = findings.filter(({ rule }) => rule === "score-differs");
      expect(told.map(({ says, see }) => [says.slice(0, 5), see?.length])).toEqual([["“3–1”", 2]]);
    }
  });
});

describe("rate-disagrees", () => {
  test.each([
    ["turned over", ["It takes four minutes a crate. She packs twenty-five crates an hour."], 1],
    ["turned over and right", ["It takes four minutes a crate. She packs fifteen crates an hour."], 0],
    ["one by the other", ["He fills two crates an hour. Each crate pays 30 crowns, so he earns 90 crowns an hour."], 1],
    [
      "one by the other and right",
      ["He fills three crates an hour. Each crate pays 30 crowns, so he earns 90 crowns an hour."],
      0,
    ],
    ["said to be rough", ["It takes about four minutes a crate. She packs nearly fourteen crates an hour."], 0],
    ["nothing in common", ["It takes four minutes a crate. The wind was 25 knots an hour."], 0],
  ])("%s", async (_why, texts, times) => {
    expect(await told("rate-disagrees", ...texts)).toHaveLength(times);
  });

  test("shows the sum", async () => {
    const [turned] = await told("rate-disagrees", "It takes four minutes a crate. She packs twenty crates an hour.");
    expect(turned).toMatch(
      /^“four minutes a crate” does not agree with “twenty crates an hour” at 0:\d\d, which makes 3\.$/,
    );
    const [times] = await told(
      "rate-disagrees",
      "He fills two crates an hour. Each crate pays 30 crowns, so he earns 90 crowns an hour.",
    );
    expect(times).toMatch(/^“90 crowns an hour” does not agree .*, which make 60\.$/);
  });
});

describe("change-disagrees", () => {
  test.each([
    ["a percentage", "The catch rose from 200 tonnes to 300 tonnes, a rise of 30 percent.", 1],
    ["a percentage that is right", "The catch rose from 200 tonnes to 300 tonnes, a rise of 50 percent.", 0],
    ["of a fall", "The price fell from 50 crowns to 40 crowns, a fall of 30 percent.", 1],
    ["of a fall that is right", "The price fell from 50 crowns to 40, a fall of 20 percent.", 0],
    ["by", "The price fell by 40 percent from 50 crowns to 40 crowns.", 1],
    ["rounded", "The catch rose from 300 tonnes to 400 tonnes, a rise of 33 percent.", 0],
    ["rough", "The catch rose from 300 tonnes to 400 tonnes, a rise of nearly 40 percent.", 0],
    ["the difference", "The fare goes up from eight crowns to twelve crowns, a rise of three crowns.", 1],
    ["the difference that is right", "The fare goes up from eight crowns to twelve crowns, a rise of four crowns.", 0],
    ["doubled", "Membership doubled, from 300 to 450 members.", 1],
    ["doubled, and right", "Membership doubled, from 300 to 600 members.", 0],
    ["more than doubled", "Membership more than doubled from 300 to 450 members.", 1],
    ["more than doubled, and right", "Membership more than doubled, from 300 to 800 members.", 0],
    ["nearly doubled", "Membership nearly doubled, from 300 to 550 members.", 0],
    ["trebled", "Membership trebled, from 300 to 600 members.", 1],
    ["halved", "The number of boats halved, from 40 boats to 30.", 1],
    ["halved, and right", "The number of boats halved, from 40 boats to 20.", 0],
    ["the wrong way", "The catch rose from 300 tonnes to 200 tonnes.", 1],
    ["down, and down", "It cuts its sailings from 16 sailings a week to nine.", 0],
    ["a percentage of something else", "The catch rose from 200 tonnes to 300 tonnes, and 30 percent was herring.", 0],
    [
      "two changes",
      "It rose from 200 tonnes to 300 tonnes and fell from 90 crowns to 80 crowns, a fall of 11 percent.",
      0,
    ],
    ["percentages have points", "It rose from 40 percent to 50 percent, a rise of 10 percent.", 0],
    ["both ends and one unit", "The fleet grew from 30 to 45 boats, a rise of 20 percent.", 1],
    ["more of something else", "There were more jobs when it went from 300 tonnes to 200 tonnes.", 0],
    [
      "a sum of something else",
      "It cut taxes by 10 million crowns, and the allowance went from 750 crowns to 1,000 crowns.",
      0,
    ],
    ["a journey", "They sailed from Sollen to Hallan, a rise of 30 percent.", 0],
    ["times of day", "It moves from 6.30 in the evening to 7.30 in the evening, up by 20 percent.", 0],
  ])("%s", async (_why, text, times) => {
    expect(await told("change-disagrees", text)).toHaveLength(times);
  });

  test("shows the sum", async () => {
    expect(
      await told("change-disagrees", "The catch rose from 200 tonnes to 300 tonnes, a rise of 30 percent."),
    ).toEqual(["“30 percent”, but from 200 to 300 is 100 more, 50 percent of 200."]);
  });

  test("no change with its own percentage is told of, and one ten points off always is", async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 100, max: 900 }), fc.integer({ min: 100, max: 900 }), async (from, to) => {
        fc.pre(from !== to);
        const percent = Math.round((Math.abs(to - from) / from) * 100);
        const said = (n: number) =>
          `The catch went from ${from} tonnes to ${to} tonnes, ${to > from ? "a rise" : "a fall"} of ${n} percent.`;
        expect(await told("change-disagrees", said(percent))).toEqual([]);
        expect(await told("change-disagrees", said(percent + 10))).toHaveLength(1);
      }),
      { numRuns: 60 },
    );
  });
});

describe("percentages-over-100", () => {
  test.each([
    ["three parts", "48 percent were for it, 39 percent against, and 23 percent did not know.", 1],
    ["in words", "Forty eight per cent said yes, and sixty per cent said no.", 1],
    ["more than all of a group", "He said 120 percent of the members agreed.", 1],
    ["to the whole", "48 percent were for it, 39 percent against, and 13 percent did not know.", 0],
    ["rounded", "48 percent were for it, 40 percent against, and 13 percent did not know.", 0],
    ["of two groups", "80 percent of the women and 70 percent of the men agreed.", 0],
    ["a comparison", "It rose from 60 percent to 75 percent.", 0],
    ["growth", "Prices are up by 120 percent.", 0],
  ])("%s", async (_why, text, times) => {
    expect(await told("percentages-over-100", text)).toHaveLength(times);
  });
});

describe("weekday-not-date (the episode aired on Monday 5 October 2026)", () => {
  test.each([
    ["wrong", "He comes back on Thursday, 7 October.", ["“Thursday, 7 October”: the 7th is a Wednesday (2026-10-07)."]],
    [
      "wrong in words",
      "He comes back on thursday the seventh of october.",
      ["“thursday the seventh of october”: the 7th is a Wednesday (2026-10-07)."],
    ],
    ["right", "He comes back on Thursday, 8 October.", []],
    ["right next year", "He comes back on Friday, 8 January.", []],
    ["a year that was said", "He was born on Friday, 1 January 1999.", []],
    ["no such day", "He comes back on 31 September.", ["There is no such day as “31 September”."]],
    [
      "today is another day",
      "It is Tuesday, 6 October.",
      ["“Tuesday, 6 October”, as of today, but the programme aired on 2026-10-05; Tuesday 6 is another day."],
    ],
    ["today", "It is Monday, 5 October.", []],
    ["a weekday alone", "He comes back on Thursday.", []],
  ])("%s", async (_why, text, says) => {
    expect(await told("weekday-not-date", text)).toEqual(says);
  });
});

// 18 June is a Wednesday in 2025, a Thursday in 2026, a Friday in 2027.
describe("weekday-not-date far from the date (the episode aired on Thursday 10 December 2026)", () => {
  test.each([
    ["to come, and right", "The fair will open on Friday, 18 June.", []],
    ["to come, and wrong", "The fair will open on Thursday, 18 June.", ["a Friday (2027-06-18)"]],
    ["past, and right", "The pier burned down on Thursday, 18 June.", []],
    ["past, and wrong", "The pier burned down on Friday, 18 June.", ["a Thursday (2026-06-18)"]],
    ["not said, as it is next year", "The fair, on Friday, 18 June.", []],
    ["not said, as it was this year", "The fair, on Thursday, 18 June.", []],
    ["not said, as it was last year", "The fair, on Wednesday, 18 June.", []],
    [
      "not said, and in none of the three",
      "The fair, on Monday, 18 June.",
      ["a Wednesday (2025-06-18) or a Thursday (2026-06-18) or a Friday (2027-06-18)"],
    ],
    ["next year, and right", "The fair, on Friday, 18 June next year.", []],
    ["next year, and wrong", "The fair, on Thursday, 18 June next year.", ["a Friday (2027-06-18)"]],
    ["last year, and right", "The pier burned down last year on Wednesday, 18 June.", []],
    ["last year, and wrong", "The pier burned down last year on Friday, 18 June.", ["a Wednesday (2025-06-18)"]],
    ["of somebody who won last year", "Last year's winner will open it on Friday, 18 June.", []],
    ["near, and wrong though next year's is right", "The fair, on Saturday, 18 December.", ["a Friday (2026-12-18)"]],
  ])("%s", async (_why, text, says) => {
    const aired = "2026-12-10T18:30:00.000+00:00";
    const all = await toldBy("weekday-not-date", turnsOf([text]), { episode: { aired }, day: "2026-12-11" });
    expect(all).toEqual(says.map((own) => expect.stringContaining(`the 18th is ${own}.`)));
  });
});

describe("full stops that may end a sentence", () => {
  const sentences = async (text: string) => (await subjectWith(turnsOf([text]))).spoken.sentences.length;
  test.each([
    ["no as an answer", "Was it hers? She said no. Then she left.", 3],
    ["no as a number", "It lies at no. 4 of the harbour. Boats nos. 5 and 6 are there too.", 2],
    ["no. in words", "It lies at no. four. It is old.", 2],
    ["etc. at an end", "Ropes, nets, etc. All of it burned.", 2],
    ["etc. in the middle", "Ropes, nets, etc. were lost.", 1],
    ["a title", "Dr. Marrane and Mrs. Brask came.", 1],
    ["a decimal", "It is 3.5 metres. It grows.", 2],
  ])("%s", async (_why, text, count) => {
    expect(await sentences(text)).toBe(count);
  });
});

describe("age-not-birth-year", () => {
  test.each([
    ["ten years off", "Stell, who is 58, was born in 1958.", 1],
    ["before the birthday", "Stell, who is 58, was born in 1967.", 0],
    ["after it", "Stell, who is 58, was born in 1968.", 0],
    ["in the next sentence", "Stell, who is 58, lives here. He was born in Sollen in 1958.", 1],
    ["far apart", "Stell is here. He is 58. It rains. Then it stops. His boat is old. The mayor was born in 1958.", 0],
  ])("%s", async (_why, text, times) => {
    expect(await told("age-not-birth-year", text)).toHaveLength(times);
  });
});

describe("superlative-changes", () => {
  test.each([
    ["years and record", "It was the coldest night in forty years.", ["It was the coldest on record."], 1],
    [
      "years and a year that fits",
      "It was the coldest night in forty years.",
      ["It was the coldest night since 1986."],
      0,
    ],
    [
      "years and a year that doesn't",
      "It was the coldest night in forty years.",
      ["It was the coldest night since 1998."],
      1,
    ],
    ["another noun", "It was the coldest night in forty years.", ["It was the coldest winter on record."], 0],
    ["no superlative", "The forest in forty years.", ["The forest on record."], 0],
    ["the first of two things", "It was the first win in ten years.", ["It was the first boat ever."], 0],
    [
      "the first of one thing",
      "It was the first win at Hallan in ten years.",
      ["It was their first win at Hallan since 2019."],
      1,
    ],
  ])("%s", async (_why, headline, report, times) => {
    expect(await announced("superlative-changes", headline, ...report)).toHaveLength(times);
  });
});
