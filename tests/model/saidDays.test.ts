import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readDays } from "../../src/model/saidDays.ts";

/** A Monday. */
const TODAY = "2026-10-12";
const read = (text: string, today = TODAY) => readDays(text.split(" "), 0, today);

describe("days as people name them", () => {
  test.each([
    ["2026-10-06", "2026-10-06", "2026-10-06"],
    ["6/10/2026", "2026-10-06", "2026-10-06"],
    ["10/25/2026", "2026-10-25", "2026-10-25"],
    ["6 october", "2026-10-06", "2026-10-06"],
    ["6th of october", "2026-10-06", "2026-10-06"],
    ["the sixth of october", "2026-10-06", "2026-10-06"],
    ["october 6th", "2026-10-06", "2026-10-06"],
    ["oct 6", "2026-10-06", "2026-10-06"],
    ["tuesday 6 october 2026", "2026-10-06", "2026-10-06"],
    ["29 february 2024", "2024-02-29", "2024-02-29"],
    ["24 december", "2025-12-24", "2025-12-24"],
    ["6 november", "2026-11-06", "2026-11-06"],
    ["october", "2026-10-01", "2026-10-31"],
    ["november", "2025-11-01", "2025-11-30"],
    ["february 2024", "2024-02-01", "2024-02-29"],
    ["yesterday", "2026-10-11", "2026-10-11"],
    ["last tuesday", "2026-10-06", "2026-10-06"],
    ["last monday", "2026-10-05", "2026-10-05"],
    ["two weeks ago", "2026-09-28", "2026-09-28"],
    ["last year", "2025-01-01", "2025-12-31"],
    ["last autumn", "2026-09-01", "2026-11-30"],
    ["last winter", "2025-12-01", "2026-02-28"],
  ])("%s", (text, from, to) => {
    expect(read(text)).toMatchObject({ from, to });
  });

  test.each(["30 february", "31/02/2026", "may", "march", "sixth", "6", "octopus", "last orders"])(
    "%s names none",
    (text) => {
      expect(read(text)).toBeNull();
    },
  );

  test("a day with its year is read back in every way to write it", () => {
    const days = fc.date({ min: new Date("1990-01-01"), max: new Date("2049-12-31"), noInvalidDate: true });
    const setIn = (language: string, options: Intl.DateTimeFormatOptions) =>
      new Intl.DateTimeFormat(language, { ...options, timeZone: "UTC" });
    const ways = [
      setIn("en-GB", { dateStyle: "long" }),
      setIn("en-GB", { dateStyle: "full" }),
      setIn("en-US", { dateStyle: "long" }),
      setIn("en-GB", { day: "numeric", month: "short", year: "numeric" }),
      setIn("en-GB", { dateStyle: "short" }),
      setIn("sv", { dateStyle: "short" }),
    ];
    fc.assert(
      fc.property(days, fc.constantFrom(...ways), (day, way) => {
        const words = way.format(day).toLowerCase().replaceAll(",", "");
        const iso = day.toISOString().slice(0, 10);
        expect(read(words)).toMatchObject({ from: iso, to: iso, length: words.split(" ").length });
      }),
    );
  });

  test("what is counted from today is never later than it, and whole", () => {
    const days = fc.date({ min: new Date("1990-01-01"), max: new Date("2049-12-31"), noInvalidDate: true });
    const ways = ["yesterday", "last week", "last friday", "three days ago", "last month", "last summer", "august"];
    fc.assert(
      fc.property(days, fc.constantFrom(...ways), (day, way) => {
        const today = day.toISOString().slice(0, 10);
        const named = read(way, today);
        expect((named?.from ?? "~") <= today).toBe(true);
        expect((named?.from ?? "~") <= (named?.to ?? "")).toBe(true);
      }),
    );
  });
});
