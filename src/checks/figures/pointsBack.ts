import type { Sentence } from "../speech.ts";
import { type Figure, lineOf } from "./line.ts";
import { singularOf } from "./things.ts";

/** `the nine boats` speaks of boats that so many sentences before were said to be so many. */
const WITHIN = 3;
const DEFINITE = /^(?:the|those|these)$/;
/** Words after the noun that make it some of them: `the nine boats that came back`. */
const NARROWS =
  /^(?:that|who|whose|which|whom|in|on|at|from|with|of|without|left|still|lost|remaining|now|already|aboard|to|for|under|over|inside|outside|being|not|near|here|there|[a-z]+ing)$/;
/** Words of what came between that can make one number of another. */
const CHANGES =
  /^(?:some|others?|most|rest|another|joined|more|fewer|few|several|none|half|third|thirds|quarter|quarters|remaining|extra|except|both|but|added|besides|later|since|pair|couple|each)$/;

/**
 * Whether a figure with `the` goes back to one shortly before: `eleven boats left at dawn. The nine boats were …`. Not
 * where other words narrow it, or where what is said between them gives the difference. `spoken`: every sentence, in order.
 */
export function pointsBack(a: Figure, b: Figure, spoken: readonly Sentence[]): boolean {
  const away = b.sentence.index - a.sentence.index;
  if (a.kind !== "count" || a.sentence.segment !== b.sentence.segment || a.sentence.index < 0) return false;
  if (away < 1 || away > WITHIN || !isDefinite(b) || isDefinite(a)) return false;
  const noun = b.at + b.words.length;
  const [own, next] = [b.sentence.words[noun], b.sentence.words[noun + 1]];
  if (own === undefined || (singularOf(own.fold) ?? own.fold) !== b.unit) return false;
  if (own.after === "" && NARROWS.test(next?.fold ?? "")) return false;
  const between = spoken.slice(a.sentence.index, b.sentence.index + 1);
  const others = between.flatMap(({ words }) => lineOf(words).numbers.flatMap((number) => number?.value ?? []));
  if (others.includes(Math.abs(a.value - b.value)) || others.filter((value) => value === b.value).length > 1)
    return false;
  return !between.some(({ words }) => words.some(({ fold }) => CHANGES.test(fold)));
}

const isDefinite = ({ sentence: { words }, at }: Figure): boolean => {
  const [before, earlier] = [words[at - 1]?.fold ?? "", words[at - 2]?.fold ?? ""];
  if (words[at - 1]?.after !== "") return false;
  return DEFINITE.test(before) || (before === "all" && !/^(?:in|of|for|after|at)$/.test(earlier));
};
