import type { Sentence } from "../speech.ts";
import { monthNamed, type SaidDate, weekdayNamed } from "./calendar.ts";
import { type Figure, type FigureKind, type Found, isYear, type Line, lineOf, numberAt } from "./line.ts";
import { atomsOf, readNumber } from "./numbers.ts";
import { readScore } from "./scores.ts";
import { readThing, type Thing } from "./things.ts";
import { readTime } from "./times.ts";

/** Every figure of the sentences, in their order. English. */
export function figuresIn(sentences: readonly Sentence[]): readonly Figure[] {
  return sentences.flatMap((sentence) => {
    const line = lineOf(sentence.words);
    const figures: Figure[] = [];
    for (let at = 0; at < sentence.words.length; ) {
      const found = readFigure(line, at);
      if (found === null) {
        at += 1;
        continue;
      }
      const { from, to, against = null, date = null, ...rest } = found;
      figures.push({ ...rest, against, date, words: sentence.words.slice(from, to), sentence, at: from });
      at = Math.max(to, at + 1);
    }
    return withChanges(figures, line);
  });
}

const READERS = [readDate, readTime, readScore, readAge, readQuantity] as const;

/** Words that begin a figure before its number: of a date, of a time of day. */
const LEADS = new Set(["the", "a", "half", "quarter"]);

/** Whether a figure can begin with a word: most can be passed over. */
function mayBegin({ folds, numbers }: Line, at: number): boolean {
  const fold = folds[at] ?? "";
  if (numbers[at] !== null || LEADS.has(fold) || /[\d-]/.test(fold)) return true;
  return weekdayNamed(fold) !== null || monthNamed(fold) !== null;
}

function readFigure(line: Line, at: number): Found | null {
  if (!mayBegin(line, at)) return null;
  for (const read of READERS) {
    const found = read(line, at);
    if (found !== null) return found;
  }
  return null;
}

/** `Monday, 5 October`, `monday the fifth of october 2026`, `October 5`. */
function readDate(line: Line, at: number): Found | null {
  const { folds } = line;
  const weekday = weekdayNamed(folds[at] ?? "");
  const start = weekday === null ? at : at + 1;
  const begins = folds[start] === "the" ? start + 1 : start;
  const dayFirst = numberAt(line, begins);
  if (dayFirst !== null && isDay(dayFirst.value)) {
    const next = folds[dayFirst.to] === "of" ? dayFirst.to + 1 : dayFirst.to;
    const month = monthNamed(folds[next] ?? "");
    if (month !== null) return dated(line, at, next + 1, { day: dayFirst.value, month, year: null, weekday });
  }
  const month = monthNamed(folds[start] ?? "");
  if (month === null || (/^(?:march|may)$/.test(folds[start] ?? "") && !/^\p{Lu}/u.test(line.words[start]?.text ?? "")))
    return null;
  const after = folds[start + 1] === "the" ? start + 2 : start + 1;
  const day = numberAt(line, after);
  return day !== null && isDay(day.value)
    ? dated(line, at, day.to, { day: day.value, month, year: null, weekday })
    : null;
}

const isDay = (value: number): boolean => Number.isInteger(value) && value >= 1 && value <= 31;

function dated(line: Line, from: number, end: number, date: SaidDate): Found {
  const year = /;|\./.test(line.words[end - 1]?.after ?? "") ? null : numberAt(line, end);
  const has = year !== null && isYear(year.value);
  const to = has ? year.to : end;
  const whole = { ...date, year: has ? year.value : null };
  return { kind: "date", value: date.day, unit: null, per: null, role: "plain", from, to, date: whole };
}

const AGE_BEFORE = /^(?:who|he|she|i|client|husband|wife|son|daughter|mother|father)$/;

/** `aged 58`, `58-year-old`, `58 years old`, `who is 58`. Years; up to 120. */
function readAge(line: Line, at: number): Found | null {
  const { folds, words } = line;
  const age = (value: number, to: number): Found | null =>
    value >= 0 && value <= 120 ? { kind: "age", value, unit: "year", per: null, role: "plain", from: at, to } : null;
  const hyphened = /^([a-z\d-]+)-years?-old$/.exec(folds[at] ?? "");
  if (hyphened !== null) {
    const read = readNumber(atomsOf([hyphened[1] ?? ""]), 0);
    return read === null ? null : age(read.value, at + 1);
  }
  const number = numberAt(line, at);
  if (number === null || number.ordinal) return null;
  if (/^years?$/.test(folds[number.to] ?? "") && folds[number.to + 1] === "old")
    return age(number.value, number.to + 2);
  if (folds[at - 1] === "aged") return age(number.value, number.to);
  const ends = words[number.to - 1]?.after !== "" || folds[number.to] === "and" || number.to === words.length;
  const is = /^(?:is|am|was)$/.test(folds[at - 1] ?? "") && AGE_BEFORE.test(folds[at - 2] ?? "");
  return is && ends ? age(number.value, number.to) : null;
}

const BEFORE_YEAR =
  /^(?:in|since|from|to|of|until|till|by|before|after|between|and|during|year|winter|summer|spring|autumn|early|late)$/;

/** What makes `one` a pronoun: `no one came`, `the one that got away`. */
const NO_NUMBER = /^(?:no|any|every|some|each|this|that|the|which|another|next)$/;

/** A number with its unit, its money, or what it counts. */
function readQuantity(line: Line, at: number): Found | null {
  const number = numberAt(line, at);
  if (number === null) return null;
  const { value, to } = number;
  const written = line.folds[at] ?? "";
  const found = (kind: FigureKind, thing: Partial<Thing> = {}): Found => ({
    kind,
    value,
    unit: thing.unit ?? null,
    per: thing.per ?? null,
    role: thing.role ?? "plain",
    from: at,
    to: thing.to ?? to,
  });
  if (number.ordinal) return /^(?:first|second)$/.test(written) ? null : found("ordinal");
  const thing = readThing(line, at, to, value);
  const isPronoun = written === "one" && to === at + 1 && (thing === null || NO_NUMBER.test(line.folds[at - 1] ?? ""));
  const bareYear = /^\d{4}$/.test(written) && isYear(value);
  if (number.year || (bareYear && (BEFORE_YEAR.test(line.folds[at - 1] ?? "") || thing === null))) return found("year");
  if (thing !== null && !isPronoun) return found(thing.kind, thing);
  return isPronoun ? null : found("number");
}

/** `from 16 sailings a week to nine`: the second number counts the same thing, and the first is what was. */
function withChanges(figures: readonly Figure[], { folds }: Line): readonly Figure[] {
  return figures.map((figure, n) => {
    const [before, after] = [figures[n - 1], figures[n + 1]];
    const isTo = (own: Figure): boolean => folds[own.at - 1] === "to";
    const isFrom = (own: Figure): boolean => folds[own.at - 1] === "from";
    if (isFrom(figure) && after !== undefined && isTo(after)) return { ...figure, role: "from" };
    if (before === undefined || !isFrom(before) || !isTo(figure)) return figure;
    const kind = figure.kind === "number" ? before.kind : figure.kind;
    return { ...figure, role: "to", kind, unit: figure.unit ?? before.unit, per: figure.per ?? before.per };
  });
}
