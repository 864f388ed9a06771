import type { Sentence, Word } from "../speech.ts";
import type { Figure } from "./line.ts";
import { type Line, lineOf, numberAt } from "./line.ts";
import { metresIn, speedIn, unitNamed } from "./units.ts";

/** Times that are compared with one another: nobody walks or sails all day long, so days are not turned into hours. */
export type Pace = "clock" | "day" | "week";

interface Moving {
  readonly sentence: Sentence;
  readonly at: number;
  readonly words: readonly Word[];
  readonly unit: string;
  readonly per: null;
  readonly pace: Pace;
  /** Metres a second, or a day, or a week. */
  readonly speed: number;
}

/** So much each hour. */
export interface Speed extends Moving {
  readonly figure: Figure;
}

/** So far in so long. */
export interface Journey extends Moving {
  readonly metres: number;
  /** In seconds, or days, or weeks. */
  readonly time: number;
}

interface Span {
  readonly time: number;
  readonly pace: Pace;
  readonly to: number;
}

const PACES: ReadonlyMap<string, readonly [Pace, number]> = new Map([
  ["second", ["clock", 1]],
  ["minute", ["clock", 60]],
  ["hour", ["clock", 3600]],
  ["day", ["day", 1]],
  ["week", ["week", 1]],
]);

/** A speed that a figure says: `25 knots`, `3.5 kilometres every hour`; null: none. */
export function speedOf(figure: Figure): Speed | null {
  const { kind, unit, per, value, role, sentence, at, words } = figure;
  if (kind !== "measure" || unit === null || role !== "plain" || value <= 0) return null;
  const own = speedIn(unit);
  const moving = { sentence, at, words, unit, per: null, figure };
  if (own !== undefined) return per === null ? { ...moving, pace: "clock", speed: value * own } : null;
  const [metres, each] = [metresIn(unit), per === null ? undefined : PACES.get(per)];
  if (metres === undefined || each === undefined) return null;
  return { ...moving, pace: each[0], speed: (value * metres) / each[1] };
}

/** Words between a distance and the time it took. */
const BETWEEN = 8;

/**
 * The journeys of the distances of one sentence: `twelve kilometres in two hours`, `twelve kilometres took two hours`,
 * `in two hours it covers twelve kilometres`, `it took two hours to cover the twelve kilometres`.
 */
export function journeysOf(figures: readonly Figure[]): readonly Journey[] {
  const [any] = figures;
  if (any === undefined) return [];
  const distances = figures.filter(
    ({ kind, unit, per, role, value }) =>
      kind === "measure" && per === null && role === "plain" && value > 0 && metresIn(unit ?? "") !== undefined,
  );
  if (distances.length === 0) return [];
  const line = lineOf(any.sentence.words);
  return distances.flatMap((figure) => {
    const found = timeAfter(line, figure) ?? timeBefore(line, figure);
    if (found === null) return [];
    const { value, unit, sentence, at, words } = figure;
    const [from, to] = [Math.min(at, found.from), Math.max(at + words.length, found.to)];
    const metres = value * (metresIn(unit ?? "") ?? 0);
    return [
      {
        sentence,
        at: from,
        words: sentence.words.slice(from, to),
        unit: unit ?? "",
        per: null,
        pace: found.pace,
        time: found.time,
        metres,
        speed: metres / found.time,
      },
    ];
  });
}

type Timed = Span & { readonly from: number };

function timeAfter(line: Line, { at, words }: Figure): Timed | null {
  const { folds } = line;
  const end = at + words.length;
  const isCovered = folds.slice(Math.max(0, at - BETWEEN), at).some((fold) => COVERS.test(fold));
  for (let n = end; n <= end + BETWEEN && n < folds.length; n++) {
    const fold = folds[n] ?? "";
    if (/[.;:!?]/.test(line.words[n - 1]?.after ?? "") || (n > end && isMeasure(line, n)) || PARTED.test(fold))
      return null;
    if (!(isCovered && /^(?:in|within)$/.test(fold)) && !/^(?:took|takes|take|lasted)$/.test(fold)) continue;
    const rough = NEARLY.test(folds[n + 1] ?? "") ? 2 : 1;
    const span = spanAt(line, n + rough);
    if (span !== null) return { ...span, from: n };
  }
  return null;
}

/** Words between a distance and a time that make them two things: `20 metres away and was back in an hour`. */
const PARTED = /^(?:and|but|is|are|was|were|be|been|will|away|off|deep|long|high|wide|apart|when|while|who|that)$/;
const NEARLY = /^(?:about|just|only|under|nearly|almost|around|over|exactly)$/;

const isMeasure = ({ folds }: Line, at: number): boolean =>
  metresIn(unitNamed(folds[at] ?? "")?.name ?? "") !== undefined;

function timeBefore(line: Line, { at, words: own }: Figure): Timed | null {
  const { folds, words } = line;
  const end = at + own.length;
  for (let n = at - 1; n >= Math.max(0, at - BETWEEN - 4); n--) {
    if (/[.;:!?]/.test(words[n]?.after ?? "") || isMeasure(line, n)) return null;
    const lead = folds[n] ?? "";
    if (!/^(?:in|after|took|takes|take)$/.test(lead)) continue;
    let start = n + 1;
    if (/^(?:him|her|them|us|me|it)$/.test(folds[start] ?? "")) start += 1;
    if (/^(?:about|just|only|nearly|almost|around|every|each)$/.test(folds[start] ?? "")) start += 1;
    const span = spanAt(line, start);
    if (span === null || span.to > at) continue;
    // `took two hours to row the twelve kilometres`; not `after two hours, a boat five kilometres off`.
    const between = folds.slice(span.to, at);
    const said = [...between, folds[end] ?? ""];
    const isTold = lead === "in" || lead === "after" ? said.some((fold) => COVERS.test(fold)) : between[0] === "to";
    return isTold ? { ...span, from: n } : null;
  }
  return null;
}

const COVERS =
  /^(?:cover|cross|travel|sail|swim|swam|swum|row|walk|run|ran|drift|carr|go$|goes$|gone$|going$|went$|mov(?:e|ing)|driv|drove|rid(?:e|ing)|rode|cycl|march|fly|flies|flew|mak(?:e|ing)|made$|do$|does$|did$|done$|crawl|paddl|spread|slid|climb|rac(?:e|ing)|steam|tow|push|advanc|creep|crept|grow|grew|rise|rising|rose$|shr[iau]nk|manag|complet|finish|com(?:e|ing)|came$|fell$|falls?$|fallen$)/;

/** A time that begins with a word: `two and a half hours`, `an hour and twenty minutes`, `half an hour`. */
export function spanAt(line: Line, at: number): Span | null {
  const first = simpleAt(line, at);
  if (first === null || first.pace !== "clock") return first;
  const { folds, words } = line;
  const next = folds[first.to] === "and" ? first.to + 1 : first.to;
  if (/[.;:!?]/.test(words[first.to - 1]?.after ?? "")) return first;
  const part = PARTS.get([folds[next], folds[next + 1]].join(" "));
  if (part !== undefined && next > first.to && first.unit > 1)
    return { ...first, time: first.time + part * first.unit, to: next + 2 };
  const second = simpleAt(line, next);
  return second !== null && second.pace === "clock" && second.unit < first.unit
    ? { ...first, time: first.time + second.time, to: second.to }
    : first;
}

const PARTS: ReadonlyMap<string, number> = new Map([
  ["a half", 1 / 2],
  ["a quarter", 1 / 4],
  ["three quarters", 3 / 4],
]);

/** A number and a unit of time. `unit`: how long that unit is. */
function simpleAt(line: Line, at: number): (Span & { readonly unit: number }) | null {
  const { folds } = line;
  const made = (value: number, name: string, to: number) => {
    const pace = PACES.get(unitNamed(name)?.name ?? "");
    return pace === undefined ? null : { pace: pace[0], time: value * pace[1], unit: pace[1], to };
  };
  const said = folds.slice(at, at + 5).join(" ");
  const part = /^(half an?|a quarter of an|three quarters of an) (hour|minute|day)\b/.exec(said);
  if (part !== null) {
    const value = part[1]?.startsWith("half") ? 0.5 : part[1]?.startsWith("a") ? 0.25 : 0.75;
    return made(value, part[2] ?? "", at + (part[1]?.split(" ").length ?? 0) + 1);
  }
  if (/^an?$/.test(folds[at] ?? "")) return made(1, folds[at + 1] ?? "", at + 2);
  const number = numberAt(line, at);
  return number === null || number.ordinal || number.value <= 0
    ? null
    : made(number.value, folds[number.to] ?? "", number.to + 1);
}
