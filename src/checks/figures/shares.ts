import type { Sentence, Word } from "../speech.ts";
import { isYear, type Line, lineOf, numberAt } from "./line.ts";
import { atomsOf } from "./numbers.ts";
import { readThing, singularOf } from "./things.ts";

/** How near to a share the count is said to be. */
export type Nearness = "plain" | "about" | "just-under" | "under" | "just-over" | "over";

/** Words that say how much of something: `a third of the members`, or `44 of the 220 members`. */
interface OfWhole {
  readonly sentence: Sentence;
  readonly at: number;
  readonly words: readonly Word[];
  /** Of what, in the singular; null: it is not said. */
  readonly unit: string | null;
  readonly per: null;
}

/** A share as a fraction, `one in four` or a percentage. */
export interface Share extends OfWhole {
  /** Over 0, under 1. */
  readonly value: number;
  readonly isPercent: boolean;
  readonly nearness: Nearness;
  /** The number of the whole where it is said with it: 220 of `a third of the 220 members`. */
  readonly whole: number | null;
}

/** So many of so many. */
export interface Portion extends OfWhole {
  readonly part: number;
  readonly whole: number;
}

const DENOMINATORS: ReadonlyMap<string, number> = new Map(
  ["half", "third", "quarter", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"].flatMap((name, n) => [
    [name, n + 2] as const,
    [name === "half" ? "halves" : `${name}s`, n + 2] as const,
  ]),
);
const NUMERATORS: ReadonlyMap<string, number> = new Map(
  ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"].map((name, n) => [name, n + 1]),
);
const WHOSE = /^(?:the|its|his|her|their|our|my|your|all|these|those)$/;
/** `one in four`, `nine out of ten`: larger ones are counts. */
const MOST_OUT_OF = 20;

/** What can begin or hold a share or a portion, so that most sentences are passed over. */
const HINT = /^(?:of|in|percent|cent|.*%|half)$|(?:third|quarter|fifth|sixth|seventh|eighth|ninth|tenth)s?$/;

/** The shares and portions of the sentences, in their order. English. */
export function sharesIn(sentences: readonly Sentence[]): {
  readonly shares: readonly Share[];
  readonly portions: readonly Portion[];
} {
  const [shares, portions]: [Share[], Portion[]] = [[], []];
  for (const sentence of sentences) {
    if (!sentence.words.some(({ fold }) => HINT.test(fold))) continue;
    const line = lineOf(sentence.words);
    let before: Share | null = null;
    for (let at = 0; at < sentence.words.length; ) {
      const portion = portionAt(line, sentence, at);
      if (portion !== null) portions.push(portion);
      const share: Share | null = portion === null ? shareAt(line, sentence, at, before) : null;
      if (share !== null) shares.push(share);
      before = share ?? before;
      at += Math.max(1, (portion ?? share)?.words.length ?? 1);
    }
  }
  return { shares, portions };
}

/** A fraction or percentage as words `from` to before `to`. */
interface Fraction {
  readonly value: number;
  readonly isPercent: boolean;
  readonly to: number;
}

/** `before`: the share that the sentence said last; `a fifth are birches` after it is of the same. */
function shareAt(line: Line, sentence: Sentence, at: number, before: Share | null): Share | null {
  const found = fractionAt(line, at) ?? outOfAt(line, at) ?? percentAt(line, at);
  if (found === null || found.value <= 0 || found.value >= 1) return null;
  const of = wholeAt(line, found.to);
  const goesOn = before !== null && VERB.test(line.folds[found.to] ?? "");
  const isSubject = startsClause(line, at) && ACTS.test(line.folds[found.to] ?? "");
  if (of === null && !goesOn && !isSubject && !isApposed(line, at, found.to)) return null;
  return {
    sentence,
    at,
    words: sentence.words.slice(at, of?.to ?? found.to),
    value: found.value,
    isPercent: found.isPercent,
    nearness: nearnessAt(line, at),
    unit: of === null && goesOn ? before.unit : (of?.unit ?? null),
    per: null,
    whole: of?.whole ?? null,
  };
}

/** `a third`, `two-fifths`, `three quarters`; `half` before `of` or what is halved. */
function fractionAt(line: Line, at: number): Fraction | null {
  const { folds, words } = line;
  const own = folds[at] ?? "";
  const numberBefore = at > 1 && numberAt(line, at - 2) !== null;
  if (own === "half") {
    const [before, next] = [folds[at - 1] ?? "", folds[at + 1] ?? ""];
    const isAlone =
      at > 0 && words[at]?.after !== "" && (words[at - 1]?.after !== "" || /^(?:just|about|only|nearly)$/.test(before));
    const acts = startsClause(line, at) && ACTS.test(next);
    const isShare = acts || next === "of" || WHOSE.test(next) || before === "or" || isAlone;
    return isShare && !(before === "and" && numberBefore) ? { value: 1 / 2, isPercent: false, to: at + 1 } : null;
  }
  // `two and a half boats` are no half of them.
  if (folds[at - 1] === "and" && numberBefore) return null;
  const [first = "", second] = atomsOf([own]).map(({ text }) => text);
  const [name, to] = second === undefined ? [folds[at + 1] ?? "", at + 2] : [second, at + 1];
  const [over, under] = [first === "a" ? 1 : NUMERATORS.get(first), DENOMINATORS.get(name)];
  if (over === undefined || under === undefined || over >= under) return null;
  return (over === 1) === name.endsWith("s") ? null : { value: over / under, isPercent: false, to };
}

/** `one in four`, `one in every four`, `nine out of ten`. */
function outOfAt(line: Line, at: number): Fraction | null {
  const { folds } = line;
  const over = numberAt(line, at);
  if (over === null || over.ordinal) return null;
  const after =
    folds[over.to] === "in"
      ? over.to + 1
      : folds[over.to] === "out" && folds[over.to + 1] === "of"
        ? over.to + 2
        : null;
  if (after === null) return null;
  const under = numberAt(line, folds[after] === "every" ? after + 1 : after);
  if (under === null || under.ordinal || under.value > MOST_OUT_OF || !Number.isInteger(over.value)) return null;
  return { value: over.value / under.value, isPercent: false, to: under.to };
}

function percentAt(line: Line, at: number): Fraction | null {
  const number = numberAt(line, at);
  const thing = number === null || number.ordinal ? null : readThing(line, at, number.to, number.value);
  return number === null || thing?.kind !== "percent"
    ? null
    : { value: number.value / 100, isPercent: true, to: thing.to };
}

/** `of the members`, `of its 220 members`, `the members`, `members`: what a share is of. */
function wholeAt(line: Line, at: number): { unit: string | null; whole: number | null; to: number } | null {
  const { folds, words } = line;
  if (words[at - 1]?.after !== "") return null;
  const isOf = folds[at] === "of";
  let next = isOf ? at + 1 : at;
  next = after(WHOSE, folds, next);
  if (isOf && /^(?:them|us|you|these|those)$/.test(folds[at + 1] ?? "")) return { unit: null, whole: null, to: at + 2 };
  const number = numberAt(line, next);
  if (number !== null && !number.ordinal) {
    const thing = readThing(line, next, number.to, number.value);
    if (thing !== null && thing.kind !== "count") return null;
    return { unit: thing?.unit ?? null, whole: number.value, to: nounEnd(line, number.to, thing?.unit ?? null) };
  }
  for (let n = next; n < next + 3; n++) {
    const unit = singularOf(folds[n] ?? "");
    if (unit !== null) return { unit, whole: null, to: n + 1 };
    if (words[n]?.after !== "" || !/^[a-z'-]{3,}$/.test(folds[n] ?? "") || ENDS.test(folds[n] ?? "")) return null;
  }
  return null;
}

const VERB = /^(?:is|are|was|were|have|has|had|will|would|did|do|voted|said|went|came|chose|want|wanted|backed)$/;
/** What people do, behind a share that stands alone: `A third voted against it`. A third man does not. */
const ACTS = new RegExp(`${VERB.source}|^(?:stayed|took|gave|left|say|think|know|knew|[a-z]{3,}ed)$`);
const ENDS =
  /^(?:was|were|are|has|have|had|that|who|which|and|but|for|from|with|in|on|at|to|of|said|say|the|than|will)$/;

/** The word after the noun that a number counts; `at` where there is none. */
function nounEnd({ folds }: Line, at: number, unit: string | null): number {
  if (unit === null) return at;
  for (let n = at; n < at + 4; n++) if (singularOf(folds[n] ?? "") === unit || folds[n] === unit) return n + 1;
  return at;
}

/** Whether a share stands between stops: `44 of the 220 members, a third, left`; `44 of 220, or one in five`. */
function isApposed({ folds, words }: Line, at: number, to: number): boolean {
  let first = at;
  while (first > at - MOST_LEADS && first > 0 && LEADS.test(folds[first - 1] ?? "") && words[first - 1]?.after === "")
    first -= 1;
  const opened = words[first - 1]?.after !== "" || /^(?:or|is|be)$/.test(folds[first - 1] ?? "");
  return first > 0 && opened && (to === words.length || words[to - 1]?.after !== "");
}

/** So many words may stand before a share between stops, or between a number and what it is of. */
const MOST_LEADS = 4;
const LEADS = /^(?:just|only|about|around|roughly|nearly|almost|under|over|more|less|than|well|some|or|exactly)$/;

/** Whether a sentence, or what follows a stop in it, begins with a share, or with words that say how near it is. */
export function startsClause({ folds, words }: Pick<Line, "folds" | "words">, at: number): boolean {
  let first = at;
  while (first > 0 && LEADS.test(folds[first - 1] ?? "") && words[first - 1]?.after === "") first -= 1;
  if (/^(?:and|but)$/.test(folds[first - 1] ?? "")) first -= 1;
  return first === 0 || words[first - 1]?.after !== "";
}

function nearnessAt({ folds }: Line, at: number): Nearness {
  const [before, earlier] = [folds[at - 1] ?? "", folds[at - 2] ?? ""];
  if (/^(?:about|around|roughly|approximately|some|say)$/.test(before) || (before === "to" && earlier === "close"))
    return "about";
  if (/^(?:nearly|almost|quite)$/.test(before)) return "just-under";
  if (/^(?:under|below)$/.test(before)) return earlier === "just" ? "just-under" : "under";
  if (/^(?:over|above)$/.test(before)) return earlier === "just" ? "just-over" : "over";
  if (before === "least" || (before === "than" && earlier === "more")) return folds[at - 3] === "no" ? "under" : "over";
  if (before === "most" || (before === "to" && earlier === "up")) return "under";
  return before === "than" && /^(?:less|fewer)$/.test(earlier) ? (folds[at - 3] === "no" ? "over" : "under") : "plain";
}

/** `44 of the 220 members`, `44 members out of 220`, `of the 220 members, 44`. */
function portionAt(line: Line, sentence: Sentence, at: number): Portion | null {
  const { folds, words } = line;
  if (folds[at] === "of") return ofTheWhole(line, sentence, at);
  const part = numberAt(line, at);
  if (part === null || part.ordinal || part.year || (/^\d{4}$/.test(folds[at] ?? "") && isYear(part.value)))
    return null;
  const own = closes(words[part.to - 1]) ? null : singularOf(folds[part.to] ?? "");
  let next = own === null ? part.to : part.to + 1;
  const isOut = folds[next] === "out";
  if (isOut) next += 1;
  if (folds[next] !== "of" || (own !== null && !isOut)) return null;
  next += 1;
  const isPlainOf = !WHOSE.test(folds[next] ?? "");
  next = after(WHOSE, folds, next);
  const whole = numberAt(line, next);
  if (whole === null || !isPortion(part.value, whole.value) || whole.ordinal || whole.year) return null;
  // `nine out of ten members` is a share; `9 of 10 members` a portion.
  if (isOut && isPlainOf && whole.value <= MOST_OUT_OF) return null;
  const thing = readThing(line, next, whole.to, whole.value);
  if (thing !== null && thing.kind !== "count") return null;
  const unit = thing?.unit ?? own;
  const to = nounEnd(line, whole.to, thing?.unit ?? null);
  return { sentence, at, words: words.slice(at, to), part: part.value, whole: whole.value, unit, per: null };
}

function ofTheWhole(line: Line, sentence: Sentence, at: number): Portion | null {
  const { folds, words } = line;
  if (at > 0 && words[at - 1]?.after === "" && !/^(?:and|but|so)$/.test(folds[at - 1] ?? "")) return null;
  let next = at + 1;
  next = after(WHOSE, folds, next);
  const whole = numberAt(line, next);
  if (whole === null || whole.ordinal || whole.year) return null;
  const thing = readThing(line, next, whole.to, whole.value);
  if (thing?.kind !== "count") return null;
  const end = nounEnd(line, whole.to, thing.unit);
  if (words[end - 1]?.after !== ",") return null;
  const begins = after(/^(?:only|just|some|but|all)$/, folds, end);
  const part = numberAt(line, begins);
  if (part === null || part.ordinal || !isPortion(part.value, whole.value)) return null;
  const counted = readThing(line, begins, part.to, part.value);
  if (counted !== null && counted.unit !== thing.unit) return null;
  return {
    sentence,
    at,
    words: words.slice(at, part.to),
    part: part.value,
    whole: whole.value,
    unit: thing.unit,
    per: null,
  };
}

/** `a quarter of the 80 beds, 30 beds, are empty`: the number between stops after a share of a number. */
export function apposedTo({ sentence, at, words: own, whole, unit }: Share): readonly Portion[] {
  const { words } = sentence;
  const end = at + own.length;
  if (whole === null || words[end - 1]?.after !== ",") return [];
  const line = lineOf(words);
  const start = after(/^(?:or|that|is|just|only|some|about)$/, line.folds, end);
  const part = numberAt(line, start);
  if (part === null || part.ordinal || !isPortion(part.value, whole)) return [];
  const to = unit === null ? part.to : nounEnd(line, part.to, unit);
  const ofThem = line.folds[to] === "of" && line.folds[to + 1] === "them" ? to + 2 : to;
  if (ofThem < words.length && words[ofThem - 1]?.after === "") return [];
  return [{ sentence, at: start, words: words.slice(start, ofThem), part: part.value, whole, unit, per: null }];
}

/** The first word from `at` on that is none of some kind; it goes past a few. */
function after(kind: RegExp, folds: readonly string[], at: number): number {
  let next = at;
  while (next < at + MOST_LEADS && kind.test(folds[next] ?? "")) next += 1;
  return next;
}

const closes = (word: Word | undefined): boolean => word === undefined || word.after !== "";
const isPortion = (part: number, whole: number): boolean =>
  Number.isInteger(part) && Number.isInteger(whole) && part > 0 && part < whole && whole >= 4;
