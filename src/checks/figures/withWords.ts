import { quoted } from "../speech.ts";
import type { Figure } from "./line.ts";
import { singularOf } from "./things.ts";
import { unitNamed } from "./units.ts";

/** So many words after a figure can still say what it counts, or for what each. */
const AFTER = 5;

/** A figure with the noun that it counts and no more: `30 crates`. */
export const withNoun = (figure: Figure): string => {
  const { sentence, at } = figure;
  return quoted(sentence.words.slice(at, nounEnd(figure)));
};

/** A rate with what it is for: `40 crowns a week`, `45 crowns each`, `each crate pays 45 crowns`. */
export function withPer(figure: Figure): string {
  const { sentence, at, per } = figure;
  const end = nounEnd(figure);
  const after = sentence.words.slice(end, end + AFTER);
  const own = after.findIndex(
    ({ fold }) => fold === per || unitNamed(fold)?.name === per || /^(?:each|apiece)$/.test(fold),
  );
  if (own !== -1 && (per !== null || own === 0)) return quoted(sentence.words.slice(at, end + own + 1));
  const each =
    per === null ? sentence.words.slice(0, at).findLastIndex(({ fold }) => /^(?:each|every|per)$/.test(fold)) : -1;
  return quoted(sentence.words.slice(each === -1 || at - each > AFTER + 1 ? at : each, end));
}

/** The word after a figure and the noun that it counts. */
export function nounEnd({ sentence, at, words, unit, kind }: Figure): number {
  const end = at + words.length;
  if (kind !== "count") return end;
  const noun = sentence.words.slice(end, end + AFTER).findIndex(({ fold }) => (singularOf(fold) ?? fold) === unit);
  return noun === -1 ? end : end + noun + 1;
}
