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
  /** The number that begins with each word and ends where a word ends; null: none. */
  readonly numbers: readonly (NumberInLine | null)[];
  /** Whether a word speaks of a contest: then `three to one` is a score. */
  readonly isContest: boolean;
}

interface NumberInLine extends ReadNumber {
  /** The word after it. */
  readonly to: number;
}

/** What a reader found: which words it takes, and what they say. */
export interface Found extends Pick<Figure, "kind" | "value" | "unit" | "per" | "role"> {
  readonly from: number;
  readonly to: number;
  readonly against?: number;
  readonly date?: SaidDate;
}

const CONTEST =
  /^(?:win|wins|won|winning|beat|beats|beaten|beating|lose|loses|lost|losing|drew|draw|drawn|lead|leads|led|leading|defeat|defeated|victory|score|scored|finished|ended|trail|trailed)$/;

/** Every reader asks for numbers at every word, so they are read once. */
export function lineOf(words: readonly Word[]): Line {
  const folds = words.map(({ fold }) => fold);
  const atoms = atomsOf(folds);
  const numbers: (NumberInLine | null)[] = folds.map(() => null);
  atoms.forEach(({ word }, at) => {
    if (atoms[at - 1]?.word !== word) numbers[word] = numberIn(words, atoms, at);
  });
  return { words, folds, numbers, isContest: folds.some((fold) => CONTEST.test(fold)) };
}

function numberIn(words: readonly Word[], atoms: readonly Atom[], at: number): NumberInLine | null {
  const read = readNumber(atoms, at);
  if (read === null) return null;
  const last = atoms[at + read.length - 1];
  const next = atoms[at + read.length];
  if (last === undefined || next?.word === last.word) return null;
  // A comma, or a full stop, parts two numbers: `in 2019, 40 boats`.
  for (let n = atoms[at]?.word ?? 0; n < last.word; n++) if (/[,;:.]/.test(words[n]?.after ?? "")) return null;
  return { ...read, to: last.word + 1 };
}

/** The number that begins with the word `at`; null: none. */
export const numberAt = ({ numbers }: Line, at: number): NumberInLine | null => numbers[at] ?? null;

/** A whole number that can be a year of the calendar. */
export const isYear = (value: number): boolean => Number.isInteger(value) && value >= 1000 && value <= 2100;
