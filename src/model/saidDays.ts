/** Days as people name them in a question, in English; pure: today is an argument. */

/** A day, or several, that a question names. */
export interface NamedDays {
  /** ISO dates, first and last. */
  readonly from: string;
  readonly to: string;
  /** As it is said, where a day of a month is named: `6 october`, in every order; none for what is counted from today. */
  readonly said: readonly string[];
  /** How many of the words name it. */
  readonly length: number;
}

const MONTHS = "january february march april may june july august september october november december".split(" ");
const WEEKDAYS = "sunday monday tuesday wednesday thursday friday saturday".split(" ");
const ORDINALS = (
  "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth " +
  "sixteenth seventeenth eighteenth nineteenth twentieth twenty-first twenty-second twenty-third twenty-fourth " +
  "twenty-fifth twenty-sixth twenty-seventh twenty-eighth twenty-ninth thirtieth thirty-first"
).split(" ");

/** Meteorological seasons: the months that each begins and ends with. */
const SEASONS = new Map([
  ["spring", [3, 5]],
  ["summer", [6, 8]],
  ["autumn", [9, 11]],
  ["fall", [9, 11]],
  ["winter", [12, 2]],
] as const satisfies readonly (readonly [string, readonly [number, number]])[]);

const DAY_MS = 86_400_000;
const isoOf = (ms: number): string => new Date(ms).toISOString().slice(0, 10);
const msOf = (iso: string): number => Date.parse(`${iso}T00:00:00Z`);
const shift = (iso: string, days: number): string => isoOf(msOf(iso) + days * DAY_MS);
const dayOf = (year: number, month: number, day: number): string | null => {
  const made = new Date(Date.UTC(year, month - 1, day));
  return made.getUTCMonth() === month - 1 && made.getUTCDate() === day ? isoOf(made.getTime()) : null;
};

/**
 * Reads the longest naming of days that begins at word `at`; null when none does. Without a year, the last such day up to
 * today is meant; figures alone are read with the day first, as the British write them, unless that is no day.
 * @param words in small letters, without punctuation at their ends. @param today ISO date.
 */
export function readDays(words: readonly string[], at: number, today: string): NamedDays | null {
  const weekday = weekdayAt(words, at);
  // The weekday of a date adds nothing to it.
  const after = weekday === null ? at : at + 1;
  const dated = readFigures(words, at) ?? readDate(words, after, today);
  if (dated !== null) return { ...dated, length: dated.length + (dated.said.length > 0 ? after - at : 0) };
  return readCounted(words, at, today) ?? readMonth(words, at, today) ?? readWeekday(words, at, today);
}

/** `2026-10-07`, `5/10/2026`, `5.10.26`. */
function readFigures(words: readonly string[], at: number): NamedDays | null {
  const text = words[at] ?? "";
  const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/.exec(text);
  const own = /^(\d{1,2})[-/.](\d{1,2})[-/.](\d{2}|\d{4})$/.exec(text);
  const [first, second, third] = (iso ?? own)?.slice(1).map(Number) ?? [];
  if (first === undefined || second === undefined || third === undefined) return null;
  const year = third < 100 ? 2000 + third : third;
  const day = iso === null ? (dayOf(year, second, first) ?? dayOf(year, first, second)) : dayOf(first, second, third);
  return day === null ? null : { ...oneDay(day), said: sayings(day), length: 1 };
}

/** `6 October`, `October 6th, 2026`, `the sixth of October`. */
function readDate(words: readonly string[], from: number, today: string): NamedDays | null {
  const at = words[from] === "the" ? from + 1 : from;
  const [day, joined] = [dayNumber(words[at]), words[at + 1] === "of" ? at + 2 : at + 1];
  const monthFirst = monthNumber(words[at]);
  const afterMonth = words[at + 1] === "the" ? at + 2 : at + 1;
  const found =
    day !== null && monthNumber(words[joined]) !== null
      ? { day, month: monthNumber(words[joined]) ?? 1, end: joined + 1 }
      : monthFirst !== null && dayNumber(words[afterMonth]) !== null
        ? { day: dayNumber(words[afterMonth]) ?? 1, month: monthFirst, end: afterMonth + 1 }
        : null;
  if (found === null) return null;
  const year = yearAt(words, found.end);
  const iso = year === null ? lastOf(found.month, found.day, today) : dayOf(year, found.month, found.day);
  if (iso === null) return null;
  return { ...oneDay(iso), said: sayings(iso), length: found.end + (year === null ? 0 : 1) - from };
}

/** `yesterday`, `last night`, `last week`, `two weeks ago`, `last autumn`. */
function readCounted(words: readonly string[], at: number, today: string): NamedDays | null {
  const [first = "", second = "", third = ""] = words.slice(at, at + 3);
  const one = (day: string, length: number) => ({ ...oneDay(day), said: [], length });
  if (first === "today" || first === "tonight") return one(today, 1);
  if (first === "yesterday") return one(shift(today, -1), 1);
  if (/^(?:last|past|this)$/.test(first)) {
    const back = first === "this" ? 0 : 1;
    if (second === "night" || second === "evening") return one(shift(today, -back), 2);
    if (second === "week") {
      const monday = shift(today, -((weekdayNumber(today) + 6) % 7) - 7 * back);
      return { from: monday, to: shift(monday, 6), said: [], length: 2 };
    }
    if (second === "month") {
      const month = new Date(msOf(`${today.slice(0, 7)}-01`));
      month.setUTCMonth(month.getUTCMonth() - back);
      return { ...monthOf(month.getUTCFullYear(), month.getUTCMonth() + 1), said: [], length: 2 };
    }
    if (second === "year") {
      const year = String(Number(today.slice(0, 4)) - back);
      return { from: `${year}-01-01`, to: `${year}-12-31`, said: [], length: 2 };
    }
    const season = seasonBefore(second, today);
    if (season !== null) return { ...season, said: [], length: 2 };
  }
  const count = /^an?$/.test(first) ? 1 : countOf(first);
  if (count !== null && third === "ago") {
    if (/^days?$/.test(second)) return one(shift(today, -count), 3);
    if (/^weeks?$/.test(second)) return one(shift(today, -7 * count), 3);
  }
  return null;
}

/** `October`, `October 2026`, `last October`: a month that is under way or over. `may` alone is a verb. */
function readMonth(words: readonly string[], from: number, today: string): NamedDays | null {
  const at = /^(?:last|in|this)$/.test(words[from] ?? "") ? from + 1 : from;
  const [month, year] = [monthNumber(words[at]), yearAt(words, at + 1)];
  if (month === null || (/^(?:may|march)$/.test(words[at] ?? "") && year === null && at === from)) return null;
  const now = { year: Number(today.slice(0, 4)), month: Number(today.slice(5, 7)) };
  const own = year ?? (month > now.month ? now.year - 1 : now.year);
  return { ...monthOf(own, month), said: [], length: at + (year === null ? 1 : 2) - from };
}

/** `last Tuesday`, `on Tuesday`: the last one before today. */
function readWeekday(words: readonly string[], from: number, today: string): NamedDays | null {
  const at = /^(?:last|on|this)$/.test(words[from] ?? "") ? from + 1 : from;
  const weekday = weekdayAt(words, at);
  if (weekday === null) return null;
  const back = (weekdayNumber(today) - weekday + 7) % 7 || 7;
  return { ...oneDay(shift(today, -back)), said: [], length: at + 1 - from };
}

const oneDay = (day: string) => ({ from: day, to: day });
const weekdayNumber = (iso: string): number => new Date(msOf(iso)).getUTCDay();
const indexOrNull = (index: number): number | null => (index < 0 ? null : index);

const weekdayAt = (words: readonly string[], at: number): number | null =>
  indexOrNull(WEEKDAYS.indexOf(words[at] ?? ""));

/** From 1; by its first three letters too. */
function monthNumber(word = ""): number | null {
  const short = word === "sept" ? "sep" : word;
  const month = MONTHS.findIndex((name) => name === word || (short.length === 3 && name.startsWith(short)));
  return month < 0 ? null : month + 1;
}

/** `6`, `6th`, `sixth`. */
function dayNumber(word = ""): number | null {
  const figure = /^(\d{1,2})(?:st|nd|rd|th)?$/.exec(word);
  const day = figure === null ? ORDINALS.indexOf(word) + 1 : Number(figure[1]);
  return day >= 1 && day <= 31 ? day : null;
}

const COUNTS = ["one", "two", "three", "four", "five", "six"];
const countOf = (word: string): number | null =>
  /^\d{1,3}$/.test(word) ? Number(word) : indexOrNull(COUNTS.indexOf(word)) === null ? null : COUNTS.indexOf(word) + 1;

const yearAt = (words: readonly string[], at: number): number | null =>
  /^(?:19|20)\d\d$/.test(words[at] ?? "") ? Number(words[at]) : null;

/** This year's, where it is at most a month ahead: a timetable, a hearing; else the last one. */
function lastOf(month: number, day: number, today: string): string | null {
  const year = Number(today.slice(0, 4));
  const own = dayOf(year, month, day);
  return own !== null && own > shift(today, 31) ? dayOf(year - 1, month, day) : own;
}

function monthOf(year: number, month: number): { readonly from: string; readonly to: string } {
  return { from: isoOf(Date.UTC(year, month - 1, 1)), to: isoOf(Date.UTC(year, month, 0)) };
}

/** The last such season that has begun. */
function seasonBefore(name: string, today: string): { readonly from: string; readonly to: string } | null {
  const [first, last] = [...SEASONS].find(([season]) => season === name)?.[1] ?? [];
  if (first === undefined || last === undefined) return null;
  const year = Number(today.slice(0, 4));
  const begun = isoOf(Date.UTC(year, first - 1, 1)) <= today ? year : year - 1;
  return {
    from: isoOf(Date.UTC(begun, first - 1, 1)),
    to: isoOf(Date.UTC(begun + (last < first ? 1 : 0), last, 0)),
  };
}

/** A day in the ways that programmes say and write it. */
function sayings(iso: string): readonly string[] {
  const [day, month] = [Number(iso.slice(8)), MONTHS[Number(iso.slice(5, 7)) - 1] ?? ""];
  const ordinal = ORDINALS[day - 1] ?? "";
  return [`${day} ${month}`, `${month} ${day}`, `${ordinal} of ${month}`];
}
