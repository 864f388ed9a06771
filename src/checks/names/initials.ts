import { distance } from "fastest-levenshtein";
import type { Check } from "../check.ts";
import { doubtMendedBy } from "../doubts.ts";
import { quoted, type Word, withoutPossessive } from "../speech.ts";
import type { Subject } from "../subject.ts";

/** A word shouted in capitals, `TEN`, is no initialism. Times in the list's 51 million words. */
const COMMON = 2000;

export const programmeInitials: Check = {
  name: "programme-initials",
  level: "warns",
  group: "names",
  reason:
    "A recogniser that does not know the programme writes its name as letters, and an audience that reads them learns a new name.",
  looks:
    "Capital letters alone, with or without full stops, that are the first letters of the programme's or the station's name, with " +
    "or without its article, or (of three letters or more) one letter away from them. Letters that stand in the register are right.",
  example: "“This is T.E.T.” for The Evening Tide.",
  accept:
    "The letters are somebody else's, or the programme does call itself so. Better still: enter them in the register.",
  judge: (subject) =>
    lettersForNames(subject).flatMap(({ words, meant }) =>
      doubtMendedBy(meant, words, subject, `“${quoted(words)}” is probably ${meant}.`, `Write ${meant}.`),
    ),
};

/** Letters that stand where one of the programme's own names is meant. */
export interface LettersForName {
  readonly words: readonly Word[];
  readonly meant: string;
  /** Whether they are the first letters exactly. */
  readonly exact: boolean;
}

export function lettersForNames({ programme, known, lexicon, spoken }: Subject): readonly LettersForName[] {
  const own = [programme.title, programme.station ?? ""].flatMap(initialsOf);
  return spoken.words.flatMap((word, n) => {
    const letters = lettersOf(word);
    const meant = letters === null ? undefined : own.find(({ initials }) => isNear(letters, initials));
    if (letters === null || meant === undefined || known.words.has(word.fold)) return [];
    const isWord = lexicon.ordinary(letters.toLowerCase()) > COMMON && !word.text.includes(".");
    if (isWord && letters !== meant.initials) return [];
    const article = spoken.words[n - 1];
    const hasArticle = article?.fold === "the" && article.after === "" && /^the /i.test(meant.name);
    const words = hasArticle && article !== undefined ? [article, word] : [word];
    return [{ words, meant: meant.name, exact: letters === meant.initials }];
  });
}

/** The first letters of a name, whole and without its article; two at least. */
function initialsOf(name: string): { name: string; initials: string }[] {
  const words = name.split(/\s+/).filter((word) => word !== "");
  const short = /^(?:the|an?)$/i.test(words[0] ?? "") ? [words, words.slice(1)] : [words];
  return short.flatMap((own) => {
    const initials = own.map((word) => word.charAt(0).toUpperCase()).join("");
    return initials.length >= 2 ? [{ name, initials }] : [];
  });
}

/** `TET` of `TET`, `T.E.T.` and `TET's`; null for a word that is not all capitals. */
function lettersOf({ text }: Word): string | null {
  const letters = withoutPossessive(text).replaceAll(".", "");
  return /^\p{Lu}{2,6}$/u.test(letters) ? letters : null;
}

const ROMAN = /^[IVXLC]+$/;
const isNear = (letters: string, initials: string): boolean =>
  letters === initials ||
  (!ROMAN.test(letters) && initials.length >= 3 && letters.length >= 3 && distance(letters, initials) <= 1);
