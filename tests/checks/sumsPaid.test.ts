/** Sums of the programme's day, 5 October 2026. */
import { describe, expect, test } from "vitest";
import { toldBy, turnsOf } from "./support.ts";

describe("years-ago-not-year", () => {
  const told = (text: string) => toldBy("years-ago-not-year", turnsOf([text]));

  test.each([
    "The pier was built in 1926, ninety years ago.",
    "In 1876, a hundred years ago, the first ferry sailed.",
    "The lamp was lit for the first time in 1851, 157 years ago.",
    "The last whaler left in 2001, fifteen years ago.",
    "Eighty years ago, in 1936, the mill burned down.",
    "The school was founded in 1896, and is 120 years old this autumn.",
    "It is the fiftieth anniversary of the storm of 1966.",
    "The chapel opened in 1826, a century ago.",
    "That was in 1986, thirty years ago.",
    "The club, founded in 1906, marks its 110th anniversary.",
  ])("wrong: %s", async (text) => {
    expect(await told(text)).not.toEqual([]);
  });

  test.each([
    "The wreck went down in 1912, a hundred and four years ago.",
    "Sixty years ago, in 1956, the causeway was opened.",
    "The bridge was finished in 2006, ten years ago.",
    "The bakery opened in 1926, and is ninety years old.",
    "The islands were sold in 1726, two hundred years ago.",
    "It was in 1976, 40 years ago, that the council first met.",
    "Half a century ago, in 1966, the light was made electric.",
    "The lifeboat station was built in 1866, a hundred and fifty years ago.",
    "The choir celebrates its 75th anniversary: it was founded in 1941.",
    "They met in 1996, twenty years ago today.",
  ])("wrong, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).not.toEqual([]);
  });

  test.each([
    "The pier was built in 1926, a hundred years ago.",
    "In 1876, a hundred and fifty years ago, the first ferry sailed.",
    "The last whaler left in 2001, twenty-five years ago.",
    "The last whaler left in 2001, twenty-four years ago.",
    "The pier was built in 1926, about ninety years ago.",
    "The pier was built in 1926, more than ninety years ago.",
    "He came to Sollen in 1996. Ten years ago, he bought the mill.",
    "In 1976 the mill, built ninety years ago, was sold.",
    "Two years ago the council said the pier of 1926 would go.",
    "The chapel opened in 1826, two centuries ago.",
    "Ninety years ago nobody had heard of it, and in 1986 everybody had.",
    "In 1926, ninety years after the fire, the pier was built.",
    "The school opened in 1876; ten years ago it had 200 pupils.",
    "Founded in 1906, the club marks its 120th anniversary.",
    "He was born in 1926, and was ninety years old when he died.",
    "It is the sixtieth anniversary of the storm of 1966.",
  ])("right: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });

  test.each([
    "The wreck went down in 1912, a hundred and fourteen years ago.",
    "Seventy years ago, in 1956, the causeway was opened.",
    "The bridge was finished in 2006, and repaired ten years ago.",
    "In 2016, at ninety years old, she swam to Hallan.",
    "The islands were sold in 1726, nearly three hundred years ago.",
    "He said in 1976 that the light had gone out 40 years ago.",
    "In the 1966 film, set a hundred years ago, the light goes out.",
    "Half a century ago, in 1976, the light was made electric.",
    "The choir celebrated its 75th anniversary in 2016; it was founded in 1941.",
    "It was built in 1866 and closed twenty years ago.",
    "Five years ago he wrote a book on 1926.",
    "Some ninety years ago, in the summer of 1936, it sank.",
    "The station, opened in 1926, was closed forty years ago.",
    "The contest began in 1926. Its fiftieth anniversary fell in 1976.",
    "Her grandmother, who was ninety years old, came here in 1926.",
  ])("right, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });
});

describe("age-not-birth-year", () => {
  const told = (text: string) => toldBy("age-not-birth-year", turnsOf([text]));

  test.each(["Aldous Frayne, born in 1958, died in 2020 aged 71."])("wrong: %s", async (text) => {
    expect(await told(text)).not.toEqual([]);
  });

  test.each(["She was born in 1931 and died in 2011, aged 90.", "Born in 1975, he drowned in 2005 at 40 years old."])(
    "wrong, of those kept aside until the rule was written: %s",
    async (text) => {
      expect(await told(text)).not.toEqual([]);
    },
  );

  test.each([
    "Aldous Frayne, born in 1958, died in 2020 aged 61.",
    "He was born in 1940 and died in 1990 at the age of 50.",
  ])("right: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });

  test.each([
    "She was born in 1931 and died in 2011, aged 79.",
    "He was born in 1975. In 2005 he was aged 30 when he swam to Hallan.",
  ])("right, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });
});

describe("total-disagrees", () => {
  const told = (text: string) => toldBy("total-disagrees", turnsOf([text]));

  test.each([
    "They paid 1,400 crowns for 30 lambs at 45 crowns each.",
    "He sold 30 crates at 45 crowns each and took 1,250 crowns.",
    "She paid 60 crowns for 5 tickets at 15 crowns each.",
  ])("wrong: %s", async (text) => {
    expect(await told(text)).not.toEqual([]);
  });

  test.each([
    "The museum paid 2,600 crowns for 12 prints at 200 crowns each.",
    "They bought 8 engines at 350 crowns each and paid 3,200 crowns.",
    "He earned 500 crowns for 40 hours at 12 crowns an hour.",
    "At 6 crowns a kilo, 50 kilos fetched 350 crowns.",
  ])("wrong, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).not.toEqual([]);
  });

  test.each([
    "Twenty men were paid 12 crowns an hour. For six hours they were each paid 80 crowns.",
    "Forty tickets at 9 crowns each brought in 400 crowns.",
    "The 90 seats cost 11 crowns each, and the theatre took 900 crowns.",
  ])("wrong, and not found: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });

  test.each([
    "They paid 1,350 crowns for 30 lambs at 45 crowns each.",
    "He sold 30 crates at 45 crowns each and took home 200 crowns.",
    "She paid 60 crowns for 5 tickets at 12 crowns each.",
    "They paid 45 crowns each for 30 lambs, and 200 crowns for a ram.",
    "Forty tickets at 9 crowns each were sold, and the bar took 400 crowns.",
  ])("right: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });

  test.each([
    "The museum paid 2,400 crowns for 12 prints at 200 crowns each.",
    "He bought 8 engines at 350 crowns each and sold one for 500 crowns.",
    "He earned 480 crowns for 40 hours at 12 crowns an hour.",
    "She was paid 900 crowns for a week. The 30 helpers got 20 crowns each.",
    "Thirty guests paid 25 crowns each, and the band cost 400 crowns.",
  ])("right, of those kept aside until the rule was written: %s", async (text) => {
    expect(await told(text)).toEqual([]);
  });
});

test("each tells the sum", async () => {
  const told = (rule: string, text: string) => toldBy(rule, turnsOf([text]));
  expect(await told("years-ago-not-year", "The pier was built in 1926, ninety years ago.")).toEqual([
    "“ninety years ago” is not 1926: 2026 less that is 100.",
  ]);
  expect(await told("age-not-birth-year", "Aldous Frayne, born in 1958, died in 2020 aged 71.")).toEqual([
    "Born in 1958 is 61 or 62 in 2020, not 71 as at 0:03.",
  ]);
});
