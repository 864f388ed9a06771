import fc from "fast-check";
import { DateTime } from "luxon";
import { describe, expect, test } from "vitest";
import { daysMeant, weekdayOf } from "../../src/checks/figures/calendar.ts";
import { figuresOf, sheetText } from "../../src/checks/figures/sheet.ts";
import { subjectWith, turnsOf } from "./support.ts";

const read = async (text: string) =>
  (await subjectWith(turnsOf([text]))).figures.map(({ kind, value, against, unit, per, role }) =>
    [kind, against === null ? value : `${value}–${against}`, unit, per, role === "plain" ? null : role]
      .filter((cell) => cell !== null)
      .join(" "),
  );

describe("figures in sentences", () => {
  test.each([
    ["Fewer ferries: 11 sailings a week from Sollen.", ["count 11 sailing week"]],
    ["It cuts them from sixteen sailings a week to nine.", ["count 16 sailing week from", "count 9 sailing week to"]],
    ["It would put back two of the sailings.", ["count 2 sailing part"]],
    ["I can wait two more days.", ["count 2 day change"]],
    ["Each costs 2,600 crowns.", ["money 2600 crown"]],
    ["It costs £2.3 million.", ["money 2300000 £"]],
    ["This year we found 14 percent fewer.", ["percent 14 percent"]],
    ["About fourteen per cent agree.", ["percent 14 percent"]],
    ["It is twenty one kilometres out.", ["measure 21 kilometre"]],
    ["It took 140,000 cubic metres of mud.", ["measure 140000 cubic metre"]],
    ["Come on Monday, 5 October.", ["date 5"]],
    ["Come on monday the fifth of october.", ["date 5"]],
    ["Come on 14 March 2027.", ["date 14"]],
    ["We march on 5 boats.", ["count 5 boat"]],
    ["It is ten to seven in the morning.", ["time 410"]],
    ["It left at half past six.", ["time 390"]],
    ["High water is at 6.42 in the morning.", ["time 402"]],
    ["High water is at six forty two in the morning.", ["time 402"]],
    ["It ends at 7.05 at night.", ["time 1145"]],
    ["The chair spoke at four o'clock.", ["time 240"]],
    ["Doors open at 6pm.", ["time 1080"]],
    ["We saw five to ten people.", ["number 5", "count 10 person"]],
    ["They won by three goals to one.", ["score 3–1"]],
    ["They beat Wennick two nil.", ["score 2–0"]],
    ["Last season Hallan won 4–0.", ["score 4–0"]],
    ["Hallan Herons 1, Sollen Town 2.", ["score 1–2"]],
    ["The wind is six to eight knots.", ["number 6", "measure 8 knot"]],
    ["A man aged 58 was there.", ["age 58 year"]],
    ["The 58-year-old lives here.", ["age 58 year"]],
    ["Stell, who is 34 and lives here, spoke.", ["age 34 year"]],
    ["She is nineteen years old.", ["age 19 year"]],
    ["It has stood since 1866.", ["year 1866"]],
    ["It has stood since nineteen eighty seven.", ["year 1987"]],
    ["It takes four minutes a crate.", ["measure 4 minute crate"]],
    ["It gave 3 boys a lift.", ["count 3 boy lift"]],
    ["One of them is nothing.", []],
    ["No one came.", []],
    ["", []],
  ])("%s", async (text, figures) => {
    expect(await read(text)).toEqual(figures);
  });
});

describe("days", () => {
  test.each([
    [
      "the nearest year, forwards over New Year",
      { day: 8, month: 1, year: null, weekday: 5 },
      "2026-12-28",
      "2027-01-08",
    ],
    ["the nearest year, back over it", { day: 28, month: 12, year: null, weekday: null }, "2027-01-03", "2026-12-28"],
    ["a year that was said", { day: 5, month: 10, year: 1998, weekday: null }, "2026-10-05", "1998-10-05"],
    [
      "29 February of the next leap year within reach",
      { day: 29, month: 2, year: null, weekday: null },
      "2027-10-05",
      "2028-02-29",
    ],
    ["no such day", { day: 31, month: 9, year: null, weekday: null }, "2026-10-05", null],
  ])("%s", (_why, date, aired, day) => {
    expect(daysMeant(date, aired)[0] ?? null).toBe(day);
  });

  const JUNE = { day: 18, month: 6, year: null, weekday: null };
  test.each([
    ["far away and not said: any of three", JUNE, null, null, ["2026-06-18", "2027-06-18", "2025-06-18"]],
    ["far away and past", JUNE, "past", null, ["2026-06-18"]],
    ["far away and to come", JUNE, "future", null, ["2027-06-18"]],
    ["next year, it says", JUNE, null, 1, ["2027-06-18"]],
    ["last year, it says", JUNE, "past", -1, ["2025-06-18"]],
    ["near and not said", { ...JUNE, month: 12 }, null, null, ["2026-12-18"]],
  ] as const)("%s", (_why, date, tense, yearsOn, days) => {
    expect(daysMeant(date, "2026-12-10", { tense, yearsOn })).toEqual(days);
  });

  test("of a day that every year has, the days are that day, and the first is none further than half a year where the words don't say", () => {
    const aired = fc.date({ min: new Date("2020-01-01"), max: new Date("2040-01-01"), noInvalidDate: true });
    fc.assert(
      fc.property(aired, fc.integer({ min: 1, max: 28 }), fc.integer({ min: 1, max: 12 }), (on, day, month) => {
        const from = on.toISOString().slice(0, 10);
        const days = daysMeant({ day, month, year: null, weekday: null }, from);
        const away = DateTime.fromISO(days[0] ?? "").diff(DateTime.fromISO(from), "days").days;
        expect(Math.abs(away)).toBeLessThan(184);
        const end = `-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
        expect(days.every((own) => own.endsWith(end))).toBe(true);
        expect(days.length).toBe(Math.abs(away) <= 45 ? 1 : 3);
      }),
    );
  });

  test("weekdays are luxon's", () => {
    for (let n = 0; n < 800; n += 1) {
      const date = DateTime.fromISO("2026-01-01", { zone: "UTC" }).plus({ days: n });
      expect(weekdayOf(date.toISODate() ?? "")).toBe(date.weekday);
    }
  });
});

test("the sheet has every figure with its time, words, value and conversions", async () => {
  const subject = await subjectWith(
    turnsOf(["It is 10 miles off, at 25 knots. Come on Thursday, 8 October. She is 19 years old."]),
  );
  const rows = figuresOf(subject);
  expect(rows.map(({ kind, value, unit, also }) => [kind, value, unit, ...also])).toEqual([
    ["measure", "10", "mile", "16.1 kilometres"],
    ["measure", "25", "knot", "28.8 miles an hour"],
    ["date", "10-08", null, "Thursday 2026-10-08"],
    ["age", "19", "year", "born 2006 or 2007"],
  ]);
  expect(sheetText(rows).split("\n")[0]).toBe(
    "[ ]  0:00  measure  10 mile  16.1 kilometres      It is 10 miles off, at 25 knots.",
  );
  expect(sheetText([])).toBe("");
});
