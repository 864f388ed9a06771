import { describe, expect, test } from "vitest";
import { agrees } from "../../src/checks/figures/shareDisagrees.ts";
import { type Nearness, sharesIn } from "../../src/checks/figures/shares.ts";
import { subjectWith, toldBy, turnsOf } from "./support.ts";

const told = (...texts: string[]) => toldBy("share-disagrees", turnsOf(texts));

describe("shares and counts in sentences", () => {
  test.each([
    ["A third of the members left.", ["a third of the members: member"]],
    ["Two-fifths of its 220 members left.", ["two-fifths of its 220 members: member of 220"]],
    ["Three quarters of them left.", ["three quarters of them: none"]],
    ["Half the houses are empty.", ["half the houses: house"]],
    ["One in four trawlers failed.", ["one in four trawlers: trawler"]],
    ["Nine out of ten pupils walk.", ["nine out of ten pupils: pupil"]],
    ["20 per cent of households burn peat.", ["20 per cent of households: household"]],
    ["44 of the 220 members left.", ["44 of 220: member"]],
    ["Fourteen sailors out of the forty were ill.", ["14 of 40: sailor"]],
    ["Of the 90 pupils, just 45 walk.", ["45 of 90: pupil"]],
    ["Half of the trees are oaks, a fifth are birches.", ["half of the trees: tree", "a fifth: tree"]],
    ["He came third of the runners.", []],
    ["Half an hour later, at half past six, in the second half, they had two and a half boats.", []],
    ["It cost half a million crowns.", []],
    ["It was 1896 of the 44,981 books.", []],
    ["", []],
  ])("%s", async (text, expected) => {
    const { shares, portions } = sharesIn((await subjectWith(turnsOf([text]))).spoken.sentences);
    const rows = [
      ...shares.map(({ words, unit, whole }) => {
        const said = words.map(({ fold }) => fold).join(" ");
        return `${said}: ${unit ?? "none"}${whole === null ? "" : ` of ${whole}`}`;
      }),
      ...portions.map(({ part, whole, unit }) => `${part} of ${whole}: ${unit ?? "none"}`),
    ];
    expect(rows).toEqual(expected);
  });
});

describe("what a share may be of", () => {
  test.each<[Nearness, number, boolean, number, boolean]>([
    ["plain", 1 / 3, false, 0.31, true],
    ["plain", 1 / 3, false, 0.3, true],
    ["plain", 1 / 3, false, 0.28, false],
    ["plain", 1 / 10, false, 0.06, false],
    ["about", 1 / 2, false, 0.46, true],
    ["about", 1 / 2, false, 0.42, false],
    ["just-under", 1 / 3, false, 0.29, true],
    ["just-under", 1 / 3, false, 0.35, false],
    ["just-under", 1 / 3, false, 0.2, false],
    ["under", 1 / 3, false, 0.2, true],
    ["just-over", 1 / 2, false, 0.54, true],
    ["just-over", 1 / 2, false, 0.48, false],
    ["over", 1 / 2, false, 0.9, true],
    ["over", 1 / 2, false, 0.45, false],
    ["plain", 0.38, true, 0.375, true],
    ["plain", 0.38, true, 0.36, false],
    ["plain", 0.4, true, 0.382, true],
    ["about", 0.4, true, 0.44, true],
  ])("%s %d (percent: %s) of a part of %d: %s", (nearness, value, isPercent, ratio, fits) => {
    expect(agrees({ value, isPercent, nearness }, ratio)).toBe(fits);
  });
});

describe("share-disagrees", () => {
  test.each([
    ["A third of members voted against the plan.", "In the end 44 of the 220 members voted against."],
    ["Two-fifths of the houses were flooded.", "Fifty of the two hundred houses were flooded, the council says."],
    ["One in four trawlers failed the inspection.", "Nine of the sixty trawlers failed the inspection."],
    ["Nearly a third of the farms have lost sheep.", "Forty-eight of the 120 farms lost sheep in the snow."],
    ["More than half of the lighthouses are automatic.", "Just eleven of the thirty lighthouses are automatic."],
    ["Ilse Marrane: Half of the nurses joined the strike.", "Jonty Brask: I counted 30 of the 140 nurses on strike."],
    ["Under a quarter of the beaches are clean.", "Of the 40 beaches, 16 are clean enough to swim from."],
    ["Thirty percent of the bakeries have shut.", "In total, 13 bakeries out of the 26 have shut."],
    ["Forty-four of the 220 members, a third, have left.", "It will not be the last."],
    ["A quarter of the 80 beds, 30 beds, are empty.", "The rest are full."],
    ["Only 12 of the 90 applicants, half of them, got a place.", "The others will try again."],
    ["Eight of the nine divers, two thirds, were trained here.", "It is a small school."],
    ["Three quarters of the lambs died in the frost.", "Ninety of the 200 lambs died, and the frost is not over."],
    ["One in five lifeboats has no crew at night.", "Twelve of our 20 lifeboats are without a night crew."],
    ["About half of the letters came from children.", "We had 300 letters. Children wrote 90 of the 300 letters."],
    ["Of the 48 songs, 12 were in the old language: that is a third.", "Few can sing them."],
    ["Twelve of the 48 songs were in the old language.", "That is a third."],
    [
      "More than three quarters of shopkeepers want the market moved.",
      "In a poll 55 of the 100 shopkeepers wanted it moved.",
    ],
    ["Every year nine out of ten eels die at the weir.", "This time 40 of the 80 eels died at the weir."],
    ["A third voted against it: 44 of the 220 members.", "The rest were for it."],
    ["Nearly half stayed away; 30 of the 120 members.", "It was wet."],
    ["It was close, and a quarter wanted more time: ten of the 90 members.", "They got it."],
    ["A third voted against it.", "Forty-four of the 220 members."],
  ])("wrong: %s %s", async (first, second) => {
    expect(await told(first, second)).toHaveLength(1);
  });

  test.each([
    ["as it is", "A fifth of members voted against the plan.", "In the end 44 of the 220 members voted against."],
    ["nearly", "Nearly a third of members voted against.", "In the end 66 of the 220 members voted against."],
    ["more than", "More than half of the farms have lost sheep.", "Seventy of the 120 farms lost sheep in the snow."],
    ["the rest", "A third of members stayed away.", "Yet 147 of the 220 members came."],
    ["the others", "A third of the voters backed the pier.", "Sixty of the 90 voters did not back the pier."],
    ["the rest, in other words", "A third of voters missed the vote.", "Sixty of the 90 voters came to the vote."],
    ["two sides", "A third of members voted for it,", "and 44 of the 220 members voted against it."],
    ["another noun", "A third of the boats are laid up.", "Four of the 30 crews have been paid off."],
    ["nothing in common", "Half of the players are sick.", "Two of the 12 players scored."],
    ["another time", "Last year a third of members voted against.", "This time 44 of the 220 members voted against."],
    ["another place", "Two thirds of voters backed the plan.", "In Sollen 40 of the 100 voters backed the plan."],
    ["another group", "A third of patients wait a year.", "Among children, 4 of the 40 patients wait a year."],
    ["what is left", "A third of the looms were saved.", "The remaining 20 of the 90 looms were burned."],
    ["the nearest", "A third of the wells are dry.", "Thirty of the 100 wells are dry."],
    ["another share", "Half of the trees are oaks, a fifth are birches.", "Birches: 40 of the 200 trees are birches."],
    ["a rounded percentage", "Some 38 percent of pupils walk.", "We asked, and 30 of the 80 pupils walk."],
    ["side by side", "A fifth of the members, 44 of the 220, have left.", "It is a pity."],
    ["spelled out", "A fifth voted against it: 44 of the 220 members.", "The rest were for it."],
    [
      "spelled out, and then others",
      "A third voted against it, and nobody spoke: 44 of the 220 seats were empty.",
      "So.",
    ],
    ["no share", "A third man was arrested: 4 of the 20 officers were there.", "It is the second time."],
    ["the next sentence says more", "A third voted against it.", "Forty-four of the 220 members had not come."],
    ["not side by side", "Half of the choir sang, but 12 of the 60 singers had left.", "It rained."],
    [
      "far apart",
      "A third of members voted against.",
      "It rained. It blew. It froze. Now 44 of the 220 members voted against.",
    ],
  ])("right: %s", async (_why, first, second) => {
    expect(await told(first, second)).toEqual([]);
  });

  test("tells the sum", async () => {
    expect(await told("A third of members walked out.", "Of the 220 members, 44 walked out.")).toEqual([
      "“A third of members” here, “Of the 220 members, 44” at 0:02: 44 of 220 is 20 percent, about a fifth.",
    ]);
  });
});
