import { describe, expect, test } from "vitest";
import { metresIn, speedIn, timesIn, unitNamed } from "../../src/checks/figures/units.ts";
import { toldBy, turnsOf } from "./support.ts";

const told = (rule: string, text: string) => toldBy(rule, turnsOf([text]));

describe("speed-disagrees", () => {
  test.each([
    "The current runs at three and a half kilometres every hour, so in two hours it carries a boat twelve kilometres.",
    "It covered twelve kilometres in two hours. That is an average of eight kilometres an hour.",
    "She swam four kilometres in an hour and 20 minutes, which is five kilometres an hour.",
    "The ferry makes 18 knots. The ferry covers the 45 nautical miles in an hour and a half.",
    "The glacier moves two metres a day. It has slid 30 metres in ten days.",
    "He rowed at six kilometres per hour. It took him half an hour to row the five kilometres.",
    "The fire is moving at two miles an hour, and it covered six miles in two hours.",
    "The lava creeps forward thirty metres every hour. In four hours it covers two hundred metres.",
    "The raft drifted nine miles in three hours: that works out at five miles an hour.",
    "Our pigeon flew 90 kilometres in an hour and a half, at an average of 80 kilometres an hour.",
    "The vine grows five centimetres a day. In twelve days it has grown 90 centimetres.",
    "The train runs at 60 kph. It took two hours to cover the 150 kilometres.",
    "They walked 21 kilometres in three and a half hours. At that pace, four kilometres an hour, they will be late.",
    "The oil slick is spreading at half a kilometre an hour. In six hours it has spread five kilometres.",
    "Snow fell at three centimetres an hour. In four hours, 20 centimetres fell.",
    "The sledge did 13 kilometres in 2½ hours, so 7 kilometres an hour.",
  ])("wrong: %s", async (text) => {
    expect(await told("speed-disagrees", text)).toHaveLength(1);
  });

  test.each([
    "The current runs at three and a half kilometres every hour, so in two hours it carries a boat seven kilometres.",
    "It covered twelve kilometres in two hours. That is an average of six kilometres an hour.",
    "She swam four kilometres in an hour and 20 minutes, which is three kilometres an hour.",
    "She swam four kilometres in an hour, against a current of two kilometres an hour.",
    "The wind blew at 40 kilometres an hour. The swimmer did four kilometres in an hour.",
    "The ferry's top speed is 18 knots. It did the 20 nautical miles in two hours.",
    "The tide runs at four knots. She swam two nautical miles in two hours.",
    "She runs ten kilometres in fifty minutes. He runs at 14 kilometres an hour.",
    "The boat was doing 12 knots. It sank in ten minutes, two miles from the shore.",
    "It rode 31 miles in two hours, nearly 16 miles an hour.",
    "The ferry does 18 knots. The new ferry will cross the 30 nautical miles in an hour.",
    "The ferry makes 18 knots. The ferry covers the 27 nautical miles in an hour and a half.",
    "The train runs at 60 kph. It took two and a half hours to cover the 150 kilometres.",
    "The glacier moves two metres a day. It has slid 20 metres in ten days.",
    "It was doing 40 miles an hour. It stopped 20 metres on, in five seconds.",
    "The barge made nine kilometres an hour at first, then slowed. It covered 24 kilometres in four hours.",
    "The wind is 25 knots. It is five kilometres to the harbour, and they will be there in an hour.",
  ])("right: %s", async (text) => {
    expect(await told("speed-disagrees", text)).toEqual([]);
  });

  test("tells the sum, in the unit of the speed", async () => {
    expect(
      await told("speed-disagrees", "It covered 50 nautical miles in two hours. That is an average of 20 knots."),
    ).toEqual(["“50 nautical miles in two hours” is 25 knots, not “20 knots” as at 0:04."]);
    expect(await told("speed-disagrees", "It went 1,800 feet in a minute, so it does five metres a second.")).toEqual([
      "“1,800 feet in a minute” is 9.14 metres a second, not “five metres a second” as at 0:03.",
    ]);
  });
});

describe("total-disagrees", () => {
  test.each([
    "The hall charges 40 crowns a week for twelve weeks, 520 crowns in all.",
    "A place costs 40 crowns a week. Over the twelve weeks that comes to 520 crowns.",
    "He sold 30 crates at 45 crowns each, a total of 1,400 crowns.",
    "She sold 30 crates. Each crate pays 45 crowns, and that is 1,250 crowns altogether.",
    "They pay 15 crowns a day for two weeks: 220 crowns in total.",
    "The rent is four hundred crowns a month. Over the year that comes to five thousand crowns.",
    "Six buses carry fifty pupils each, two hundred and fifty pupils in all.",
    "The pump moves 200 litres an hour. In six hours that makes 1,500 litres.",
    "For nine nights at seventy crowns a night, she paid 640 crowns all told.",
    "A ticket costs two and a half crowns. Twenty tickets at two and a half crowns each make a total of 60 crowns.",
    "The mill grinds three tonnes a day, and over the 14 days it will grind 32 tonnes altogether.",
    "He gets £12 an hour. He worked 35 hours, and that is £400.",
    "Every household pays eight crowns a month, which comes to 86 crowns over the year.",
    "She saves 15 crowns a week. Over the whole year that comes to 700 crowns.",
    "The baker uses 40 kilos of flour a day. In a week of seven days that makes 250 kilos.",
    "Membership is five crowns a month, so over a year it adds up to 50 crowns.",
    "Twelve teams of eleven players make a total of 122 players.",
    "The 25 stalls pay sixty crowns apiece, which is 1,300 crowns.",
  ])("wrong: %s", async (text) => {
    expect(await told("total-disagrees", text)).toHaveLength(1);
  });

  test.each([
    "The hall charges 40 crowns a week for twelve weeks, 480 crowns in all.",
    "They pay 15 crowns a day for two weeks: 210 crowns in total.",
    "They pay 15 crowns a day for two working weeks: 150 crowns in total.",
    "The rent is four hundred crowns a month. Over the year that comes to 4,800 crowns.",
    "The hall charges 40 crowns a week for twelve weeks, and a 30 crown deposit, 510 crowns in all.",
    "The crew gets 90 crowns a day. They were out for twelve days, and the catch came to 20,000 crowns.",
    "There are 12 boats with four men each, and 3 boats with six men, 66 men in all.",
    "The company pays 5,200 crowns a week. Over the 26 weeks that comes to about 135,000 crowns.",
    "It costs 40 crowns a week for twelve weeks. In all, 900 crowns were raised by the fair.",
    "Tickets are 12 crowns each. They sold 300 tickets and took 3,600 crowns in all.",
    "She lays 20 bricks an hour. In eight hours she made 150 bricks.",
    "The rent is 40 crowns a week. He was there for twelve weeks. The repairs made a total of 900 crowns.",
    "He takes home 70 crowns a day. The boat cost a total of 64,000 crowns. It was built in 90 days.",
    "Twenty tickets at two and a half crowns each make a total of 50 crowns.",
    "It is 48 crowns a week for eleven weeks, about 520 crowns in all.",
    "A cell costs 300 crowns a month, less a discount: over twelve months that comes to 3,000 crowns.",
  ])("right: %s", async (text) => {
    expect(await told("total-disagrees", text)).toEqual([]);
  });

  test("tells the sum", async () => {
    expect(await told("total-disagrees", "It is 40 crowns a week for twelve weeks, 520 crowns in all.")).toEqual([
      "“520 crowns” is not “40 crowns a week” at 0:00 times “twelve weeks”, which is 480.",
    ]);
  });
});

describe("count-differs: the nine boats", () => {
  test.each([
    "Eleven boats left the harbour at dawn. The nine boats were bound for the fishing grounds.",
    "The council has bought 14 houses on the quay. It paid too much. The forty houses stand empty.",
    "Divers raised seven cannons from the wreck. Those six cannons go to the museum.",
    "There were twenty-one paintings in the barn. The 22 paintings are by a local artist.",
    "Thieves took eight bicycles. All nine bicycles were locked.",
    "Sixteen trawlers are tied up. Nobody is on board. The sixty trawlers will be sold.",
    "Three bells hang in the tower. These four bells were cast in Wennick.",
    "He keeps 50 turkeys. The fifteen turkeys guard the yard.",
  ])("wrong: %s", async (text) => {
    expect(await told("count-differs", text)).toHaveLength(1);
  });

  test.each([
    "Eleven boats left the harbour at dawn. Two turned back. The nine boats reached the fishing grounds.",
    "Eleven boats left the harbour at dawn. The nine boats that came back were full.",
    "Eleven boats left the harbour at dawn. The eleven boats were bound for the fishing grounds.",
    "Six houses burned in Port Wennick. The two houses next door were saved. Nobody lived in the two houses.",
    "Four bells hang here. Some were sold. The three bells are old.",
    "Nine out of ten members turned out. Of the 200 members, 178 turned out.",
    "Four men were arrested. The two men in the boat got away.",
    "Eleven boats left. It rained. It blew. It froze. The nine boats were back.",
    "Twelve jurors were sworn in. The three judges sat above them.",
  ])("right: %s", async (text) => {
    expect(await told("count-differs", text)).toEqual([]);
  });
});

describe("weekday-not-date by tense (the episode aired on Monday 5 October 2026)", () => {
  test.each([
    ["The cable broke on the night of Saturday, 14 March.", []],
    ["The cable broke on the night of Sunday, 14 March.", ["Saturday (2026-03-14)"]],
    ["The court heard that on the night of Saturday, 14 March, his boat dragged its anchor.", []],
    ["On Monday, 22 March, the bridge collapsed.", ["Sunday (2026-03-22)"]],
    ["They married on Saturday, 28 March.", []],
    ["She died on Monday, 28 March.", ["Saturday (2026-03-28)"]],
    ["He said the bridge was closed on Sunday, 22 March.", []],
    ["The pier was opened on Wednesday, 1 April.", []],
    ["The barn burned down in a storm, on the night of Sunday, 1 March.", []],
    ["The hall will open on Wednesday, 14 July.", []],
    ["The hall will open on Tuesday, 14 July.", ["Wednesday (2027-07-14)"]],
    ["On Saturday, 4 September, they will walk to Ostrey.", []],
    ["The season begins on Saturday, 12 June.", []],
    ["The season begins on Friday, 12 June.", ["Saturday (2027-06-12)"]],
    ["She is due back on Tuesday, 10 August.", []],
    ["She is due back on Monday, 10 August.", ["Tuesday (2027-08-10)"]],
    ["We are going to meet on Thursday, 8 July.", []],
    ["The fair was to open on Monday, 22 March.", []],
    ["A storm tore the roof off on the night of Friday, 19 March.", ["Thursday (2026-03-19)"]],
    ["She was planning a fair on Monday, 22 March.", []],
    ["The council voted to close the school on Thursday, 1 April.", []],
    ["The judge set a hearing for Wednesday, 3 March.", []],
    ["He was told to come back on Wednesday, 3 March.", []],
    ["He came on Thursday, 8 October.", []],
    ["He came on Wednesday, 14 March 2018.", []],
    ["The pier that was closed will open on Monday, 12 April.", []],
    ["The ship that sank on Friday, 6 March will be raised.", []],
    ["The fair that was due to open on Monday, 22 March was called off.", []],
    ["It was a busy year. Come on Sunday, 14 March.", []],
  ])("%s", async (text, days) => {
    const says = await told("weekday-not-date", text);
    expect(says).toHaveLength(days.length);
    for (const [n, day] of days.entries()) expect(says[n]).toContain(day);
  });
});

describe("units", () => {
  /**
   * NIST Special Publication 811 (2008), appendix B.8, and its notes on the foot; the knot from the nautical mile of 1929.
   * From memory.
   */
  test.each([
    ["inch", 0.0254],
    ["foot", 0.3048],
    ["yard", 0.9144],
    ["mile", 1609.344],
    ["nautical mile", 1852],
  ])("a %s is %d metres, exactly", (unit, metres) => {
    expect(metresIn(unit)).toBe(metres);
  });

  test.each([
    ["knots", 0.514444],
    ["mph", 0.44704],
    ["kph", 0.277778],
  ])("a unit of %s is %d metres a second", (said, speed) => {
    expect(speedIn(unitNamed(said)?.name ?? "")).toBeCloseTo(speed, 6);
  });

  test("every unit of length has one that people of another would say, and both agree", () => {
    for (const unit of ["millimetre", "centimetre", "metre", "kilometre", "inch", "foot", "yard", "mile"]) {
      const own = unitNamed(unit);
      const other = unitNamed(own?.also?.unit ?? "")?.name ?? "";
      expect((own?.also?.convert(1) ?? 0) * (metresIn(other) ?? 0)).toBeCloseTo(metresIn(unit) ?? 0, 9);
    }
  });

  test.each([
    ["week", "day", 7],
    ["year", "month", 12],
    ["year", "week", 52],
    ["crate", "crate", 1],
    ["day", "week", undefined],
  ])("a %s has so many of a %s: %s", (longer, shorter, times) => {
    expect(timesIn(longer, shorter)[0]).toBe(times);
  });
});
