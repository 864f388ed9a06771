import type { Sentence } from "../speech.ts";
import { type Figure, lineOf, numberAt } from "./line.ts";
import { singularOf } from "./things.ts";

/** `the nine boats` speaks of boats that so many sentences before were said to be so many. */
const WITHIN = 3;
/** A sentence of more words is none, but a transcript without stops. */
const LONG = 80;
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
  if (away < 1 || away > WITHIN || !isDefinite(b) || isDefinite(a) || isPart(a)) return false;
  const noun = b.at + b.words.length;
  const [own, next] = [b.sentence.words[noun], b.sentence.words[noun + 1]];
  if (own === undefined || (singularOf(own.fold) ?? own.fold) !== b.unit) return false;
  if (own.after === "" && NARROWS.test(next?.fold ?? "")) return false;
  const between = spoken.slice(a.sentence.index, b.sentence.index + 1);
  if (between.some(({ words }) => words.length > LONG)) return false;
  const others = between.flatMap((sentence) => numbersIn(sentence, [a, b]));
  if (others.includes(Math.abs(a.value - b.value)) || others.includes(b.value)) return false;
  return !between.some(({ words }) => words.some(({ fold }) => CHANGES.test(fold)));
}

/** The numbers of a sentence but for those of some figures. */
function numbersIn(sentence: Sentence, without: readonly Figure[]): readonly number[] {
  const line = lineOf(sentence.words);
  const found: number[] = [];
  for (let at = 0; at < sentence.words.length; ) {
    const number = numberAt(line, at);
    const isOwn = without.some((figure) => figure.sentence === sentence && figure.at === at);
    if (number !== null && !isOwn) found.push(number.value);
    at = number?.to ?? at + 1;
  }
  return found;
}

const isDefinite = ({ sentence: { words }, at }: Figure): boolean => {
  const [before, earlier] = [words[at - 1]?.fold ?? "", words[at - 2]?.fold ?? ""];
  if (words[at - 1]?.after !== "") return false;
  return DEFINITE.test(before) || (before === "all" && !/^(?:in|of|for|after|at)$/.test(earlier));
};

/** `nine out of ten boats`, `one in every ten boats`: no boats that one could go back to. */
const isPart = ({ sentence: { words }, at }: Figure): boolean =>
  /^(?:of|in|every|each)$/.test(words[at - 1]?.fold ?? "");
