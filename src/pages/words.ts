import { DateTime } from "luxon";
import type { Caution, SegmentKind } from "../model/episode.ts";
import { grouped } from "../model/grouped.ts";
import { segmentKindName } from "../model/kinds.ts";
import type { CautionText, Day } from "./types.ts";

/** The kind's name where the title doesn't say it already. */
export function kindBeside(kind: SegmentKind, title: string): string | null {
  const name = segmentKindName(kind);
  return title.toLowerCase() === name.toLowerCase() ? null : name;
}

const CAUTIONS: Readonly<Record<Caution, Omit<CautionText, "caution">>> = {
  court: {
    label: "Court case",
    says: "This segment reports on a case before a court as it stood when it was broadcast; anyone accused is presumed innocent unless a court finds otherwise.",
  },
  "self-harm": {
    label: "Self-harm",
    says: "This segment speaks of suicide or self-harm; if it touches you, your doctor, the emergency services or a local helpline can help now.",
  },
  minors: {
    label: "Children",
    says: "This segment concerns children, whose privacy is protected; please think before passing it on.",
  },
  graphic: {
    label: "Distressing",
    says: "This segment describes injury or violence that some people may find distressing.",
  },
};
/** The label before a segment and its sentence. Common practice, no source; the station's own code goes before. */
export const cautionText = (caution: Caution): CautionText => ({ caution, ...CAUTIONS[caution] });

/** Sets times in the programme's zone and language. */
export interface Calendar {
  readonly zone: string;
  readonly language: string;
}

const at = (iso: string, { zone, language }: Calendar): DateTime =>
  DateTime.fromISO(iso, { setZone: false, zone }).setLocale(language);

/** Pages show the same few dates many times, and to set one takes as long as to set a paragraph. */
const MOST_KNOWN = 20_000;

function remembered<T>(set: (iso: string, calendar: Calendar) => T): (iso: string, calendar: Calendar) => T {
  const known = new Map<string, T>();
  return (iso, calendar) => {
    const key = `${iso} ${calendar.zone} ${calendar.language}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    if (known.size >= MOST_KNOWN) known.clear();
    const now = set(iso, calendar);
    known.set(key, now);
    return now;
  };
}

export const dayOf = remembered((iso, calendar): Day => {
  const day = at(iso, calendar);
  return {
    iso,
    long: day.toFormat("cccc d LLLL yyyy"),
    weekday: day.toFormat("ccc"),
    day: day.toFormat("d"),
    month: day.toFormat("LLL"),
    year: day.toFormat("yyyy"),
  };
});

/** The time of day, `18:30`. */
export const timeOf = remembered((iso, calendar) => at(iso, calendar).toFormat("H:mm"));

/** The time of day of each moment whose day another of them has too, for those that a day alone doesn't tell apart; else null. */
export function timesOfTwins(aired: readonly string[], calendar: Calendar): readonly (string | null)[] {
  const byDay = grouped([...new Set(aired)], (iso) => dayOf(iso, calendar).long);
  return aired.map((iso) => ((byDay.get(dayOf(iso, calendar).long)?.length ?? 0) > 1 ? timeOf(iso, calendar) : null));
}

/** `6 October 2026`. */
export const dateLong = remembered((iso, calendar) => at(iso, calendar).toFormat("d LLLL yyyy"));
/** The ways in which the moment of a correction is shown, all of which its pages and lists need. */
const moment = remembered((iso, calendar) => {
  const own = at(iso, calendar);
  return {
    long: own.toFormat("d LLLL yyyy, H:mm"),
    short: own.toFormat("d LLL"),
    time: own.toFormat("H:mm"),
    year: own.toFormat("yyyy"),
    day: own.toFormat("d LLLL"),
  };
});
/** `6 October 2026, 9:40`. */
export const momentLong = (iso: string, calendar: Calendar): string => moment(iso, calendar).long;
/** `6 Oct`. */
export const dateShort = (iso: string, calendar: Calendar): string => moment(iso, calendar).short;
/** `9:40`. */
export const timeShort = (iso: string, calendar: Calendar): string => moment(iso, calendar).time;
/** `2026-10`, and its title `October 2026`. */
export const monthOf = remembered((iso, calendar) => at(iso, calendar).toFormat("yyyy-LL"));
export const monthTitle = remembered((month, { language }) =>
  DateTime.fromISO(`${month}-01`, { zone: "utc" }).setLocale(language).toFormat("LLLL yyyy"),
);
/** `6 October`, with the year where it differs from `besideYear`. */
export function dateBeside(iso: string, besideYear: string, calendar: Calendar): string {
  const { day, year } = moment(iso, calendar);
  return year === besideYear ? day : `${day} ${year}`;
}

/** `1 correction`, `4,207 editions`. */
export const countedInFigures = (count: number, one: string, many: string): string =>
  `${count.toLocaleString("en-GB")} ${count === 1 ? one : many}`;
