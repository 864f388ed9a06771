import { DateTime } from "luxon";
import { ARCHIVE_PATH, absolute, fileOf, href, monthPath, yearPath } from "../model/address.ts";
import { grouped } from "../model/grouped.ts";
import type { PageContext } from "./site.ts";
import type { EpisodeSummary } from "./summary.ts";
import type { EpisodeCard, Page, YearCell, YearPage } from "./types.ts";
import { countedInFigures } from "./words.ts";

/** How many episodes a year has; what the sheets say of other years. */
export interface YearCount {
  readonly year: string;
  readonly episodes: number;
}

/** The path of a year's sheet. */
export const yearFile = (year: string): string => fileOf(yearPath(year));

/** The newest year's sheet also stands at `/archive/`. */
export const archivePage = (newest: YearPage): Page => ({ kind: "year", path: fileOf(ARCHIVE_PATH), page: newest });

/**
 * The sheet of a year. The years before the newest don't count it: it gets an episode every evening, and their sheets
 * would change with it. @param own the episodes of the year, oldest first. @param years oldest first.
 */
export function yearSheet(
  year: string,
  own: readonly EpisodeSummary[],
  years: readonly YearCount[],
  context: PageContext,
): YearPage {
  const newest = years.at(-1)?.year;
  const corrections = own.reduce((sum, { card }) => sum + card.correctionCount, 0);
  const byDate = grouped(own, ({ aired }) => aired.slice(0, 10));
  const columns = columnsOf([...byDate.keys()]);
  const { language } = context.calendar;
  const dateline = countedInFigures(own.length, "edition", "editions");
  return {
    site: context.site,
    title: year,
    description: `Every edition of ${context.programme.title} in ${year}.`,
    canonical: absolute(context.addresses, yearPath(year)),
    structured: null,
    year,
    hasStudio: context.programme.presenters.length > 0,
    dateline:
      corrections === 0 ? dateline : `${dateline}, ${countedInFigures(corrections, "correction", "corrections")}`,
    years: years.toReversed().map((other) => ({
      year: other.year,
      href: href(context.addresses, yearPath(other.year)),
      count: other.year === newest && year !== newest ? null : other.episodes,
      current: other.year === year,
    })),
    weekdays: columns.map((weekday) => {
      const day = MONDAY.plus({ days: weekday - 1 }).setLocale(language);
      return { short: day.toFormat("ccc"), long: day.toFormat("cccc") };
    }),
    months: monthsOf(byDate, columns, context),
  };
}

const MONDAY = DateTime.fromISO("2024-01-01", { zone: "utc" });

/** Weekdays from 1 (Monday): Monday to Friday, and the days of the weekend that ever had an episode. */
function columnsOf(dates: readonly string[]): readonly number[] {
  const had = new Set<number>(dates.map((date) => DateTime.fromISO(date, { zone: "utc" }).weekday));
  return [1, 2, 3, 4, 5, 6, 7].filter((weekday) => weekday <= 5 || had.has(weekday));
}

function monthsOf(
  byDate: ReadonlyMap<string, readonly EpisodeSummary[]>,
  columns: readonly number[],
  { calendar: { language }, addresses }: PageContext,
): YearPage["months"] {
  const months = [...new Set([...byDate.keys()].map((date) => date.slice(0, 7)))].sort().reverse();
  return months.map((month) => {
    const first = DateTime.fromISO(`${month}-01`, { zone: "utc" }).setLocale(language);
    const cards = [...byDate]
      .filter(([date]) => date.startsWith(month))
      .flatMap(([, own]) => own.map(({ card }) => card))
      .reverse();
    return {
      id: `m-${month}`,
      long: first.toFormat("LLLL"),
      short: first.toFormat("LLL"),
      href: href(addresses, monthPath(month)),
      weeks: weeksOf(first, byDate, columns),
      cards,
    };
  });
}

/** The weeks of a month, newest first, that have an episode or stand between such weeks; a cell a weekday. */
function weeksOf(
  first: DateTime,
  byDate: ReadonlyMap<string, readonly EpisodeSummary[]>,
  columns: readonly number[],
): readonly (readonly (YearCell | null)[])[] {
  const weeks: (YearCell | null)[][] = [];
  for (let monday = first.startOf("week"); monday <= first.endOf("month"); monday = monday.plus({ weeks: 1 })) {
    weeks.push(columns.map((weekday) => cellOf(monday.plus({ days: weekday - 1 }), first, byDate)));
  }
  const had = (week: readonly (YearCell | null)[]) => week.some((cell) => (cell?.cards.length ?? 0) > 0);
  return weeks.slice(weeks.findIndex(had), weeks.findLastIndex(had) + 1).reverse();
}

function cellOf(
  day: DateTime,
  first: DateTime,
  byDate: ReadonlyMap<string, readonly EpisodeSummary[]>,
): YearCell | null {
  if (day.month !== first.month) return null;
  const iso = day.toFormat("yyyy-LL-dd");
  const cards: readonly EpisodeCard[] = (byDate.get(iso) ?? []).map(({ card }) => card);
  return { iso, day: day.toFormat("d"), month: day.toFormat("LLLL"), cards };
}
