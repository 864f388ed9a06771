import { DateTime } from "luxon";
import type { SaidWhen } from "./tense.ts";

const WEEKDAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
const MONTHS = [
  "january",
  "february",
  "march",
  "april",
  "may",
  "june",
  "july",
  "august",
  "september",
  "october",
  "november",
  "december",
];

const numbered = (names: readonly string[]): ReadonlyMap<string, number> =>
  new Map(names.map((name, n) => [name, n + 1]));
const [WEEKDAY_NUMBERS, MONTH_NUMBERS] = [numbered(WEEKDAYS), numbered(MONTHS)];

/** From 1, Monday, as ISO 8601 and luxon count. */
export const weekdayNamed = (fold: string): number | null => WEEKDAY_NUMBERS.get(fold) ?? null;
/** From 1, January. */
export const monthNamed = (fold: string): number | null => MONTH_NUMBERS.get(fold) ?? null;
export const weekdayName = (n: number): string => {
  const name = WEEKDAYS[n - 1] ?? "";
  return name.charAt(0).toUpperCase() + name.slice(1);
};

/** A day as said: without a year, it is the nearest to the day of the broadcast. */
export interface SaidDate {
  readonly day: number;
  readonly month: number;
  readonly year: number | null;
  /** From 1, Monday; null: not said. */
  readonly weekday: number | null;
}

/** A day so near to the broadcast is meant whatever the tense: `it was to be on Friday, 9 October`. In days; no source. */
const NEAR = 45;

const UNSAID: SaidWhen = { tense: null, yearsOn: null };

/**
 * The calendar days that can be meant, ISO, the likeliest first; none where there is no such day. A day without a year is
 * the nearest to the broadcast; but what has happened was on the last such day, and what is to come on the next, where the
 * nearest is over 45 days away or is not the weekday that was said. Where the words say nothing, a day so far away can be
 * last year's, this year's or next year's. `aired`: a local date, ISO.
 */
export function daysMeant({ day, month, year, weekday }: SaidDate, aired: string, when = UNSAID): readonly string[] {
  const { tense, yearsOn } = when;
  const from = DateTime.fromISO(aired, { zone: "UTC" });
  const years =
    year !== null ? [year] : yearsOn !== null ? [from.year + yearsOn] : [-1, 0, 1].map((n) => from.year + n);
  const days = years
    .map((own) => DateTime.fromObject({ year: own, month, day }, { zone: "UTC" }))
    .filter(({ isValid }) => isValid)
    .sort((a, b) => Math.abs(a.diff(from).toMillis()) - Math.abs(b.diff(from).toMillis()));
  const [nearest] = days;
  if (nearest === undefined) return [];
  const isNear = Math.abs(nearest.diff(from, "days").days) <= NEAR;
  if (days.length === 1 || tense === null) return (isNear ? [nearest] : days).map(isoOf);
  const told = days.find((own) => (tense === "past" ? own <= from : own >= from)) ?? nearest;
  const isOnSaidDay = weekday === told.weekday && weekday !== nearest.weekday;
  return [isoOf(isNear && !isOnSaidDay ? nearest : told)];
}

const isoOf = (day: DateTime): string => day.toISODate() ?? "";

/** From 1, Monday. `day`: an ISO date. */
export const weekdayOf = (day: string): number => DateTime.fromISO(day, { zone: "UTC" }).weekday;
