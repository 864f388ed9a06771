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

/** Turns in one text. */
const toldOf = (text: string) => told(...text.split(" | "));

describe("court-sides-differ, for the accused, the judge and witnesses", () => {
  test.each([
    "He was a man of good standing, the prosecutor said. | Perpetua Wyle, for the defence, said he was a man of good standing.",
    "The defendant told the court he had never opened the red ledger. | A witness said he had never opened the red ledger.",
    "Judge Nora Ashdyke said the plan was reckless from beginning to end. | His lawyer said the plan was reckless from beginning to end.",
    "The Crown said the nets were cut before the boat sailed. | Counsel for the accused said the nets were cut before the boat sailed.",
    "Perpetua Wyle, for the defence, rose. She said the ledger was kept by a careless clerk. | The prosecutor said the ledger was kept by a careless clerk.",
    "According to the defence, the lamp was out when the tanker passed. | Edric Cotterby, prosecuting, said the lamp was out when the tanker passed.",
    "The harbour pilot, giving evidence, said the rope was rotten and should have been changed. | The accused said the rope was rotten and should have been changed.",
    "His solicitor said it was a foolish mistake by a tired man. | The judge said it was a foolish mistake by a tired man.",
    "Mr Cotterby, for the Crown, told the jury that the barn was insured for twice its value. | The defendant told the jury that the barn was insured for twice its value.",
    "In mitigation, Perpetua Wyle said he cared for his elderly mother. | Prosecutors said he cared for his elderly mother.",
  ])("wrong: %s", async (text) => {
    expect(await toldOf(text)).toHaveLength(1);
  });

  test.each([
    "The engine was warm and the hatch was open, said the prosecution. | The defence said the engine was warm and the hatch was open.",
    "The accused man said the crates belonged to his late uncle. | The prosecution said the crates belonged to his late uncle.",
    "Sentencing him, Judge Nora Ashdyke called it a mean and lasting fraud. | His barrister called it a mean and lasting fraud.",
    "A witness told the court the skipper had slept below all night. | Perpetua Wyle, for the defence, said the skipper had slept below all night.",
    "Counsel for the Crown argued that the letter was written after the fire. | The defence argued that the letter was written after the fire.",
    "Edric Cotterby, prosecuting, stood up. He said the keys hung behind the kitchen door. | The defence said the keys hung behind the kitchen door.",
    "The lawyer for the defendant told jurors the buoy had drifted a mile. | The prosecutor told jurors the buoy had drifted a mile.",
    "The money was only borrowed for the winter, according to the prosecution. | His solicitor said the money was only borrowed for the winter.",
    "The magistrate said the dog had never bitten anybody before. | The owner's defence lawyer said the dog had never bitten anybody before.",
    "The complainant said he grabbed the tiller and turned the boat round. | The defendant said he grabbed the tiller and turned the boat round.",
  ])("wrong, of those kept aside until the rule was written: %s", async (text) => {
    expect(await toldOf(text)).toHaveLength(1);
  });

  test.each([
    "The prosecution said the boat was overloaded by two tonnes. | A witness told the court the boat was overloaded by two tonnes.",
    "The defendant told the court he had never opened the red ledger. | His lawyer said he had never opened the red ledger.",
    "Judge Nora Ashdyke said the plan was reckless. | The prosecutor said the plan was reckless from beginning to end.",
    "The defence said he cared for his elderly mother. | The judge accepted that he cared for his elderly mother.",
    "The prosecutor said he had lied about the nets. | The defendant denied that he had lied about the nets.",
    "The prosecutor said Osmund Tarrick took the money. He said he was sorry for what he did. | The defence said he was sorry for what he did.",
    "A witness said the rope was rotten. | The defence agreed with the witness that the rope was rotten and old.",
    "The judge told the jury that the defence said the lamp was out when the tanker passed. | The defence said the lamp was out when the tanker passed.",
    "The judge said he would pass sentence on Friday morning. | His lawyer said he would pass the papers on by Friday morning.",
    "The witness said it was dark. | The accused said it was late and that he had gone home.",
  ])("right: %s", async (text) => {
    expect(await toldOf(text)).toEqual([]);
  });

  test.each([
    "The accused said he was in Wennick that night. | A witness said she saw him in Sollen that night.",
    "The judge said the case would go on tomorrow. | The defence said the case would go on tomorrow.",
    "The defence said the letter was a forgery. | The prosecution said it was not a forgery, and had his stamp.",
    "Counsel for the Crown said he hid the keys in the kitchen. | The defendant said he never hid the keys in the kitchen.",
    "The judge said it was a mean fraud. | The prosecutor said it was a mean fraud and a lasting one.",
    "The judge repeated what the defence had said, that the buoy had drifted a mile. | The defence said the buoy had drifted a mile.",
    "A witness said the skipper had slept below. | Another witness said the skipper had slept below all night.",
    "The solicitor said that he was sorry. | The defendant said that he was sorry for all the harm he did.",
    "The prosecutor said the engine was cold. | The defence said the engine was warm and the hatch was open.",
    "The accused man's lawyer said the crates belonged to his late uncle. | The accused said the crates belonged to his late uncle.",
  ])("right, of those kept aside until the rule was written: %s", async (text) => {
    expect(await toldOf(text)).toEqual([]);
  });
});
