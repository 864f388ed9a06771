import { DateTime } from "luxon";
import type { Random } from "../../support/random.ts";

/** What a story is told with. */
export interface Telling {
  readonly random: Random;
  /** Whether one of its figures is to be wrong. */
  readonly makeWrong: boolean;
  readonly say: (value: number) => string;
  readonly change: (value: number) => number;
}

export interface Story {
  readonly rule: string;
  /** The introduction, then the lines of the report. */
  readonly tell: (telling: Telling) => readonly string[];
}

const day = (date: DateTime) => date.setLocale("en-GB").toFormat("d LLLL");

/** Counted things with words that an introduction and a report would share. */
const COUNTS: readonly (readonly [intro: (n: string) => string, report: (n: string) => string])[] = [
  [
    (n) => `The library will shed ${n} jobs this spring.`,
    (n) => `Staff at the library were told of ${n} jobs to go before the spring.`,
  ],
  [
    (n) => `Rescuers brought ${n} walkers off the ridge last night.`,
    (n) => `A helicopter found ${n} walkers huddled on the ridge.`,
  ],
  [
    (n) => `The hospital will open with ${n} beds.`,
    (n) => `When the new hospital opens it will have ${n} beds on two floors.`,
  ],
  [
    (n) => `A bakery has sold ${n} loaves in a day.`,
    (n) => `The bakery counted ${n} loaves over the counter by closing.`,
  ],
  [
    (n) => `Divers have lifted ${n} cannons from a wreck.`,
    (n) => `So far the divers have raised ${n} cannons from the wreck.`,
  ],
  [
    (n) => `The school has room for ${n} pupils.`,
    (n) => `Its head says the school can take ${n} pupils and not one more.`,
  ],
  [(n) => `Farmers want ${n} euros a tonne for barley.`, (n) => `They ask ${n} euros a tonne for their barley.`],
  [(n) => `The bridge repair will cost ${n} pounds.`, (n) => `Engineers put the cost of the bridge at ${n} pounds.`],
];

const RATES: readonly (readonly [job: string, thing: string])[] = [
  ["packer", "crate"],
  ["printer", "page"],
  ["shearer", "fleece"],
  ["baker", "tray"],
  ["picker", "basket"],
];

const MATCHES: readonly (readonly [home: string, away: string])[] = [
  ["Norwick", "Lerbay"],
  ["Tolsta Rovers", "Garrin Athletic"],
  ["Ardvey", "Kilbrae"],
];

export const STORIES: readonly Story[] = [
  {
    rule: "count-differs",
    tell: ({ random, makeWrong, say, change }) => {
      const [intro, report] = random.pick(COUNTS);
      const value = random.whole(4, 400);
      return [
        intro(say(makeWrong ? change(value) : value)),
        "It has been a long week.",
        report(say(value)),
        "Nobody would say what comes next.",
      ];
    },
  },
  {
    rule: "rate-disagrees",
    tell: ({ random, makeWrong, say, change }) => {
      const [job, thing] = random.pick(RATES);
      const minutes = random.pick([2, 3, 4, 5, 6, 10, 12]);
      const anHour = 60 / minutes;
      return [
        `A day with a ${job}.`,
        `It takes her ${say(minutes)} minutes a ${thing}.`,
        "She has done it since she left school.",
        `That makes ${say(makeWrong ? change(anHour + 4) : anHour)} ${thing}s an hour.`.replace("fleeces", "fleeces"),
      ];
    },
  },
  {
    rule: "rate-disagrees",
    tell: ({ random, makeWrong, say, change }) => {
      const [, thing] = random.pick(RATES);
      const [anHour, pay] = [random.whole(3, 12), random.whole(2, 20)];
      const wage = anHour * pay;
      return [
        "What the work pays.",
        `A quick hand fills ${say(anHour)} ${thing}s an hour, and each ${thing} pays ${say(pay)} pounds.`,
        `So a day can bring ${say(makeWrong ? change(wage + 5) : wage)} pounds an hour.`,
      ];
    },
  },
  {
    rule: "percentages-over-100",
    tell: ({ random, makeWrong, say }) => {
      const yes = random.whole(35, 60);
      const no = random.whole(20, 95 - yes);
      const open = 100 - yes - no + (makeWrong ? random.whole(5, 20) : 0);
      return [
        "The islanders have been asked.",
        `${say(yes)} percent said yes, ${say(no)} percent said no, and ${say(open)} percent did not know.`,
      ];
    },
  },
  {
    rule: "weekday-not-date",
    tell: ({ random, makeWrong }) => {
      const date = DateTime.fromISO("2026-10-05", { zone: "UTC" }).plus({ days: random.whole(1, 300) });
      const weekday = (makeWrong ? date.plus({ days: random.whole(1, 6) }) : date).setLocale("en-GB").toFormat("cccc");
      const said = random.pick([
        `${weekday}, ${day(date)}`,
        `${weekday} the ${date.setLocale("en-GB").toFormat("d")}th of ${date.setLocale("en-GB").toFormat("LLLL")}`,
      ]);
      return [
        "A date for the diary.",
        `The hall will be open on ${said}, from noon.`
          .replace(/\b(1|21|31)th/, "$1st")
          .replace(/\b(2|22)th/, "$1nd")
          .replace(/\b(3|23)th/, "$1rd"),
      ];
    },
  },
  {
    rule: "age-not-birth-year",
    tell: ({ random, makeWrong, say }) => {
      const born = random.whole(1930, 2006);
      const age = 2026 - born - random.whole(0, 1) + (makeWrong ? random.pick([-10, -5, -3, 3, 5, 10]) : 0);
      return [
        "A life at sea.",
        `The skipper, who is ${say(age)}, was born in ${born} on the west side.`,
        "She has never lived elsewhere.",
      ];
    },
  },
  {
    rule: "superlative-changes",
    tell: ({ random, makeWrong, say }) => {
      const adjective = random.pick(["coldest", "wettest", "driest", "warmest", "longest", "worst", "busiest"]);
      const noun = random.pick(["night", "summer", "winter", "season"]);
      const years = random.pick([20, 30, 40, 50, 60]);
      const second = makeWrong
        ? random.pick(["on record", "since 1901", "in living memory"])
        : random.pick([`in ${say(years)} years`, `since ${2026 - years}`]);
      return [
        `It was the ${adjective} ${noun} in ${say(years)} years.`,
        "The forecasters were not surprised.",
        `They call it the ${adjective} ${noun} ${second}.`,
      ];
    },
  },
  {
    rule: "score-differs",
    tell: ({ random, makeWrong }) => {
      const [home, away] = random.pick(MATCHES);
      const [most, least] = [random.whole(2, 6), random.whole(0, 1)];
      const told = makeWrong ? most + 1 : most;
      const second = random.pick([
        `${home} beat ${away} by ${most} goals to ${least}.`,
        `${home} ${most}, ${away} ${least}.`,
        `${away} lost ${most}–${least} to ${home}.`,
      ]);
      return [`And ${home} beat ${away} ${told}–${least}.`, "Football now.", second, "The pitch was heavy."];
    },
  },
];
