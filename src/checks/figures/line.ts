import type { Sentence, Word } from "../speech.ts";
import type { SaidDate } from "./calendar.ts";
import { type Atom, atomsOf, type ReadNumber, readNumber } from "./numbers.ts";

export const FIGURE_KINDS = [
  "count",
  "money",
  "percent",
  "measure",
  "date",
  "time",
  "score",
  "age",
  "year",
  "ordinal",
  "number",
] as const;
export type FigureKind = (typeof FIGURE_KINDS)[number];

/**
 * How a figure stands to what it counts: `from` and `to` are the two ends of a change, `part` is some of a whole (“two
 * of the sailings”), `change` is so many more, fewer or others.
 */
export type FigureRole = "plain" | "from" | "to" | "part" | "change";

export interface Figure {
  readonly kind: FigureKind;
  /** A time of day: minutes past midnight. A score: the first number. A date: the day of the month. */
  readonly value: number;
  /** The second number of a score; else null. */
  readonly against: number | null;
  readonly date: SaidDate | null;
  /** The unit, the money, or the thing counted, in the singular; null: a bare number. */
  readonly unit: string | null;
  /** Of a rate: what it is counted for each of, in the singular. */
  readonly per: string | null;
  readonly role: FigureRole;
  readonly words: readonly Word[];
  readonly sentence: Sentence;
  /** Which word of the sentence it begins with. */
  readonly at: number;
}

/** A sentence as its readers see it. */
export interface Line {
  readonly words: readonly Word[];
  readonly folds: readonly string[];
  readonly atoms: readonly Atom[];
  /** The first atom of each word; -1 where it has none. */
  readonly atomOf: readonly number[];
}

/** What a reader found: which words it takes, and what they say. */
export interface Found extends Pick<Figure, "kind" | "value" | "unit" | "per" | "role"> {
  readonly from: number;
  readonly to: number;
  readonly against?: number;
  readonly date?: SaidDate;
}

export function lineOf(words: readonly Word[]): Line {
  const folds = words.map(({ fold }) => fold);
  const atoms = atomsOf(folds);
  const atomOf = folds.map(() => -1);
  atoms.forEach(({ word }, at) => {
    if (atomOf[word] === -1) atomOf[word] = at;
  });
  return { words, folds, atoms, atomOf };
}

/** A number that begins with the word `at` and ends where a word ends; `to` is the word after it. */
export function numberAt(line: Line, at: number): (ReadNumber & { readonly to: number }) | null {
  const start = line.atomOf[at] ?? -1;
  const read = start === -1 ? null : readNumber(line.atoms, start);
  if (read === null) return null;
  const last = line.atoms[start + read.length - 1];
  const next = line.atoms[start + read.length];
  if (last === undefined || next?.word === last.word) return null;
  // A comma, or a full stop, parts two numbers: `in 2019, 40 boats`.
  const broken = line.words.slice(at, last.word).findIndex(({ after }) => /[,;:.]/.test(after));
  if (broken !== -1) return null;
  return { ...read, to: last.word + 1 };
}

/** A whole number that can be a year of the calendar. */
export const isYear = (value: number): boolean => Number.isInteger(value) && value >= 1000 && value <= 2100;
