import { DateTime } from "luxon";

/** The day that a site is built for. */
export interface SiteDay {
  /** Local date, `2026-10-06`. */
  readonly date: string;
  /** The last moment that counts, ISO 8601 with offset. */
  readonly until: string;
}

/** Today up to this moment, or the whole of the date that was asked for; null when `on` is no date. */
export function siteDay(on: string | null, now: Date, zone: string): SiteDay | null {
  if (on === null) {
    const moment = DateTime.fromJSDate(now, { zone });
    return { date: moment.toFormat("yyyy-LL-dd"), until: isoOf(moment) };
  }
  const day = /^\d{4}-\d{2}-\d{2}$/.test(on) ? DateTime.fromISO(on, { zone }) : null;
  return day?.isValid ? { date: on, until: isoOf(day.endOf("day")) } : null;
}

const isoOf = (moment: DateTime): string => moment.toISO() ?? moment.toMillis().toString();
