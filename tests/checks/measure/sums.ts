import { DateTime } from "luxon";
import type { Story, Telling } from "./stories.ts";

const FRACTIONS: readonly (readonly [said: string, value: number])[] = [
  ["a third", 1 / 3],
  ["two thirds", 2 / 3],
  ["a quarter", 1 / 4],
  ["three quarters", 3 / 4],
  ["half", 1 / 2],
  ["a fifth", 1 / 5],
  ["two-fifths", 2 / 5],
  ["one in ten", 1 / 10],
  ["one in four", 1 / 4],
  ["four out of five", 4 / 5],
  ["30 percent", 0.3],
  ["sixty percent", 0.6],
];

/** What a share and a count of it would say in an introduction and in a report. */
const GROUPS: readonly (readonly [thing: string, share: (f: string) => string, count: (n: string) => string])[] = [
  [
    "allotments",
    (f) => `${f} of the allotments have been flooded by the river.`,
    (n) => `The river has flooded ${n} allotments since Sunday.`,
  ],
  [
    "visitors",
    (f) => `${f} of visitors to the museum came by tram.`,
    (n) => `Just ${n} visitors to the museum took the tram.`,
  ],
  [
    "orchards",
    (f) => `Canker has reached ${f} of the orchards.`,
    (n) => `The inspectors found canker in ${n} orchards.`,
  ],
  [
    "tenants",
    (f) => `${f} of tenants owe rent, the landlord says.`,
    (n) => `Court papers show that ${n} tenants owe rent.`,
  ],
  [
    "bridges",
    (f) => `${f} of the bridges need new bearings.`,
    (n) => `Engineers say ${n} bridges need bearings at once.`,
  ],
  ["choirs", (f) => `${f} of the choirs have no tenor.`, (n) => `When we asked around, ${n} choirs had no tenor.`],
];

/** A count that a fraction fits, or is far from. */
function partOf(value: number, whole: number, { random, makeWrong }: Telling): number {
  const right = Math.round(value * whole);
  if (!makeWrong) return right;
  const off = random.whole(Math.ceil(whole * 0.13), Math.ceil(whole * 0.3));
  return right + off < whole * 0.95 ? right + off : Math.max(1, right - off);
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const said = (value: number): string => {
  const names = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
  return names[value - 1] ?? String(value);
};
/** `three and a half`, `3.5`, `four`. */
const half = (halves: number, { random }: Telling): string => {
  const whole = Math.floor(halves / 2);
  if (halves % 2 === 0) return random.chance(0.5) ? said(whole) : String(whole);
  return random.pick([`${said(whole)} and a half`, `${whole}.5`, `${whole}½`]);
};

const MOVERS: readonly (readonly [who: string, it: string, goes: string, went: string])[] = [
  ["The barge", "it", "travels at", "travelled"],
  ["The current", "it", "runs at", "will carry a log"],
  ["The tram", "it", "does", "covers"],
  ["Her canoe", "it", "makes", "crossed"],
  ["The postman", "he", "cycles at", "rode"],
  ["The column of lorries", "it", "moves at", "drove"],
];

/** Reports whose figures can be worked out one from another. */
export const SUMS: readonly Story[] = [
  {
    rule: "share-disagrees",
    tell: (telling) => {
      const { random, say } = telling;
      const [fraction, value] = random.pick(FRACTIONS);
      const [thing, share, count] = random.pick(GROUPS);
      const whole = random.whole(4, 30) * 10;
      const part = partOf(value, whole, telling);
      const portion = random.pick([`${say(part)} of the ${say(whole)}`, `${say(part)} of its ${say(whole)}`]);
      return [
        capital(share(fraction)),
        "Nobody had expected that.",
        count(portion.replace(" its ", thing === "visitors" ? " its " : " the ")),
        "It will be talked about for weeks.",
      ];
    },
  },
  {
    rule: "share-disagrees",
    tell: (telling) => {
      const { random, say } = telling;
      const [fraction, value] = random.pick(FRACTIONS.filter(([name]) => !/one in|out of/.test(name)));
      const [whole, thing] = [random.whole(4, 30) * 10, random.pick(["nurses", "beehives", "shops", "wells"])];
      const part = partOf(value, whole, telling);
      const line = random.pick([
        `${capital(say(part))} of the ${say(whole)} ${thing}, ${fraction}, will be gone by the summer.`,
        `${capital(fraction)} of the ${thing}, ${say(part)} of the ${say(whole)}, will be gone by the summer.`,
        `They say ${fraction} of the ${say(whole)} ${thing}, or ${say(part)}, will be gone by the summer.`,
      ]);
      return ["A hard year for the valley.", line];
    },
  },
  {
    rule: "speed-disagrees",
    tell: (telling) => {
      const { random, makeWrong, change } = telling;
      const [who, it, goes, went] = random.pick(MOVERS);
      const [halves, hours] = [random.whole(5, 24), random.whole(2, 5)];
      const right = (halves * hours) / 2;
      const far = makeWrong ? change(Math.ceil(right) + 6) + 0 : right;
      const distance = Math.abs(far - right) / right < 0.06 && makeWrong ? right * 2 : far;
      const unit = random.pick(["kilometres", "miles"]);
      const each = random.pick(["an hour", "every hour", "per hour"]);
      const speed = `${who} ${goes} ${half(halves, telling)} ${unit} ${each}`;
      const way = `${half(distance * 2, telling)} ${unit} in ${half(hours * 2, telling)} hours`;
      return [
        "How long it takes.",
        ...random.pick([
          [`${speed}.`, `${capital(it)} ${went} ${way}.`],
          [`${speed}, so ${it} ${went} ${way}.`],
          [`${who} ${went} ${way}.`, `That is ${half(halves, telling)} ${unit} ${each}.`],
        ]),
      ];
    },
  },
  {
    rule: "total-disagrees",
    tell: ({ random, makeWrong, say, change }) => {
      const [each, many] = [random.whole(3, 90), random.whole(3, 40)];
      const [per, count] = random.pick([
        ["a week", "weeks"],
        ["a month", "months"],
        ["a night", "nights"],
        ["a day", "days"],
      ] as const);
      const total = makeWrong ? change(each * many) : each * many;
      const lines = random.pick([
        [`Storage costs ${say(each)} florins ${per} for ${say(many)} ${count}, ${say(total)} florins altogether.`],
        [
          `The museum asks ${say(each)} florins ${per}.`,
          `For ${say(many)} ${count} that comes to ${say(total)} florins.`,
        ],
        [`She was fined ${say(each)} florins ${per} for ${say(many)} ${count}, a total of ${say(total)} florins.`],
        [`Over ${say(many)} ${count}, at ${say(each)} florins ${per}, it adds up to ${say(total)} florins.`],
      ]);
      return ["The price of it.", ...lines];
    },
  },
  {
    rule: "total-disagrees",
    tell: ({ random, makeWrong, say, change }) => {
      const [each, many] = [random.whole(3, 60), random.whole(3, 40)];
      const thing = random.pick(["barrel", "ticket", "lamb", "window"]);
      const total = makeWrong ? change(each * many) : each * many;
      const lines = random.pick([
        [`He bought ${say(many)} ${thing}s at ${say(each)} florins each, ${say(total)} florins in all.`],
        [
          `They sold ${say(many)} ${thing}s.`,
          `Each ${thing} brought ${say(each)} florins, and that makes ${say(total)} florins.`,
        ],
        [`At ${say(each)} florins a ${thing}, the ${say(many)} ${thing}s cost a total of ${say(total)} florins.`],
      ]);
      return ["What the market paid.", ...lines];
    },
  },
  {
    rule: "count-differs",
    tell: ({ random, makeWrong, say, change }) => {
      const [thing, first, second] = random.pick([
        ["tractor", "were parked across the bridge at noon", "blocked the road until dusk"],
        ["lantern", "were stolen from the chapel", "were worth a great deal, the vicar says"],
        ["goat", "were found on the roof", "belong to a farmer in the next valley"],
        ["violin", "came up for sale this morning", "went to a single buyer"],
      ] as const);
      const value = random.whole(3, 60);
      return [
        "An odd day.",
        `${capital(say(value))} ${thing}s ${first}.`,
        `The ${say(makeWrong ? change(value) : value)} ${thing}s ${second}.`,
      ];
    },
  },
  {
    rule: "weekday-not-date",
    tell: ({ random, makeWrong }) => {
      // The broadcast is on 5 October 2026: days for which the nearest year would be the wrong one.
      const isPast = random.chance(0.5);
      const aired = DateTime.fromISO("2026-10-05", { zone: "UTC" });
      const date = aired.plus({ days: (isPast ? -1 : 1) * random.whole(190, 340) });
      const own = (makeWrong ? date.plus({ days: random.whole(1, 6) }) : date).setLocale("en-GB").toFormat("cccc");
      const day = `${own}, ${date.setLocale("en-GB").toFormat("d LLLL")}`;
      const lines = isPast
        ? [`The chapel burned down on ${day}.`, `On ${day}, the dam broke.`, `The mayor died on the morning of ${day}.`]
        : [
            `The chapel will be blessed on ${day}.`,
            `On ${day}, they will open the dam.`,
            `The new mayor begins on ${day}.`,
          ];
      return ["A day to note.", random.pick(lines)];
    },
  },
];
