import { describe, expect, test } from "vitest";
import { toldBy, turnsOf } from "./support.ts";

const told = (...texts: string[]) => toldBy("court-sides-differ", turnsOf(texts));

describe("court-sides-differ", () => {
  test.each([
    [
      "The prosecutor, Edric Cotterby, called him a man of good standing.",
      "Perpetua Wyle, for the defence, said that her client was 58, and was a man of good standing.",
    ],
    [
      "Defence lawyer Perpetua Wyle said the papers could be lost for ever.",
      "Edric Cotterby, prosecuting, told the judge that the papers could be lost for ever.",
    ],
    [
      "For the defence, Perpetua Wyle argued that he sold the boat to feed his children.",
      "It was cold. Edric Cotterby, for the prosecution, opposed bail. Mr Cotterby said he sold the boat to feed his children.",
    ],
    ["The defence said the engine failed without warning.", "The prosecution said the engine failed without warning."],
    ["The prosecutor, Perpetua Wyle, spoke first.", "Perpetua Wyle, for the defence, spoke last."],
    [
      "Defending, Perpetua Wyle described him as a careful and sober skipper.",
      "The prosecutor described him as a careful and sober skipper, and asked for bail to be refused.",
    ],
    ["Edric Cotterby, for the prosecution, was brief.", "Then defence counsel Edric Cotterby sat down."],
    [
      "The prosecutors told the court that the money paid for a new kitchen.",
      "Counsel for the defence said the money paid for a new kitchen, and nothing else.",
    ],
  ])("wrong: %s %s", async (first, second) => {
    expect(await told(first, second)).toHaveLength(1);
  });

  test.each([
    [
      "two things",
      "Edric Cotterby, for the prosecution, said the cable was marked on every chart.",
      "Perpetua Wyle, for the defence, said that Garrick Stell had reported the damage himself, and that he was sorry.",
    ],
    [
      "denied by one",
      "The prosecutor said he was a man of good standing.",
      "Perpetua Wyle, for the defence, said he was not a man of good standing.",
    ],
    [
      "one side twice",
      "Perpetua Wyle, for the defence, said he was a man of good standing.",
      "The defence said again that he was a man of good standing.",
    ],
    [
      "a formula",
      "The prosecution said he was not asked to enter a plea.",
      "The defence said he was not asked to enter a plea.",
    ],
    [
      "no words reported",
      "The prosecutor lost a good case in a storm.",
      "The defence had lost a good case in a storm.",
    ],
    [
      "both in a sentence",
      "The prosecutor and the defence said he was a man of good standing.",
      "The defence said he was a man of good standing.",
    ],
    [
      "another matter",
      "The prosecution of the war cost a great deal of money.",
      "The money for the defence of the islands cost a great deal of money.",
    ],
    ["two people", "The prosecutor, Edric Cotterby, rose.", "Perpetua Wyle, for the defence, stayed seated."],
    [
      "a few words",
      "The prosecutor said it was a good boat.",
      "Perpetua Wyle, for the defence, said it was a bad one.",
    ],
  ])("right: %s", async (_why, first, second) => {
    expect(await told(first, second)).toEqual([]);
  });

  test("tells whose words they are said to be, and where", async () => {
    expect(
      await told(
        "The prosecutor called him a man of good standing.",
        "The defence said he was a man of good standing.",
      ),
    ).toEqual(["“a man of good standing” is given to the prosecution here, and to the defence at 0:05."]);
  });
});
