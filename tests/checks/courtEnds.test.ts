import { describe, expect, test } from "vitest";
import { toldBy, turnsOf } from "./support.ts";

describe("plea-differs", () => {
  const told = (text: string) => toldBy("plea-differs", turnsOf([text]));

  test.each([
    "Osmund Tarrick pleaded guilty to theft at Sollen court. The case was adjourned. Tarrick denies the theft.",
    "Jonty Brask pleaded not guilty at the magistrates' court. He admitted the charge this morning.",
    "The court heard that the former treasurer denied the charge. Osmund Tarrick pleaded guilty and will be sentenced in May.",
    "Garrick Stell was found guilty of poaching by a jury in Wennick. Mr Stell was cleared of poaching after a two-day trial.",
    "The jury acquitted Aldous Frayne of arson. Frayne was convicted of arson and will be sentenced on Friday.",
    "Osmund Tarrick entered a guilty plea at the crown court. He has pleaded not guilty.",
    "In court, Garrick Stell denied stealing the outboard engines. Stell admitted stealing the engines and was fined.",
    "She pleaded guilty to one charge of fraud, the court was told. She denies the charge.",
    "The skipper pleaded guilty to one charge of fishing without a licence. The judge adjourned the case. The skipper was acquitted of the charge.",
    "The trial of Jonty Brask ended today: the jury found him guilty. Brask walked free, acquitted of the charge.",
    "The court in Sollen heard he admits assault. He pleaded not guilty to assault.",
  ])("wrong: %s", async (text) => {
    expect(await told(text)).toHaveLength(1);
  });

  test.each([
    "Aldous Frayne pleaded guilty to burglary, and the judge thanked him. Mr Frayne pleaded not guilty to burglary.",
    "The court heard that Tovar Quenby admits setting the fire. Quenby denies setting the fire.",
    "He was convicted of smuggling by the jury. He was cleared of smuggling.",
    "The former treasurer denied all the charges in court. Osmund Tarrick pleaded guilty to the charges.",
    "The jury found Jonty Brask not guilty of fraud. Brask, found guilty of fraud, will be sentenced next month.",
    "Tarrick has denied the theft of forty thousand crowns, the court heard. He pleaded guilty to theft.",
    "The accused admitted the offence before the magistrate. He denies the offence.",
    "A verdict came at noon: Aldous Frayne was acquitted. The court heard that Frayne pleaded guilty.",
    "The baker pleaded guilty to selling short loaves at the magistrates' court. The baker denied selling short loaves.",
  ])("wrong, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).toHaveLength(1);
  });

  test.each([
    "At Wennick court Garrick Stell pleaded not guilty. The judge told Stell his guilty plea would be taken into account, after he pleaded guilty.",
  ])("wrong, and not found: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });

  test.each([
    "Osmund Tarrick pleaded guilty to theft and denied fraud at Sollen court. He denied fraud again today.",
    "Osmund Tarrick pleaded guilty to theft. He denied a second charge of forgery. The court will sit again in May.",
    "He had earlier denied the charge. Today in court he pleaded guilty.",
    "Jonty Brask first pleaded not guilty. The court heard that he changed his plea. He pleaded guilty.",
    "Garrick Stell pleaded guilty in court. His brother Edric Stell denied the charge.",
    "Osmund Tarrick pleaded not guilty. The trial took three days. He was found guilty.",
    "The defendant denied the charge. The jury acquitted him.",
    "Aldous Frayne was convicted of theft by the jury. He was cleared of arson.",
    "He denied that he was tired, the court heard. He pleaded guilty to one charge.",
    "The judge denied him bail. He pleaded guilty last week.",
    "He was not asked to enter a plea. If he pleads guilty, he could face five years. He denies the charge. The court rose.",
    "Two men were in court. One pleaded guilty to poaching. The other denied the charge.",
    "The minister denied the allegations. The treasurer pleaded guilty to theft in court.",
    "The council admitted it had made a mistake. It denied the charge was unlawful, the court was told.",
    "Osmund Tarrick pleaded guilty in court. A week later, in a separate case, Jonty Brask denied theft.",
  ])("right: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });

  test.each([
    "Garrick Stell admitted poaching and was cleared of assault in court. He was acquitted of assault.",
    "The skipper denied the charge, and the mate pleaded guilty. The court rose at noon.",
    "Tovar Quenby pleaded guilty to one of the charges. He denied the other two, the court heard.",
    "At first he denied it. Then, in court, he admitted the theft.",
    "He is expected to plead not guilty. In another court, his cousin pleaded guilty.",
    "Jonty Brask was convicted of fraud in March. In court today the appeal judges cleared him.",
    "She denied that the dog was hers. She admitted a charge of keeping a dog without a licence, the magistrate heard.",
    "The hospital admitted him on Friday. He denied the charge in court on Monday.",
    "He pleaded guilty to theft, the court heard. Fraud he denied.",
    "Aldous Frayne denied the charge. The jury convicted him after six hours.",
    "His lawyer told the court he would plead guilty. He has pleaded not guilty so far.",
    "The court heard that the three brothers pleaded not guilty. The cousin admitted theft.",
    "Osmund Tarrick pleaded guilty to theft. He pleaded not guilty to keeping false accounts. The judge rose.",
    "The jury found Brask guilty. Brask still says he is not guilty.",
    "He denied the accusation on the radio. In court he said nothing, and he was convicted.",
  ])("right, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });
});

describe("prison-term-differs", () => {
  const told = (text: string) => toldBy("prison-term-differs", turnsOf([text]));

  test.each([
    "Osmund Tarrick was jailed for three years at Sollen court. The judge said he deserved it. Tarrick will serve two years in prison.",
    "The judge sentenced Garrick Stell to eighteen months in prison. Stell got two years behind bars.",
    "He was given a four-year sentence. The court rose. He was sent to prison for five years.",
    "The former treasurer was sentenced to three years. Osmund Tarrick, jailed for thirty months, said nothing in court.",
    "She was given 120 hours of unpaid work by the magistrate. She has to do 200 hours of unpaid work.",
    "Jonty Brask was banned from driving for two years, the court heard. He was banned for three years.",
    "The court jailed him for six months. That is a prison term of nine months.",
    "A jail term of two years and six months was what the judge gave Stell. He was jailed for two years.",
    "Aldous Frayne was imprisoned for eight years. Frayne, who was jailed for eighteen years, was led out of court.",
    "The judge passed a sentence of five years. He was locked up for fifteen years.",
  ])("wrong: %s", async (text) => {
    expect(await told(text)).toHaveLength(1);
  });

  test.each([
    "Tovar Quenby was jailed for a year by the court. Quenby was sentenced to two years in jail.",
    "Jailing him for seven years, the judge called it a mean fraud. He was sentenced to six years.",
    "The smuggler got a ten-year prison sentence in Wennick court. The smuggler was jailed for twelve years.",
    "The magistrate sent him to prison for ninety days. He was given sixty days in jail.",
    "He was sentenced to 14 months, the court was told. He goes to prison for 40 months.",
    "She was sentenced to 80 hours of community service by the court. She was given 180 hours of community service.",
    "The judge disqualified her from driving for eighteen months. She was disqualified from driving for 8 months, the court said.",
    "Garrick Stell was jailed for four and a half years in court. Stell was sentenced to four years.",
    "Brask was handed a three-year jail term, at Sollen court. Brask was handed a two-year jail term.",
    "The court gave him five years in prison. He was jailed for nine years.",
  ])("wrong, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).toHaveLength(1);
  });

  test.each([
    "The prosecutor asked for five years in prison. The judge jailed him for three years. The court rose.",
    "He was jailed for three years in court. He could have been jailed for ten years.",
    "Osmund Tarrick was jailed for eighteen months. He was sentenced to a year and a half, the court said.",
    "He was sentenced to two years, suspended for three years. The court rose.",
    "Garrick Stell was jailed for two years. His brother Edric Stell was jailed for six months. The court rose.",
    "The judge jailed him for two years for theft and six months for fraud. He was jailed for two years and six months in all.",
    "He was sentenced to six years, and will serve at least four years. The court rose.",
    "She was jailed for two years. On appeal, the court cut that: she was sentenced to one year.",
    "The maximum is fourteen years in prison. The court jailed him for four years.",
    "He was jailed for three years. The trial lasted for two years. The court was full.",
    "Jonty Brask was jailed for 12 months. Brask was jailed for one year, the court heard.",
    "He has already spent two years in prison. The court jailed him for four years.",
    "Two men were jailed for three years. A third was jailed for one year. The court rose.",
    "The court jailed Aldous Frayne for five years. Tovar Quenby was jailed for two years last spring.",
    "He was jailed for three years and banned from driving for five years. The court rose.",
  ])("right: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });

  test.each([
    "He was jailed for four years in court. Half of it, two years, will be served in prison.",
    "The defence wanted two years in prison. The judge said three. He was jailed for three years in court.",
    "The court heard he was jailed for two years in 2019. Today he was jailed for four years.",
    "Quenby was jailed for 24 months. Quenby was sentenced to two years, the court said.",
    "The skipper was jailed for three years, and the mate was jailed for one year, in Sollen court.",
    "She was given 100 hours of unpaid work and banned from driving for two years. The court fined her too.",
    "The judge said the usual sentence was six years in prison. He was jailed for four years. The court rose.",
    "He was jailed for two years, consecutive to a sentence of one year for fraud. The court rose.",
    "Garrick Stell was sentenced to five years. With time served, he will be in prison for three years more. The court rose.",
    "He faces ten years in prison. In May a court jailed his cousin for seven years.",
    "Brask was jailed for a year. His wife was jailed for six months, the court heard.",
    "The sentence was raised by the appeal court: he was jailed for nine years. He had been jailed for six years.",
    "He was sentenced to 18 months, and then banned from driving for three years. The court rose.",
    "A two-year sentence was handed down for the theft, and a three-year sentence for the arson. The court rose.",
    "The charge carries up to five years in jail. She was jailed for two years by the court.",
  ])("right, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });
});

describe("the headline and its report", () => {
  const both = (headline: string, report: string) => [
    ...turnsOf([headline], "headlines"),
    ...turnsOf([report], "a"),
    ...turnsOf(["The wind is from the west."], "b"),
  ];

  test.each([
    ["plea-differs", "Osmund Tarrick has denied theft.", "At Sollen court Osmund Tarrick pleaded guilty to theft.", 1],
    ["plea-differs", "Jonty Brask has denied theft.", "At Sollen court Osmund Tarrick pleaded guilty to theft.", 0],
    [
      "prison-term-differs",
      "Osmund Tarrick is jailed for two years.",
      "The court jailed Osmund Tarrick for three years.",
      1,
    ],
    [
      "prison-term-differs",
      "Jonty Brask is jailed for two years.",
      "The court jailed Osmund Tarrick for three years.",
      0,
    ],
    ["plea-differs", "Osmund Tarrick denied theft.", "Osmund Tarrick pleaded guilty to theft. The sea was calm.", 0],
  ])("%s: %s %s", async (rule, headline, report, times) => {
    expect(await toldBy(rule, both(headline, report))).toHaveLength(times);
  });
});

test("each says what stands where", async () => {
  const told = (rule: string, text: string) => toldBy(rule, turnsOf([text]));
  expect(await told("plea-differs", "Osmund Tarrick pleaded guilty in court. Tarrick denies the theft.")).toEqual([
    "“denies the theft” is a denial, and “pleaded guilty” at 0:00 is a plea of guilty.",
  ]);
  expect(
    await told("prison-term-differs", "The court jailed Osmund Tarrick for three years. He got two years in prison."),
  ).toEqual(["“two years” here, and “three years” at 0:02, for one person."]);
});
