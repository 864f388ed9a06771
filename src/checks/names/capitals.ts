import { monthNamed, weekdayNamed } from "../figures/calendar.ts";
import type { Lexicon } from "../lexicon.ts";
import type { Sentence, Word } from "../speech.ts";

/** Capitals that begin no name of somebody: forms of address, and what English writes large. */
export const TITLES = new Set(
  (
    "mr mrs ms miss dr doctor prof professor sir dame lord lady judge justice councillor captain chief president senator minister " +
    "secretary governor mayor king queen prince princess reverend father sister brother saint st general colonel major sergeant " +
    "constable inspector chancellor ambassador speaker chairman congressman"
  ).split(" "),
);
const LARGE = new Set(["i", "i'm", "i'll", "i've", "i'd", "god", "ok", "tv"]);

/** Rarer than this, a word at the beginning of a sentence may be a name. Times in the list's 51 million words. */
const RARE = 60;

/** Whether the word `at` of a sentence looks like part of a name. */
export function isNameLike({ words }: Sentence, at: number, lexicon: Lexicon): boolean {
  const word = words[at];
  if (word === undefined || !isCapital(word)) return false;
  if (LARGE.has(word.fold) || TITLES.has(word.fold)) return false;
  if (weekdayNamed(word.fold) !== null || monthNamed(word.fold) !== null) return false;
  // `They're`, `Government-wide`: the list has their parts.
  return at > 0 ? !/'(?:re|ll|ve|d|m)$/.test(word.fold) : lexicon.ordinary(word.fold.split(/['-]/)[0] ?? "") < RARE;
}

export const isCapital = ({ text }: Word): boolean => /^\p{Lu}/u.test(text) && /\p{Ll}/u.test(text);

/** Unbroken runs of name-like words. */
export function nameRuns(sentence: Sentence, lexicon: Lexicon): readonly (readonly Word[])[] {
  const runs: Word[][] = [];
  let joins = false;
  sentence.words.forEach((word, at) => {
    const isName = isNameLike(sentence, at, lexicon);
    if (isName && joins) runs.at(-1)?.push(word);
    else if (isName) runs.push([word]);
    joins = isName && word.after === "";
  });
  return runs;
}
