import { singularOf } from "../figures/things.ts";
import type { Lexicon } from "../lexicon.ts";

/** What the inflected forms of a word have in common: one for `injured`, `injure` and `injury`. Not a word to be shown. */
export type Stems = (fold: string) => string;

/** A form that the list has as seldom as this is no proof that a word exists. Times in its 51 million words. */
const KNOWN = 20;
/** A shorter word is its own stem. Letters. */
const SHORTEST = 4;
/** From here on a last `e` or `y` tells no two words apart: `injure`, `injury`. Letters. */
const LONG = 6;

/** Stems by the plain rules of English, proved by the frequency list. Remembers those it was asked for. */
export function stemsBy(lexicon: Lexicon): Stems {
  const remembered = new Map<string, string>();
  const exists = (form: string) => form.length > 2 && lexicon.ordinary(form) >= KNOWN;
  return (fold) => {
    const known = remembered.get(fold);
    if (known !== undefined) return known;
    const base = fold.length < SHORTEST ? fold : (formsOf(fold).find(exists) ?? singularOf(fold) ?? fold);
    const stem = base.length < LONG ? base : base.replace(/[ey]$/, "");
    remembered.set(fold, stem);
    return stem;
  };
}

/** What a word could be an inflected form of, the likeliest first. */
function formsOf(fold: string): readonly string[] {
  const singular = singularOf(fold);
  if (singular !== null) return [singular];
  const [, rest, ending] = /^(.+?)(ied|ed|ing)$/.exec(fold) ?? [];
  if (rest === undefined) return [];
  if (ending === "ied") return [`${rest}y`];
  return [`${rest}e`, rest.replace(/([^aeiou])\1$/, "$1"), rest];
}
